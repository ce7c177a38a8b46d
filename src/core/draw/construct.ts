/** Lines that follow from others: parallels, equal parts, grids, mirror images, repeats. */

import { ROUNDING } from '../numeric/tolerance.ts';
import { distance, type Point } from '../numeric/vector.ts';
import { acrossPaper } from './extent.ts';
import { areSame, type Line, lineOf, lineThrough, meet, offLine, reflectIn, type Stretch } from './line.ts';
import { nearness, type Pattern, sidesOf } from './pattern.ts';

/** Parallels of a line on both sides, at a distance in pattern units. */
export function parallelsAt({ x, y, d }: Line, away: number): Line[] {
  const sides = away === 0 ? [0] : [away, -away];
  return sides.flatMap((off) => lineOf(x, y, d + off) ?? []);
}

/**
 * Lines that part the room between two others into n equal parts: parallels for parallels, and for lines that meet
 * equal angles; of the two angles the one that holds `inside`.
 */
export function equalParts(a: Line, b: Line, n: number, inside: Point): Line[] {
  const shares = Array.from({ length: n - 1 }, (_, k) => (k + 1) / n);
  const corner = meet(a, b);
  if (!corner) {
    const sign = a.x * b.x + a.y * b.y > 0 ? 1 : -1;
    if (areSame(a, b, 0)) return [];
    return shares.flatMap((share) => lineOf(a.x, a.y, a.d + share * (sign * b.d - a.d)) ?? []);
  }
  // normals turned so that `inside` lies ahead of the first line and behind the second
  const [p, q] = [offLine(a, inside) < 0 ? -1 : 1, offLine(b, inside) < 0 ? 1 : -1];
  const [from, to] = [Math.atan2(p * a.y, p * a.x), Math.atan2(q * b.y, q * b.x)];
  const turn = Math.atan2(Math.sin(to - from), Math.cos(to - from));
  return shares.flatMap((share) => {
    const angle = from + share * turn;
    const [x, y] = [Math.cos(angle), Math.sin(angle)];
    return lineOf(x, y, x * corner[0] + y * corner[1]) ?? [];
  });
}

/** Points that part a stretch into n equal parts, its ends left out. */
export function partsOfStretch({ from, to }: Stretch, n: number): Point[] {
  // k/n of the coordinates, so that a whole edge gives whole numbers where it can
  return Array.from(
    { length: n - 1 },
    (_, k): Point => [
      (from[0] * (n - k - 1) + to[0] * (k + 1)) / n,
      (from[1] * (n - k - 1) + to[1] * (k + 1)) / n,
    ],
  );
}

/** A grid of n squares (or rectangles) along each side of the outline's box, cut to the paper. */
export function gridOf(pattern: Pick<Pattern, 'outline'>, across: number, up = across): Stretch[] {
  const { outline } = pattern;
  const low = (k: 0 | 1) => Math.min(...outline.map((corner) => corner[k]));
  const high = (k: 0 | 1) => Math.max(...outline.map((corner) => corner[k]));
  const places = (k: 0 | 1, n: number) =>
    Array.from({ length: n - 1 }, (_, j) => (low(k) * (n - j - 1) + high(k) * (j + 1)) / n);
  return [
    ...places(0, across).map((d): Line => ({ x: 1, y: 0, d })),
    ...places(1, up).map((d): Line => ({ x: 0, y: 1, d })),
  ].flatMap((line) => acrossPaper(pattern, line));
}

type Move = (p: Point) => Point;

/** Turns and mirror images that lay the outline on itself, the one that changes nothing left out. */
export function symmetriesOf(pattern: Pick<Pattern, 'outline'>): Move[] {
  const corners = cornersOf(pattern);
  const n = corners.length;
  const near = nearness(pattern) * 1e-3;
  const moves: Move[] = [];
  for (const mirrored of [false, true])
    for (let shift = 0; shift < n; shift++) {
      if (!mirrored && shift === 0) continue;
      const image = (k: number) => corners[(((mirrored ? shift - k : shift + k) % n) + n) % n]!;
      const move = rigidMove(corners[0]!, corners[1]!, image(0), image(1), mirrored);
      if (move && corners.every((corner, k) => distance(move(corner), image(k)) <= near)) moves.push(move);
    }
  return moves;
}

function cornersOf(pattern: Pick<Pattern, 'outline'>): Point[] {
  const sides = sidesOf(pattern);
  return sides.flatMap(({ from, to }, k) => {
    const before = sides[(k + sides.length - 1) % sides.length]!;
    const line = lineThrough(before.from, to);
    return line && Math.abs(offLine(line, from)) <= nearness(pattern) * 1e-3 ? [] : [from];
  });
}

/** The move that takes a to c and b to d; null where their distances differ. */
function rigidMove(a: Point, b: Point, c: Point, d: Point, mirrored: boolean): Move | null {
  const [length, other] = [distance(a, b), distance(c, d)];
  if (Math.abs(length - other) > ROUNDING * 1e3 * length) return null;
  const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  const flip = mirrored ? -1 : 1;
  const square = length * other;
  const cos = settle((ux * vx + flip * uy * vy) / square);
  const sin = settle((ux * vy - flip * uy * vx) / square);
  return ([x, y]) => {
    const [dx, dy] = [x - a[0], flip * (y - a[1])];
    return [c[0] + cos * dx - sin * dy, c[1] + sin * dx + cos * dy];
  };
}

/** Quarter turns are exact. */
const settle = (value: number) =>
  Math.abs(value - Math.round(value)) < ROUNDING ? Math.round(value) : value;

/** Mirror images of stretches in a line. */
export function mirrored<T extends Stretch>(stretches: readonly T[], line: Line): T[] {
  return stretches.map((one) => ({ ...one, from: reflectIn(line, one.from), to: reflectIn(line, one.to) }));
}

/** The same stretches on the other sides of the sheet, by every turn and mirror image of its outline. */
export function repeated<T extends Stretch>(pattern: Pick<Pattern, 'outline'>, stretches: readonly T[]): T[] {
  const moves = symmetriesOf(pattern);
  return stretches.flatMap((one) =>
    moves.map((move) => ({ ...one, from: move(one.from), to: move(one.to) })),
  );
}
