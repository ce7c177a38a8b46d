/** Drawing on the flat sheet: a tool is told points and lines, shows what it would draw, and draws it. */

import * as edit from '../../core/draw/edit-lines.ts';
import { lineThrough, type Stretch } from '../../core/draw/line.ts';
import { movePoint } from '../../core/draw/move-point.ts';
import { outlineTrouble } from '../../core/draw/outline.ts';
import { nearness, type Pattern, sizeOf } from '../../core/draw/pattern.ts';
import { nextPlace } from '../../core/draw/snap.ts';
import type { Given } from '../../core/draw/told.ts';
import { distanceToProposal, type Proposal, proposalsOf } from '../../core/draw/tools.ts';
import { stepsLosing, withPattern } from '../../core/lesson/carry.ts';
import type { Lesson } from '../../core/lesson/lesson.ts';
import { tidy } from '../../core/numeric/tidy.ts';
import { distance, type Point } from '../../core/numeric/vector.ts';
import type { LineKind } from '../../core/sheet/kind.ts';
import { drawWords, words } from '../../words/words.ts';
import type { Edits } from '../document/edits.ts';
import type { Store } from '../store.ts';
import { type DrawingNow, stretchOfCrease } from './drawing-now.ts';
import { type Cursor, type DrawingState, type DrawTool, isConstruction, isStroke } from './drawing-state.ts';
import type { Picking } from './picking.ts';

type Choices = Pick<DrawingState, 'angle' | 'extent' | 'length' | 'distance' | 'count' | 'parts'>;

export class Drawing {
  constructor(
    private readonly store: Store,
    private readonly edits: Edits,
    private readonly picking: Picking,
    readonly now: DrawingNow,
  ) {}

  choose = (tool: DrawTool) =>
    this.put({ tool, given: [], choice: null, stroke: null, took: null, trouble: null });
  set = (change: Partial<Choices>) => this.put(change);

  /** Chooses the kind of new lines; creases that are picked take it at once. */
  setKind = (kind: LineKind): void => {
    this.put({ kind });
    const chosen = this.now.chosen(false);
    if (chosen.length === 0) return;
    const look = edit.drawn(chosen[0]!, kind, this.state.angle);
    this.changePattern('kind', (pattern) => edit.setLook(pattern, chosen, look));
  };

  eraseChosen = (): void => {
    const chosen = this.now.chosen(false);
    if (chosen.length > 0) this.changePattern('erase', (pattern) => edit.eraseStretches(pattern, chosen));
  };

  /** Takes away what only helped to draw. */
  eraseMarks = (): void => {
    this.changePattern('erase marks', edit.withoutMarks);
  };

  point(cursor: Cursor | null): void {
    if (this.state.choice !== null && cursor) this.put({ choice: nearestAnswer(this.now.proposals, cursor) });
    this.put({ cursor });
  }

  /** Takes the cursor for what is wanted, or the answer that is marked. */
  press = (alone = false): void => {
    const { cursor, given, choice, tool } = this.state;
    if (choice !== null) {
      const answer = this.now.proposals[choice];
      if (answer) this.accept(answer);
      return;
    }
    if (tool === 'outline') {
      if (cursor) this.addCorner(cursor);
      return;
    }
    const next = cursor ? this.now.told(cursor, alone) : [];
    if (next.length === 0 && this.now.wanted !== null) {
      if (cursor || this.now.wanted === 'line') this.put({ trouble: drawWords.noLineThere });
      return;
    }
    const all = [...given, ...next];
    const took = next[0]?.kind === 'point' ? (cursor?.name ?? null) : null;
    this.put({ given: all, took, trouble: null });
    if (this.now.wanted === null) this.finish(all);
  };

  /** Numbers typed for a place, in mm from the lower left corner of the sheet. */
  pressAt(x: number, y: number): void {
    const { pattern, unitsPerMillimetre: unit, lowCorner: low } = this.now;
    if (!pattern) return;
    const at: Point = [tidy(low[0] + x * unit), tidy(low[1] + y * unit)];
    const line = this.now.wanted === 'line' ? this.now.lineFor(at, sizeOf(pattern)) : null;
    this.put({ cursor: { at, name: '', line: line?.stretch ?? null } });
    this.press();
  }

  nextAnswer(by: number): void {
    const count = this.now.proposals.length;
    const { choice } = this.state;
    if (choice !== null && count > 0) this.put({ choice: (choice + by + count) % count });
  }

  stroke(from: Point, to: Point, done: boolean): void {
    const { pattern } = this.now;
    this.put({ stroke: done ? null : { from, to } });
    if (!done || !pattern) return;
    const pieces = edit.piecesAcross(pattern, from, to);
    if (pieces.length > 0) this.changePieces(pieces);
  }

  endStroke = () => this.put({ stroke: null });

  /** Steps back: the answers, then what was told, then what is picked. @returns whether there was anything */
  back(): boolean {
    const { choice, given } = this.state;
    if (choice !== null || given.length > 0)
      this.put({ choice: null, given: given.slice(0, -1), trouble: null });
    else if (this.now.picked.length > 0) this.store.put({ look: { picked: [], selection: null } });
    else return false;
    return true;
  }

  /** Moves the cursor to the next place in a direction. */
  walk(dx: number, dy: number): void {
    const { pattern, snaps } = this.now;
    if (!pattern || !snaps) return;
    const { choice, cursor } = this.state;
    if (choice !== null) {
      this.nextAnswer(dx + dy > 0 ? 1 : -1);
      return;
    }
    const places = this.now.wanted === 'line' ? this.now.middles : snaps.places;
    const from = cursor?.at ?? pattern.outline[0]!;
    const next = cursor ? nextPlace(pattern, places, from, [dx, dy]) : places[0];
    if (next) this.point(this.now.cursorAt(next.at, nearness(pattern) * 2));
  }

  /** Corners in mm from the lower left corner of the present sheet. */
  setOutline(corners: readonly Point[]): void {
    const trouble = outlineTrouble(corners);
    this.put({ trouble: trouble && words.outlineTrouble(trouble) });
    if (!trouble) this.edits.lesson('sheet', (one) => withSheet(one, corners, this.now.lowCorner));
  }

  private get state(): DrawingState {
    return this.store.drawing;
  }

  private put(change: Partial<DrawingState>): void {
    this.store.put({ drawing: change });
  }

  private changePattern(what: string, change: (pattern: Pattern) => Pattern): boolean {
    const { lesson: before } = this.store.document;
    if (!before) return false;
    const pattern = change(before.pattern);
    if (pattern === before.pattern) return false;
    const after = withPattern(before, pattern);
    this.edits.lesson(what, () => after);
    const lost = stepsLosing(before, after);
    if (lost.length > 0) this.store.say(drawWords.stepsLose(lost.map((step) => before.steps[step]!.title)));
    return true;
  }

  private accept(proposal: Proposal): void {
    const { kind, angle } = this.state;
    const lines = proposal.map((one) =>
      one.kind ? { ...edit.drawn(one, one.kind, one.angle) } : edit.drawn(one, kind, angle),
    );
    const drawn = this.changePattern('draw', (pattern) => edit.addLines(pattern, lines));
    this.put({ given: [], choice: null, trouble: drawn ? null : drawWords.thereAlready });
  }

  /** The tool has been told all it wants. */
  private finish(given: readonly Given[]): void {
    const { tool, cursor } = this.state;
    const pattern = this.now.pattern!;
    if (!isConstruction(tool)) {
      this.put({ given: [], trouble: null });
      this.changeBy(tool, pattern, given);
      return;
    }
    const answers = proposalsOf(pattern, tool, given, this.now.settings);
    if (answers.length === 1) this.accept(answers[0]!);
    else if (answers.length === 0) this.put({ given: [], choice: null, trouble: drawWords.noAnswer });
    else this.put({ given, choice: cursor ? nearestAnswer(answers, cursor) : 0, trouble: null });
  }

  private changeBy(tool: DrawTool, pattern: Pattern, [first, second]: readonly Given[]): void {
    if (tool === 'split') this.changePattern('split', (one) => edit.splitAt(one, first!.at));
    if (tool === 'move') this.moveCorner(pattern, first!.at, second!.at);
    if (tool === 'join' && first?.kind === 'line')
      this.changePattern('join', (one) => edit.joinAlong(one, first.stretch));
    if (tool === 'trim' && second?.kind === 'line') {
      const cutter = lineThrough(second.stretch.from, second.stretch.to);
      const reach = nearness(pattern) * 10;
      if (cutter) this.changePattern('trim', (one) => edit.trimTo(one, onStretch(first!), reach, cutter));
    }
    if (isStroke(tool) && first?.kind === 'line') this.changePieces([first.stretch]);
  }

  private moveCorner(pattern: Pattern, from: Point, to: Point): void {
    const moved = movePoint(pattern, from, to);
    this.edits.lesson('move a point', (lesson) => withPattern(lesson, moved.pattern, moved.placeOf));
  }

  /** What the stroke tools do to pieces of lines. */
  private changePieces(pieces: readonly Stretch[]): void {
    const { tool, kind, angle } = this.state;
    if (tool === 'erase') this.changePattern('erase', (pattern) => edit.eraseStretches(pattern, pieces));
    if (tool === 'look') {
      const look = edit.drawn(pieces[0]!, kind, angle);
      this.changePattern('kind', (pattern) => edit.setLook(pattern, pieces, look));
    }
    if (tool === 'select') for (const crease of this.creasesOn(pieces)) this.picking.pick(crease);
  }

  private creasesOn(pieces: readonly Stretch[]): number[] {
    const { sheet } = this.store.document;
    const { pattern } = this.now;
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

  /** The next corner of another outline; one at the first corner closes it. */
  private addCorner(cursor: Cursor): void {
    const { given } = this.state;
    const first = given[0];
    const reach = nearness(this.now.pattern!) * 20;
    if (!first || given.length < 3 || distance(first.at, cursor.at) > reach) {
      this.put({ given: [...given, { kind: 'point', at: cursor.at }], trouble: null });
      return;
    }
    this.put({ given: [] });
    const { unitsPerMillimetre: unit, lowCorner: low } = this.now;
    this.setOutline(given.map(({ at }): Point => [(at[0] - low[0]) / unit, (at[1] - low[1]) / unit]));
  }
}

/** The point of a line that was told by pointing beside it. */
const onStretch = (given: Given): Point => {
  if (given.kind === 'point') return given.at;
  const { from, to } = given.stretch;
  const share =
    ((given.at[0] - from[0]) * (to[0] - from[0]) + (given.at[1] - from[1]) * (to[1] - from[1])) /
    distance(from, to) ** 2;
  return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
};

function nearestAnswer(answers: readonly Proposal[], cursor: Cursor): number {
  const off = answers.map((answer) => distanceToProposal(answer, cursor.at));
  return off.indexOf(Math.min(...off));
}

/** Another outline, corners in mm from the lower left of the present one; lines stay and are cut to it. */
function withSheet(lesson: Lesson, corners: readonly Point[], low: Point): Lesson {
  const { pattern } = lesson;
  const unit = sizeOf(pattern) / lesson.sheet.size;
  const outline = corners.map(([x, y]): Point => [tidy(low[0] + x * unit), tidy(low[1] + y * unit)]);
  const size = tidy(sizeOf({ outline: corners }));
  return { ...withPattern(lesson, edit.withOutline(pattern, outline)), sheet: { ...lesson.sheet, size } };
}
