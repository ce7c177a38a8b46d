/** Straight lines and points of the flat sheet, in pattern units. */

import { ROUNDING } from '../numeric/tolerance.ts';
import type { Point } from '../numeric/vector.ts';

/** All points with x * p[0] + y * p[1] = d; [x, y] has length 1, and x > 0, or x = 0 and y > 0. */
export interface Line {
  readonly x: number;
  readonly y: number;
  readonly d: number;
}

/** A stretch of a line. */
export interface Stretch {
  readonly from: Point;
  readonly to: Point;
}

/** A line from any normal, of any length and sign; null where the normal has no length. */
export function lineOf(x: number, y: number, d: number): Line | null {
  const length = Math.hypot(x, y);
  if (!(length > 0)) return null;
  const small = Math.abs(x) < ROUNDING * length;
  const sign = (small ? y : x) < 0 ? -length : length;
  return { x: small ? 0 : x / sign, y: Math.abs(y) < ROUNDING * length ? 0 : y / sign, d: d / sign + 0 };
}

/** The line through a point at right angles to a direction. */
export function lineAcross(through: Point, [x, y]: Point): Line | null {
  return lineOf(x, y, x * through[0] + y * through[1]);
}

export function lineThrough(a: Point, b: Point): Line | null {
  return lineAcross(a, [a[1] - b[1], b[0] - a[0]]);
}

/** Signed distance of a point from a line, positive where the normal points to. */
export const offLine = (line: Line, p: Point): number => line.x * p[0] + line.y * p[1] - line.d;

/** The direction of a line: left to right, upright ones upward. */
export const wayOf = ({ x, y }: Line): Point => (y > 0 ? [y, -x + 0] : [-y + 0, x]);

/** How far along a line a point lies, from the foot of the origin. */
export function alongLine(line: Line, p: Point): number {
  const [x, y] = wayOf(line);
  return x * p[0] + y * p[1];
}

export const footOn = (line: Line, p: Point): Point => {
  const off = offLine(line, p);
  return [p[0] - off * line.x, p[1] - off * line.y];
};

export const reflectIn = (line: Line, p: Point): Point => {
  const off = 2 * offLine(line, p);
  return [p[0] - off * line.x, p[1] - off * line.y];
};

/** The point that two lines share; null where they are parallel to within rounding. */
export function meet(a: Line, b: Line): Point | null {
  const cross = a.x * b.y - a.y * b.x;
  if (Math.abs(cross) < ROUNDING) return null;
  return [(a.d * b.y - b.d * a.y) / cross, (a.x * b.d - b.x * a.d) / cross];
}

export function areSame(a: Line, b: Line, within: number): boolean {
  const cross = a.x * b.y - a.y * b.x;
  const same = a.x * b.x + a.y * b.y > 0 ? a.d - b.d : a.d + b.d;
  return Math.abs(cross) < ROUNDING && Math.abs(same) <= within;
}
