/** Drawing on the flat sheet: a tool is told points and lines, shows what it would draw, and draws it. */

import { create } from 'zustand';
import * as edit from '../../core/draw/edit-lines.ts';
import { distance, lineThrough, type Point, type Stretch } from '../../core/draw/line.ts';
import { movePoint } from '../../core/draw/move-point.ts';
import { outlineTrouble } from '../../core/draw/outline.ts';
import { nearness, type Pattern, sizeOf } from '../../core/draw/pattern.ts';
import { nextPlace, type SnapPlace, type Snaps, snapAngle, snapsOf } from '../../core/draw/snap.ts';
import {
  type Construction,
  type DrawSettings,
  distanceToProposal,
  type Extent,
  edgeThrough,
  type Given,
  type Proposal,
  proposalsOf,
  type Wanted,
  wantedBy,
} from '../../core/draw/tools.ts';
import { stepsLosing, withPattern } from '../../core/lesson/carry.ts';
import type { Lesson } from '../../core/lesson/lesson.ts';
import { tidy } from '../../core/numeric/tidy.ts';
import { cornerInPattern } from '../../core/sheet/frame.ts';
import { type LineKind, lineKinds } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { pickCrease } from '../document/paper.ts';
import { editLesson } from '../document/edits.ts';
import { say } from '../document/opening.ts';
import { get, set } from '../store.ts';
import { drawWords } from '../../words/words.ts';

/** What a stroke runs over, or a click meets, is changed by these. */
export const strokeTools = ['select', 'look', 'erase'] as const;
const changeWants = {
  select: ['line'],
  look: ['line'],
  erase: ['line'],
  trim: ['line', 'line'],
  move: ['point', 'point'],
  split: ['point'],
  join: ['line'],
  outline: [],
} as const satisfies Record<string, readonly Wanted[]>;

export type Change = keyof typeof changeWants;
export type DrawTool = Construction | Change;
export const changes = Object.keys(changeWants) as Change[];

export const isConstruction = (tool: DrawTool): tool is Construction => tool in wantedBy;
export const isStroke = (tool: DrawTool) => (strokeTools as readonly string[]).includes(tool);

export interface Cursor {
  readonly at: Point;
  readonly name: string;
  readonly line: Stretch | null;
}

interface Draw {
  readonly on: boolean;
  readonly tool: DrawTool;
  readonly kind: LineKind;
  /** Finished angle of new folds, degrees without sign. */
  readonly angle: number;
  readonly extent: Extent;
  /** Millimetres. */
  readonly length: number;
  readonly distance: number;
  readonly count: number;
  /** The sides of the sheet are marked in that many parts. */
  readonly parts: number;
  readonly given: readonly Given[];
  readonly cursor: Cursor | null;
  /** Which of several answers is meant; null while something is still to be told. */
  readonly choice: number | null;
  readonly stroke: { readonly from: Point; readonly to: Point } | null;
  readonly trouble: string | null;
}

export const useDraw = create<Draw>()(() => ({
  on: false,
  tool: 'through',
  kind: 'valley',
  angle: 180,
  extent: 'whole',
  length: 20,
  distance: 10,
  count: 2,
  parts: 4,
  given: [],
  cursor: null,
  choice: null,
  stroke: null,
  trouble: null,
}));

export const draw = useDraw.getState;
const put = useDraw.setState;

/** A line from a point is brought to a multiple of 22.5 degrees within this turn. */
const ANGLE_PULL = (2 * Math.PI) / 180;

export const patternNow = (): Pattern | null => get().lesson?.pattern ?? null;

/** Pattern units to a millimetre. */
export function unitsPerMillimetre(): number {
  const { lesson } = get();
  return lesson ? sizeOf(lesson.pattern) / lesson.sheet.size : 1;
}

let snapsOfWhat: { pattern: Pattern; parts: number; snaps: Snaps } | null = null;

export function snapsNow(): Snaps | null {
  const pattern = patternNow();
  const { parts } = draw();
  if (!pattern) return null;
  if (snapsOfWhat?.pattern !== pattern || snapsOfWhat.parts !== parts)
    snapsOfWhat = { pattern, parts, snaps: snapsOf(pattern, parts) };
  return snapsOfWhat.snaps;
}

/** A crease of the sheet in pattern units, free of the rounding of its frame. */
export function stretchOfCrease(sheet: Sheet, crease: number): Stretch {
  const [from, to] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  return { from: cornerInPattern(sheet, from), to: cornerInPattern(sheet, to) };
}

function pickedNow(): number[] {
  const { picked, selection } = get();
  if (picked.length > 0) return [...picked];
  return selection?.kind === 'crease' ? [selection.id] : [];
}

/** The picked creases with their looks; with none picked, all lines where `orAll` is set. */
export function chosenNow(orAll: boolean): edit.DrawnLine[] {
  const { sheet } = get();
  const pattern = patternNow();
  if (!sheet || !pattern) return [];
  const picked = pickedNow().filter((crease) => lineKinds[sheet.creaseKind[crease]!] !== 'edge');
  if (picked.length === 0) return orAll ? [...pattern.lines] : [];
  return picked.map((crease) => {
    const degrees = tidy((sheet.creaseAngle[crease]! * 180) / Math.PI);
    const kind = lineKinds[sheet.creaseKind[crease]!]!;
    const folds = kind === 'mountain' || kind === 'valley';
    return {
      ...stretchOfCrease(sheet, crease),
      kind,
      ...(folds && !Number.isNaN(degrees) ? { angle: degrees } : {}),
    };
  });
}

/** What the tool is told next; null when it has all. */
export function wantedNow(): Wanted | null {
  const { tool, given, choice } = draw();
  if (choice !== null) return null;
  if (tool === 'outline') return 'point';
  const wants: readonly Wanted[] = isConstruction(tool) ? wantedBy[tool] : changeWants[tool];
  return wants[given.length] ?? null;
}

function settingsNow(): DrawSettings {
  const { extent, length, distance: away, count } = draw();
  const unit = unitsPerMillimetre();
  return { extent, length: length * unit, distance: away * unit, count, chosen: chosenNow(true) };
}

/** The answers to what was told, with the cursor taken for what is still wanted when it is the last. */
export function proposalsNow(): readonly Proposal[] {
  const { tool, given, cursor, choice } = draw();
  const pattern = patternNow();
  if (!pattern || !isConstruction(tool)) return [];
  const next = choice === null && cursor ? told(cursor) : null;
  return proposalsOf(pattern, tool, next ? [...given, ...next] : given, settingsNow());
}

/** What a cursor tells the tool; for square to an edge a point on one edge tells that edge, too. */
function told(cursor: Cursor, alone = false): Given[] {
  const wanted = wantedNow();
  if (wanted === 'line') return cursor.line ? [{ kind: 'line', stretch: cursor.line, at: cursor.at }] : [];
  if (wanted !== 'point') return [];
  const point: Given = { kind: 'point', at: cursor.at };
  const edge = draw().tool === 'square' && !alone ? edgeThrough(patternNow()!, cursor.at) : null;
  return edge ? [point, { kind: 'line', stretch: edge, at: cursor.at }] : [point];
}

/** Where a pointer at a place of the pattern goes. `reach` in pattern units. */
export function cursorAt(p: Point, reach: number): Cursor | null {
  const snaps = snapsNow();
  const pattern = patternNow();
  const wanted = wantedNow();
  if (!snaps || !pattern) return null;
  if (wanted === 'line') {
    const line = lineFor(p, reach);
    return line && { at: p, name: line.name, line: line.stretch };
  }
  const { given, tool } = draw();
  const found = snaps.near(p, reach);
  if (found && found.rank < 4) return { at: found.at, name: found.name, line: null };
  const last = given.at(-1);
  const bent =
    tool === 'through' && last && distance(last.at, p) > reach ? snapAngle(last.at, p, ANGLE_PULL) : null;
  if (bent) return { at: bent.at, name: drawWords.atAngle(bent.degrees), line: null };
  if (found) return { at: found.at, name: found.name, line: null };
  return { at: p, name: drawWords.place(p, unitsPerMillimetre()), line: null };
}

/** The line or edge at a place; changes of lines see the piece between crossings and no edge. */
function lineFor(p: Point, reach: number): { name: string; stretch: Stretch } | null {
  const { tool } = draw();
  if (!isConstruction(tool) && !(tool === 'trim' && draw().given.length === 1)) {
    const piece = edit.pieceAt(patternNow()!, p, reach);
    return piece && { name: drawWords.kind[piece.kind], stretch: { from: piece.from, to: piece.to } };
  }
  const line = snapsNow()!.lineNear(p, reach);
  return line && { name: line.name, stretch: { from: line.from, to: line.to } };
}

/** Middles of all creases, for walking among lines by keys. */
function middles(): SnapPlace[] {
  const { sheet } = get();
  if (!sheet) return [];
  return Array.from(sheet.creaseKind, (_, crease) => {
    const { from, to } = stretchOfCrease(sheet, crease);
    return { at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], name: '', rank: 0 };
  });
}

function changePattern(what: string, change: (pattern: Pattern) => Pattern): boolean {
  const { lesson: before } = get();
  if (!before) return false;
  const pattern = change(before.pattern);
  if (pattern === before.pattern) return false;
  const after = withPattern(before, pattern);
  editLesson(what, () => after);
  const lost = stepsLosing(before, after);
  if (lost.length > 0) say(drawWords.stepsLose(lost.map((step) => before.steps[step]!.title)));
  return true;
}

function moveCorner(from: Point, to: Point): void {
  const moved = movePoint(patternNow()!, from, to);
  editLesson('move a point', (lesson) => withPattern(lesson, moved.pattern, moved.placeOf));
}

function accept(proposal: Proposal): void {
  const { kind, angle } = draw();
  const lines = proposal.map((one) =>
    one.kind ? { ...edit.drawn(one, one.kind, one.angle) } : edit.drawn(one, kind, angle),
  );
  const drawn = changePattern('draw', (pattern) => edit.addLines(pattern, lines));
  put({ given: [], choice: null, trouble: drawn ? null : drawWords.thereAlready });
}

/** The tool has been told all it wants. */
function finish(given: readonly Given[]): void {
  const { tool } = draw();
  const pattern = patternNow()!;
  if (isConstruction(tool)) {
    const answers = proposalsOf(pattern, tool, given, settingsNow());
    if (answers.length === 1) accept(answers[0]!);
    else if (answers.length === 0) put({ given: [], choice: null, trouble: drawWords.noAnswer });
    else put({ given, choice: nearestAnswer(answers, draw().cursor), trouble: null });
    return;
  }
  put({ given: [], trouble: null });
  const [first, second] = given;
  const reach = nearness(pattern) * 10;
  if (tool === 'split') changePattern('split', (one) => edit.splitAt(one, first!.at));
  if (tool === 'move') moveCorner(first!.at, second!.at);
  if (tool === 'join' && first?.kind === 'line')
    changePattern('join', (one) => edit.joinAlong(one, first.stretch));
  if (tool === 'trim' && second?.kind === 'line') {
    const cutter = lineThrough(second.stretch.from, second.stretch.to);
    if (cutter) changePattern('trim', (one) => edit.trimTo(one, onStretch(first!), reach, cutter));
  }
  if (isStroke(tool) && first?.kind === 'line') changePieces([first.stretch]);
}

const onStretch = (given: Given): Point => {
  if (given.kind === 'point') return given.at;
  const { from, to } = given.stretch;
  const share =
    ((given.at[0] - from[0]) * (to[0] - from[0]) + (given.at[1] - from[1]) * (to[1] - from[1])) /
    distance(from, to) ** 2;
  return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
};

function nearestAnswer(answers: readonly Proposal[], cursor: Cursor | null): number {
  if (!cursor) return 0;
  const off = answers.map((answer) => distanceToProposal(answer, cursor.at));
  return off.indexOf(Math.min(...off));
}

/** What the stroke tools do to pieces of lines. */
function changePieces(pieces: readonly Stretch[]): void {
  const { tool, kind, angle } = draw();
  if (tool === 'erase') changePattern('erase', (pattern) => edit.eraseStretches(pattern, pieces));
  if (tool === 'look')
    changePattern('kind', (pattern) => edit.setLook(pattern, pieces, edit.drawn(pieces[0]!, kind, angle)));
  if (tool === 'select') for (const crease of creasesOn(pieces)) pickCrease(crease);
}

function creasesOn(pieces: readonly Stretch[]): number[] {
  const { sheet } = get();
  const pattern = patternNow();
  if (!sheet || !pattern) return [];
  const near = nearness(pattern);
  const same = (a: Stretch, b: Stretch) =>
    (distance(a.from, b.from) <= near && distance(a.to, b.to) <= near) ||
    (distance(a.from, b.to) <= near && distance(a.to, b.from) <= near);
  return [...sheet.creaseKind.keys()].filter((crease) => {
    const own = stretchOfCrease(sheet, crease);
    return pieces.some((piece) => same(piece, own));
  });
}

export const drawActions = {
  toggle: () => {
    const on = !draw().on;
    put({ on, given: [], choice: null, cursor: null, stroke: null, trouble: null });
    if (on) set({ view: 'sheet', hover: null, marks: null });
  },
  begin: () => {
    if (!draw().on) drawActions.toggle();
  },
  choose: (tool: DrawTool) => put({ tool, given: [], choice: null, stroke: null, trouble: null }),
  set: (change: Partial<Pick<Draw, 'angle' | 'extent' | 'length' | 'distance' | 'count' | 'parts'>>) =>
    put(change),
  /** Chooses the kind of new lines; creases that are picked take it at once. */
  setKind: (kind: LineKind) => {
    put({ kind });
    const chosen = chosenNow(false);
    if (chosen.length > 0)
      changePattern('kind', (pattern) =>
        edit.setLook(pattern, chosen, edit.drawn(chosen[0]!, kind, draw().angle)),
      );
  },
  eraseChosen: () => {
    const chosen = chosenNow(false);
    if (chosen.length > 0) changePattern('erase', (pattern) => edit.eraseStretches(pattern, chosen));
  },
  /** Takes away what only helped to draw. */
  eraseMarks: () => {
    changePattern('erase marks', edit.withoutMarks);
  },
  point: (cursor: Cursor | null) => {
    if (draw().choice !== null && cursor) put({ choice: nearestAnswer(proposalsNow(), cursor) });
    put({ cursor });
  },
  /** Takes the cursor for what is wanted, or the answer that is marked. */
  press: (alone = false) => {
    const { cursor, given, choice, tool } = draw();
    if (choice !== null) {
      const answer = proposalsNow()[choice];
      if (answer) accept(answer);
      return;
    }
    if (tool === 'outline') {
      if (cursor) addCorner(cursor);
      return;
    }
    const next = cursor ? told(cursor, alone) : [];
    if (next.length === 0 && wantedNow() !== null) return;
    const all = [...given, ...next];
    put({ given: all, trouble: null });
    if (wantedNow() === null) finish(all);
  },
  /** Numbers typed for a place, in mm from the lower left corner of the sheet. */
  pressAt: (x: number, y: number) => {
    const pattern = patternNow();
    if (!pattern) return;
    const unit = unitsPerMillimetre();
    const low = (k: 0 | 1) => Math.min(...pattern.outline.map((corner) => corner[k]));
    const at: Point = [tidy(low(0) + x * unit), tidy(low(1) + y * unit)];
    const line = wantedNow() === 'line' ? lineFor(at, sizeOf(pattern)) : null;
    put({ cursor: { at, name: '', line: line?.stretch ?? null } });
    drawActions.press();
  },
  nextAnswer: (by: number) => {
    const count = proposalsNow().length;
    const { choice } = draw();
    if (choice !== null && count > 0) put({ choice: (choice + by + count) % count });
  },
  stroke: (from: Point, to: Point, done: boolean) => {
    const pattern = patternNow();
    put({ stroke: done ? null : { from, to } });
    if (!done || !pattern) return;
    const pieces = edit.piecesAcross(pattern, from, to);
    if (pieces.length > 0) changePieces(pieces);
  },
  endStroke: () => put({ stroke: null }),
  /** Steps back: the answers, then what was told, then the tool itself. @returns whether there was anything */
  back: (): boolean => {
    const { on, choice, given, tool } = draw();
    if (!on) return false;
    if (choice !== null || given.length > 0) {
      const kept = choice !== null && tool !== 'outline' ? given.slice(0, -1) : given.slice(0, -1);
      put({ choice: null, given: kept, trouble: null });
    } else if (pickedNow().length > 0) set({ picked: [], selection: null });
    else drawActions.toggle();
    return true;
  },
  /** Moves the cursor to the next place in a direction. */
  walk: (dx: number, dy: number) => {
    const pattern = patternNow();
    const snaps = snapsNow();
    if (!pattern || !snaps) return;
    if (draw().choice !== null) {
      drawActions.nextAnswer(dx + dy > 0 ? 1 : -1);
      return;
    }
    const lines = wantedNow() === 'line';
    const places = lines ? middles() : snaps.places;
    const from = draw().cursor?.at ?? pattern.outline[0]!;
    const next = draw().cursor ? nextPlace(pattern, places, from, [dx, dy]) : places[0];
    if (next) drawActions.point(cursorAt(next.at, nearness(pattern) * 2));
  },
  setOutline: (corners: readonly Point[]) => {
    const trouble = outlineTrouble(corners);
    put({ trouble });
    const { lesson } = get();
    if (trouble || !lesson) return;
    editLesson('sheet', (one) => withSheet(one, corners));
  },
};

function addCorner(cursor: Cursor): void {
  const { given } = draw();
  const first = given[0];
  const closes = first && given.length > 2 && distance(first.at, cursor.at) <= nearness(patternNow()!) * 20;
  if (!closes) {
    put({ given: [...given, { kind: 'point', at: cursor.at }], trouble: null });
    return;
  }
  const unit = unitsPerMillimetre();
  put({ given: [] });
  const { outline } = patternNow()!;
  const low = (k: 0 | 1) => Math.min(...outline.map((corner) => corner[k]));
  drawActions.setOutline(given.map(({ at }): Point => [(at[0] - low(0)) / unit, (at[1] - low(1)) / unit]));
}

/** Another outline, corners in mm from the lower left of the present one; lines stay and are cut to it. */
function withSheet(lesson: Lesson, corners: readonly Point[]): Lesson {
  const { pattern } = lesson;
  const unit = sizeOf(pattern) / lesson.sheet.size;
  const low = (k: 0 | 1) => Math.min(...pattern.outline.map((corner) => corner[k]));
  const outline = corners.map(([x, y]): Point => [tidy(low(0) + x * unit), tidy(low(1) + y * unit)]);
  const size = tidy(sizeOf({ outline: corners }));
  return { ...withPattern(lesson, edit.withOutline(pattern, outline)), sheet: { ...lesson.sheet, size } };
}

/** Keys of the seven operations, the other constructions and the changes, while drawing. */
export const toolKeys: Record<string, DrawTool> = {
  '1': 'through',
  '2': 'point-onto-point',
  '3': 'line-onto-line',
  '4': 'square',
  '5': 'point-onto-line',
  '6': 'two-onto-two',
  '7': 'onto-line-square',
  '8': 'parallel',
  '9': 'parts',
  g: 'grid',
  i: 'mirror',
  r: 'repeat',
  s: 'select',
  k: 'look',
  x: 'erase',
  t: 'trim',
  p: 'move',
  b: 'split',
  j: 'join',
};
export const kindKeys: Record<string, LineKind> = {
  m: 'mountain',
  v: 'valley',
  u: 'unassigned',
  f: 'flat',
  c: 'cut',
};

/** What a key does while drawing. @returns whether it did anything */
export function drawKey(key: string): boolean {
  if (!draw().on) return false;
  const plain = key.length === 1 ? key.toLowerCase() : key;
  const tool = toolKeys[plain];
  const kind = kindKeys[plain];
  if (tool) drawActions.choose(tool);
  else if (kind) drawActions.setKind(kind);
  else if (key === 'Delete' || key === 'Backspace') drawActions.eraseChosen();
  else return false;
  return true;
}
