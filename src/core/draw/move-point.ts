/** A point of a pattern moved with the creases that meet there; every other corner keeps what meets in it. */

import { ROUNDING } from '../numeric/tolerance.ts';
import { between, distance, type Point } from '../numeric/vector.ts';
import { splitAt } from './edit-lines.ts';
import { type Line, lineThrough, meet, type Stretch } from './line.ts';
import { distanceTo, isOnPaper, meetOf, nearestShare, nearness, type Pattern, sidesOf } from './pattern.ts';

interface Moved {
  readonly pattern: Pattern;
  /** Where a place on lines of the pattern before is now. */
  readonly placeOf: (p: Point) => Point;
}

/**
 * Moves every end and outline corner at a place. Lines turn with it as far as the next corner on them, and sides of the
 * outline as a whole, unless lines of two directions end in one point of them. Lines that lose all their length are left out.
 * A point on a side that would leave the paper stays on the side.
 */
export function movePoint(pattern: Pattern, place: Point, to: Point): Moved {
  const near = nearness(pattern);
  const held = cutWhereHeld(splitAt(pattern, place), place, near);
  const placeOf = slide(held, place, onPaper(pattern, place, to, near), near);
  const lines = held.lines.flatMap((line) => {
    const [from, end] = [placeOf(line.from), placeOf(line.to)];
    if (from === line.from && end === line.to) return [line];
    return distance(from, end) > near ? [{ ...line, from, to: end }] : [];
  });
  return { pattern: { ...held, outline: held.outline.map(placeOf), lines }, placeOf };
}

function onPaper(pattern: Pattern, place: Point, to: Point, near: number): Point {
  const side = sidesOf(pattern).find((one) => distanceTo(one, place) <= near && !endsAt(one, place, near));
  if (!side || isOnPaper(pattern, to)) return to;
  return between(side.from, side.to, nearestShare(side, to));
}

const strokesOf = (pattern: Pattern): Stretch[] => [...sidesOf(pattern), ...pattern.lines];

const endsAt = ({ from, to }: Stretch, place: Point, near: number) =>
  distance(from, place) <= near || distance(to, place) <= near;

function cutWhereHeld(pattern: Pattern, place: Point, near: number): Pattern {
  const strokes = strokesOf(pattern);
  const cut = <T extends Stretch>(stroke: T, slides: boolean): T[] => {
    const at = endsAt(stroke, place, near) ? holdOf(stroke, strokes, place, near, slides) : null;
    return at
      ? [
          { ...stroke, to: at },
          { ...stroke, from: at },
        ]
      : [stroke];
  };
  const outline = sidesOf(pattern).flatMap((side) => cut(side, true).map(({ from }) => from));
  return { ...pattern, outline, lines: pattern.lines.flatMap((line) => cut(line, false)) };
}

/** Of the corners within a stroke, or those where lines of two other directions meet it, the nearest to a place. */
function holdOf(
  stroke: Stretch,
  strokes: readonly Stretch[],
  place: Point,
  near: number,
  slides: boolean,
): Point | null {
  const met = strokes.flatMap((other) => {
    const at = other === stroke ? null : meetOf(other, stroke, near);
    return at && !endsAt(stroke, at, near) ? [{ at, line: lineThrough(other.from, other.to)! }] : [];
  });
  const holds = met.filter(
    ({ at, line }) =>
      !slides || met.some((other) => distance(other.at, at) <= near && !areParallel(other.line, line)),
  );
  const off = ({ at }: { readonly at: Point }) => distance(at, place);
  return holds.sort((a, b) => off(a) - off(b))[0]?.at ?? null;
}

const areParallel = (a: Line, b: Line) => Math.abs(a.x * b.y - a.y * b.x) < PARALLEL;

/** Sine of the angle up to which two lines run the same way: far above rounding, far below any fold. */
const PARALLEL = 1000 * ROUNDING;

/** Places on sides that turn slide along what ends there; where nothing does they keep their share. */
function slide(pattern: Pattern, place: Point, to: Point, near: number): Moved['placeOf'] {
  const strokes = strokesOf(pattern);
  const end = (p: Point) => (distance(p, place) <= near ? to : p);
  const turning = strokes
    .filter((stroke) => endsAt(stroke, place, near))
    .map((was) => ({ was, is: { from: end(was.from), to: end(was.to) } }));
  const still = strokes.filter((stroke) => !endsAt(stroke, place, near));
  return (p) => {
    if (distance(p, place) <= near) return to;
    const on = turning.find(({ was }) => !endsAt(was, p, near) && distanceTo(was, p) <= near);
    if (!on) return p;
    const now = lineThrough(on.is.from, on.is.to);
    const share = between(on.is.from, on.is.to, nearestShare(on.was, p));
    const crosses = still.find((one) => distanceTo(one, p) <= near);
    const across = crosses && lineThrough(crosses.from, crosses.to);
    const at = now && across ? meet(now, across) : null;
    // a crossing that would run off the line that turns is held at its share instead
    return at && distanceTo(on.is, at) <= near ? at : share;
  };
}
