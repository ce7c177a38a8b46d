/** What the drawing tools would do now: where the cursor goes, what is wanted next, and the answers so far. */

import { type DrawnLine, pieceAt } from '../../core/draw/edit-lines.ts';
import type { Stretch } from '../../core/draw/line.ts';
import { type Pattern, sizeOf } from '../../core/draw/pattern.ts';
import { type SnapPlace, type Snaps, snapAngle, snapsOf } from '../../core/draw/snap.ts';
import { type DrawSettings, type Given, type Wanted, wantedBy } from '../../core/draw/told.ts';
import { edgeThrough, type Proposal, proposalsOf } from '../../core/draw/tools.ts';
import { tidy } from '../../core/numeric/tidy.ts';
import { distance, type Point } from '../../core/numeric/vector.ts';
import { cornerInPattern } from '../../core/sheet/frame.ts';
import { lineKinds } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { drawWords } from '../../words/words.ts';
import type { Store } from '../store.ts';
import { type Cursor, changeWants, isConstruction } from './drawing-state.ts';

/** A line from a point is brought to a multiple of 22.5 degrees within this turn. */
const ANGLE_PULL = (2 * Math.PI) / 180;

/** A crease of the sheet in pattern units, free of the rounding of its frame. */
export function stretchOfCrease(sheet: Sheet, crease: number): Stretch {
  const [from, to] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  return { from: cornerInPattern(sheet, from), to: cornerInPattern(sheet, to) };
}

export class DrawingNow {
  private known: { readonly pattern: Pattern; readonly parts: number; readonly snaps: Snaps } | null = null;

  constructor(private readonly store: Store) {}

  get pattern(): Pattern | null {
    return this.store.document.lesson?.pattern ?? null;
  }

  /** Pattern units to a millimetre. */
  get unitsPerMillimetre(): number {
    const { lesson } = this.store.document;
    return lesson ? sizeOf(lesson.pattern) / lesson.sheet.size : 1;
  }

  get snaps(): Snaps | null {
    const { pattern } = this;
    const { parts } = this.store.drawing;
    if (!pattern) return null;
    if (this.known?.pattern !== pattern || this.known.parts !== parts)
      this.known = { pattern, parts, snaps: snapsOf(pattern, parts) };
    return this.known.snaps;
  }

  get picked(): readonly number[] {
    const { picked, selection } = this.store.look;
    if (picked.length > 0) return picked;
    return selection?.kind === 'crease' ? [selection.id] : [];
  }

  /** The picked creases with their looks; with none picked, all lines where `orAll` is set. */
  chosen(orAll: boolean): DrawnLine[] {
    const { sheet } = this.store.document;
    const { pattern } = this;
    if (!sheet || !pattern) return [];
    const picked = this.picked.filter((crease) => lineKinds[sheet.creaseKind[crease]!] !== 'edge');
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
  get wanted(): Wanted | null {
    const { tool, given, choice } = this.store.drawing;
    if (choice !== null) return null;
    if (tool === 'outline') return 'point';
    const wants: readonly Wanted[] = isConstruction(tool) ? wantedBy[tool] : changeWants[tool];
    return wants[given.length] ?? null;
  }

  get settings(): DrawSettings {
    const { extent, length, distance: away, count } = this.store.drawing;
    const unit = this.unitsPerMillimetre;
    return { extent, length: length * unit, distance: away * unit, count, chosen: this.chosen(true) };
  }

  /** The answers to what was told, with the cursor taken for what is still wanted when it is the last. */
  get proposals(): readonly Proposal[] {
    const { tool, given, cursor, choice } = this.store.drawing;
    const { pattern } = this;
    if (!pattern || !isConstruction(tool)) return [];
    const next = choice === null && cursor ? this.told(cursor) : [];
    return proposalsOf(pattern, tool, [...given, ...next], this.settings);
  }

  /** What a cursor tells the tool; for square to an edge a point on one edge tells that edge, too. */
  told(cursor: Cursor, alone = false): Given[] {
    const { wanted, pattern } = this;
    if (wanted === 'line') return cursor.line ? [{ kind: 'line', stretch: cursor.line, at: cursor.at }] : [];
    if (wanted !== 'point' || !pattern) return [];
    const point: Given = { kind: 'point', at: cursor.at };
    const edge = this.store.drawing.tool === 'square' && !alone ? edgeThrough(pattern, cursor.at) : null;
    return edge ? [point, { kind: 'line', stretch: edge, at: cursor.at }] : [point];
  }

  /** Where a pointer at a place of the pattern goes. `reach` in pattern units. */
  cursorAt(p: Point, reach: number): Cursor | null {
    const { snaps, wanted } = this;
    if (!snaps) return null;
    if (wanted === 'line') {
      const line = this.lineFor(p, reach);
      return line && { at: p, name: line.name, line: line.stretch };
    }
    const { given, tool } = this.store.drawing;
    const found = snaps.near(p, reach);
    if (found && found.rank < 4) return { at: found.at, name: drawWords.placeIs(found.is), line: null };
    const last = given.at(-1);
    const turns = tool === 'through' && last && distance(last.at, p) > reach;
    const bent = turns ? snapAngle(last.at, p, ANGLE_PULL) : null;
    if (bent) return { at: bent.at, name: drawWords.atAngle(bent.degrees), line: null };
    if (found) return { at: found.at, name: drawWords.placeIs(found.is), line: null };
    const [x, y] = this.lowCorner;
    return { at: p, name: drawWords.place([p[0] - x, p[1] - y], this.unitsPerMillimetre), line: null };
  }

  /** The line or edge at a place; changes of lines see the piece between crossings and no edge. */
  lineFor(p: Point, reach: number): { name: string; stretch: Stretch } | null {
    const { tool, given } = this.store.drawing;
    const { pattern, snaps } = this;
    if (!pattern || !snaps) return null;
    if (!isConstruction(tool) && !(tool === 'trim' && given.length === 1)) {
      const piece = pieceAt(pattern, p, reach);
      return piece && { name: drawWords.kind[piece.kind], stretch: { from: piece.from, to: piece.to } };
    }
    const line = snaps.lineNear(p, reach);
    return line && { name: drawWords.placeIs(line.is), stretch: { from: line.from, to: line.to } };
  }

  /** Middles of all creases, for walking among lines by keys. */
  get middles(): SnapPlace[] {
    const { sheet } = this.store.document;
    if (!sheet) return [];
    return Array.from(sheet.creaseKind, (_, crease) => {
      const { from, to } = stretchOfCrease(sheet, crease);
      return { at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], is: 'middle-of-crease', rank: 0 };
    });
  }

  /** The lower left corner of the sheet in pattern units, from which the teacher measures. */
  get lowCorner(): Point {
    const low = (k: 0 | 1) => Math.min(...(this.pattern?.outline.map((corner) => corner[k]) ?? [0]));
    return [low(0), low(1)];
  }
}
