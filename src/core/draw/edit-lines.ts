/** Changes of the lines of a pattern: lay down, take away, split, join, trim, move. Nothing lies doubled afterwards. */

import type { PatternLine } from '../lesson/lesson.ts';
import { distance, type Point } from '../numeric/vector.ts';
import { withinPaper } from './extent.ts';
import { alongLine, type Line, lineThrough, offLine, type Stretch } from './line.ts';
import {
  crossingOf,
  distanceTo,
  isSameLook,
  type LineLook,
  lookFor,
  lookOf,
  meetOf,
  nearness,
  type Pattern,
  sidesOf,
} from './pattern.ts';

export interface DrawnLine extends Stretch, LineLook {}

/** A stretch with its places along a line: 0 at the start of another stretch. */
interface Span {
  readonly start: number;
  readonly end: number;
  readonly from: Point;
  readonly to: Point;
}

/** The span of a stretch along a line, or null where it does not lie on it. */
function spanOn(line: Line, stretch: Stretch, near: number): Span | null {
  if (Math.abs(offLine(line, stretch.from)) > near || Math.abs(offLine(line, stretch.to)) > near) return null;
  const [a, b] = [alongLine(line, stretch.from), alongLine(line, stretch.to)];
  return a <= b
    ? { start: a, end: b, from: stretch.from, to: stretch.to }
    : { start: b, end: a, from: stretch.to, to: stretch.from };
}

/** What is left of one span where others are taken out. */
function without(span: Span, taken: readonly Span[], near: number): Span[] {
  let left = [span];
  for (const other of taken)
    left = left.flatMap((part) => {
      if (other.end <= part.start + near || other.start >= part.end - near) return [part];
      const parts: Span[] = [];
      if (other.start > part.start + near) parts.push({ ...part, end: other.start, to: other.from });
      if (other.end < part.end - near) parts.push({ ...part, start: other.end, from: other.to });
      return parts;
    });
  return left;
}

/** Takes stretches out of all lines that lie along them. Lines that are not touched stay the same objects. */
export function eraseStretches(pattern: Pattern, stretches: readonly Stretch[]): Pattern {
  const near = nearness(pattern);
  let lines = pattern.lines;
  for (const stretch of stretches) {
    const along = lineThrough(stretch.from, stretch.to);
    if (!along) continue;
    const hole = spanOn(along, stretch, near)!;
    let changed = false;
    const next = lines.flatMap((line): PatternLine[] => {
      const span = spanOn(along, line, near);
      if (!span) return [line];
      const left = without(span, [hole], near);
      if (left.length === 1 && left[0] === span) return [line];
      changed = true;
      return left.map((part) => inOldDirection(line, part));
    });
    if (changed) lines = next;
  }
  return lines === pattern.lines ? pattern : { ...pattern, lines };
}

/** Takes out every line that marks a place and folds nothing. */
export function withoutMarks(pattern: Pattern): Pattern {
  const lines = pattern.lines.filter(({ kind }) => kind !== 'flat');
  return lines.length === pattern.lines.length ? pattern : { ...pattern, lines };
}

/** The part of a line, drawn the way the line was. */
function inOldDirection(line: PatternLine, { from, to }: Span): PatternLine {
  const turned =
    (to[0] - from[0]) * (line.to[0] - line.from[0]) + (to[1] - from[1]) * (line.to[1] - line.from[1]) < 0;
  return { ...line, ...(turned ? { from: to, to: from } : { from, to }) };
}

/**
 * Lays lines on the sheet. Where one lies over a line that is there, a fold takes the place of what was there for its
 * extent, and a flat mark leaves folds as they are. Pieces of one look that touch in a straight line become one.
 * What lies off the paper or along its edge is left out.
 */
export function addLines(pattern: Pattern, drawn: readonly DrawnLine[]): Pattern {
  return drawn.reduce(addLine, pattern);
}

function addLine(pattern: Pattern, line: DrawnLine): Pattern {
  const inside = withinPaper(pattern, line);
  if (!inside) return pattern;
  const along = lineThrough(inside.from, inside.to)!;
  const near = nearness(pattern);
  const whole = spanOn(along, settled(pattern, inside, near), near)!;
  const yields = line.kind === 'flat';
  const spans = pattern.lines.flatMap((one) => {
    const span = yields && one.kind !== 'flat' ? spanOn(along, one, near) : null;
    return span ? [span] : [];
  });
  const look = lookOf(line);
  let after = pattern;
  for (const part of without(whole, spans, near)) {
    if (after.lines.some((one) => isSameLook(one, look) && covers(one, along, part, near))) continue;
    const cleared = eraseStretches(after, [part]);
    const turned = alongLine(along, line.from) > alongLine(along, line.to);
    const piece: PatternLine = {
      ...look,
      ...(turned ? { from: part.to, to: part.from } : { from: part.from, to: part.to }),
    };
    after = withJoined(cleared, piece, along, near);
  }
  return after;
}

/** A line of the same look that lies over the whole of a part. */
function covers(line: PatternLine, along: Line, part: Span, near: number): boolean {
  const span = spanOn(along, line, near);
  return span !== null && span.start <= part.start + near && span.end >= part.end - near;
}

/** Ends within reach of a corner or the end of a line go there to the last digit. */
function settled(pattern: Pattern, { from, to }: Stretch, near: number): Stretch {
  const places = [...pattern.outline, ...pattern.lines.flatMap((line) => [line.from, line.to])];
  const nearest = (p: Point) => {
    const within = places.filter((q) => distance(q, p) <= near);
    return within.reduce((best, q) => (distance(q, p) < distance(best, p) ? q : best), within[0] ?? p);
  };
  return { from: nearest(from), to: nearest(to) };
}

/** Adds a piece, joined with those of its look that it touches in a straight line. It takes the place of the first. */
function withJoined(pattern: Pattern, piece: PatternLine, along: Line, near: number): Pattern {
  let span = spanOn(along, piece, near)!;
  let place = pattern.lines.length;
  let first: PatternLine | null = null;
  const gone = new Set<number>();
  for (let again = true; again; ) {
    again = false;
    pattern.lines.forEach((line, k) => {
      if (gone.has(k) || !isSameLook(line, piece)) return;
      const other = spanOn(along, line, near);
      if (!other || other.start > span.end + near || other.end < span.start - near) return;
      span = {
        ...(other.start < span.start
          ? { start: other.start, from: other.from }
          : { start: span.start, from: span.from }),
        ...(other.end > span.end ? { end: other.end, to: other.to } : { end: span.end, to: span.to }),
      };
      if (k < place) [place, first] = [k, line];
      gone.add(k);
      again = true;
    });
  }
  const joined = inOldDirection(first ?? piece, span);
  const lines = pattern.lines.filter((_, k) => !gone.has(k) || k === place);
  if (first) lines[lines.indexOf(first)] = { ...joined, ...lookOf(piece) };
  else lines.push(joined);
  return { ...pattern, lines };
}

/** Gives stretches of lines another look; where nothing lies along a stretch, nothing is drawn. */
export function setLook(pattern: Pattern, stretches: readonly Stretch[], look: LineLook): Pattern {
  const near = nearness(pattern);
  let after = pattern;
  for (const stretch of stretches) {
    const along = lineThrough(stretch.from, stretch.to);
    if (!along) continue;
    const whole = spanOn(along, stretch, near)!;
    for (const line of after.lines) {
      const span = spanOn(along, line, near);
      if (!span) continue;
      const part = overlapOf(span, whole);
      if (part.end - part.start <= near || isSameLook(line, look)) continue;
      const { from, to } = inOldDirection(line, part);
      const bare: PatternLine = { from, to, ...lookOf(look) };
      after = withJoined(eraseStretches(after, [part]), bare, along, near);
    }
  }
  return after;
}

function overlapOf(a: Span, b: Span): Span {
  return {
    ...(a.start >= b.start ? { start: a.start, from: a.from } : { start: b.start, from: b.from }),
    ...(a.end <= b.end ? { end: a.end, to: a.to } : { end: b.end, to: b.to }),
  };
}

/** The piece of a line about a place, between the crossings beside it; null where no line lies within reach. */
export function pieceAt(pattern: Pattern, place: Point, reach: number): DrawnLine | null {
  const near = nearness(pattern);
  const [line] = pattern.lines
    .map((one) => ({ one, off: distanceTo(one, place) }))
    .filter(({ off }) => off <= reach)
    .sort((a, b) => a.off - b.off);
  if (!line) return null;
  const along = lineThrough(line.one.from, line.one.to);
  if (!along) return null;
  let span = spanOn(along, line.one, near)!;
  // at a crossing it is the piece after it that is meant, at the far end the last
  const at = Math.min(alongLine(along, place), span.end - 2 * near);
  for (const other of [...pattern.lines, ...sidesOf(pattern)]) {
    const met = other === line.one ? null : meetOf(other, line.one, near);
    if (!met) continue;
    const s = alongLine(along, met);
    if (s <= at + near && s > span.start) span = { ...span, start: s, from: met };
    if (s > at + near && s < span.end) span = { ...span, end: s, to: met };
  }
  const { from, to } = inOldDirection(line.one, span);
  return { from, to, ...lookOf(line.one) };
}

/** All pieces between crossings that a stroke from one place to another runs over. */
export function piecesAcross(pattern: Pattern, from: Point, to: Point): DrawnLine[] {
  const near = nearness(pattern);
  return pattern.lines.flatMap((line) => {
    const met = meetOf(line, { from, to }, near);
    const piece = met && pieceAt({ ...pattern, lines: onFront(pattern.lines, line) }, met, near);
    return piece ? [piece] : [];
  });
}

const onFront = (lines: readonly PatternLine[], line: PatternLine) => [
  line,
  ...lines.filter((one) => one !== line),
];

/** The whole straight run that a stretch belongs to: it and what touches it in a straight line. */
export function runOf(pattern: Pattern, stretch: Stretch): Stretch {
  const near = nearness(pattern);
  const along = lineThrough(stretch.from, stretch.to);
  if (!along) return stretch;
  let span = spanOn(along, stretch, near)!;
  for (let again = true; again; ) {
    again = false;
    for (const line of pattern.lines) {
      const other = spanOn(along, line, near);
      if (!other || other.start > span.end + near || other.end < span.start - near) continue;
      if (other.start < span.start) [span, again] = [{ ...span, start: other.start, from: other.from }, true];
      if (other.end > span.end) [span, again] = [{ ...span, end: other.end, to: other.to }, true];
    }
  }
  return { from: span.from, to: span.to };
}

/** Parts every line that runs through a place. */
export function splitAt(pattern: Pattern, place: Point): Pattern {
  const near = nearness(pattern);
  let changed = false;
  const lines = pattern.lines.flatMap((line): PatternLine[] => {
    const through = distanceTo(line, place) <= near;
    if (!through || distance(line.from, place) <= near || distance(line.to, place) <= near) return [line];
    changed = true;
    return [
      { ...line, to: place },
      { ...line, from: place },
    ];
  });
  return changed ? { ...pattern, lines } : pattern;
}

/** Makes one line of all pieces of one look in the straight run of a stretch. */
export function joinAlong(pattern: Pattern, stretch: Stretch): Pattern {
  const near = nearness(pattern);
  const along = lineThrough(stretch.from, stretch.to);
  const whole = along && spanOn(along, runOf(pattern, stretch), near);
  if (!whole) return pattern;
  let after = pattern;
  for (const line of pattern.lines) {
    const span = spanOn(along, line, near);
    if (!span || span.start < whole.start - near || span.end > whole.end + near) continue;
    if (!after.lines.includes(line)) continue;
    const joined = withJoined(
      { ...after, lines: after.lines.filter((one) => one !== line) },
      line,
      along,
      near,
    );
    if (joined.lines.length < after.lines.length) after = joined;
  }
  return after;
}

/** Cuts back the run through a place to where it meets a line: the side of the place goes. */
export function trimTo(pattern: Pattern, place: Point, reach: number, cutter: Line): Pattern {
  const piece = pieceAt(pattern, place, reach);
  if (!piece) return pattern;
  const run = runOf(pattern, piece);
  const met = crossingOf(run, cutter, nearness(pattern));
  if (!met) return pattern;
  const atStart = offLine(cutter, place) > 0 === offLine(cutter, run.from) > 0;
  const gone = atStart ? { from: run.from, to: met } : { from: met, to: run.to };
  return distance(gone.from, gone.to) <= nearness(pattern) ? pattern : eraseStretches(pattern, [gone]);
}

/** The lines anew on another outline: what lies off it is cut away. */
export function withOutline(pattern: Pattern, outline: Pattern['outline']): Pattern {
  const lines = pattern.lines.flatMap((line): PatternLine[] => {
    const part = withinPaper({ outline }, line);
    return part ? [{ ...line, ...part }] : [];
  });
  return { ...pattern, outline, lines };
}

/** The look that a kind asks for, with the angle where it folds (degrees, its sign from the kind). */
export const drawn = (stretch: Stretch, kind: LineLook['kind'], angle?: number): DrawnLine => ({
  from: stretch.from,
  to: stretch.to,
  ...lookFor(kind, angle),
});
