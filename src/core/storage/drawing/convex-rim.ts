import { convexOutline } from '../../numeric/plane.ts';
import { SNAP } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';

interface Line {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** Rims of more corners than this (a drawing full of noise) are not searched: the answer would be of no use. */
const MOST_CORNERS = 400;

/**
 * Tells for each line whether it lies on the convex rim of all lines together, to the snap distance.
 * A crease never does: paper lies on both of its sides.
 */
export function convexRim(lines: readonly Line[]): Uint8Array {
  const corners = convexOutline(
    lines.flatMap((line): Point[] => [
      [line.x1, line.y1],
      [line.x2, line.y2],
    ]),
  );
  const onRim = new Uint8Array(lines.length);
  if (corners.length < 3 || corners.length > MOST_CORNERS) return onRim;
  const near = SNAP * Math.max(...extent(corners));
  const sides = corners.map((corner, i) => sideBetween(corner, corners[(i + 1) % corners.length]!));
  lines.forEach((line, index) => {
    const lies = sides.some((side) => side(line.x1, line.y1) <= near && side(line.x2, line.y2) <= near);
    onRim[index] = lies ? 1 : 0;
  });
  return onRim;
}

/** Distance of a point from the line through two corners. */
function sideBetween(from: Point, to: Point): (x: number, y: number) => number {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const length = Math.hypot(dx, dy);
  return (x, y) => Math.abs((x - from[0]) * dy - (y - from[1]) * dx) / length;
}

function extent(points: readonly Point[]): [number, number] {
  const spread = (axis: 0 | 1) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const point of points) {
      low = Math.min(low, point[axis]);
      high = Math.max(high, point[axis]);
    }
    return high - low;
  };
  return [spread(0), spread(1)];
}
