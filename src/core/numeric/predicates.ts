/** Exact answers to yes-no questions about points of the plane (adaptive precision, by Shewchuk's method). */
import { orient2d } from 'robust-predicates';

/**
 * Side of c seen from a looking to b: positive on the left (a, b, c run counter-clockwise with y up), negative on
 * the right, 0 exactly on the line. The size is twice the area of the triangle. The library has y down, so its sign
 * is turned here.
 */
export function side(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  return -orient2d(ax, ay, bx, by, cx, cy);
}

/** Do the open segments ab and cd cross in one point that is inside both? Touching does not count. Exact. */
export function cross(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  const c = side(ax, ay, bx, by, cx, cy);
  if (c === 0) return false;
  const d = side(ax, ay, bx, by, dx, dy);
  if (d === 0 || c > 0 === d > 0) return false;
  const a = side(cx, cy, dx, dy, ax, ay);
  if (a === 0) return false;
  const b = side(cx, cy, dx, dy, bx, by);
  return b !== 0 && a > 0 !== b > 0;
}

/** Do segments ab and cd have a point in common, ends included? Exact. */
export function meet(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  return (
    cross(ax, ay, bx, by, cx, cy, dx, dy) ||
    isOn(ax, ay, bx, by, cx, cy) ||
    isOn(ax, ay, bx, by, dx, dy) ||
    isOn(cx, cy, dx, dy, ax, ay) ||
    isOn(cx, cy, dx, dy, bx, by)
  );
}

/** Does p lie on the segment ab, ends included? Exact. */
export function isOn(ax: number, ay: number, bx: number, by: number, px: number, py: number): boolean {
  if (side(ax, ay, bx, by, px, py) !== 0) return false;
  return Math.min(ax, bx) <= px && px <= Math.max(ax, bx) && Math.min(ay, by) <= py && py <= Math.max(ay, by);
}
