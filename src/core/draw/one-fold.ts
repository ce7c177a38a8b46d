/**
 * The seven ways to locate one fold by points and lines, each with all its creases.
 * Justin, "Résolution par le pliage de l'équation du troisième degré" (1986) lists all seven; Huzita (1989) six of them.
 * That there are no more: Alperin and Lang, "One-, two-, and multi-fold origami axioms", Origami 4 (2009).
 */

import { ROUNDING } from '../numeric/tolerance.ts';
import type { Point } from '../numeric/vector.ts';
import { areSame, type Line, lineAcross, lineOf, lineThrough, offLine, wayOf } from './line.ts';
import { realRoots } from './roots.ts';

const known = (...lines: (Line | null)[]): Line[] => lines.filter((line) => line !== null);

/** 1. Through two points. */
export const foldThrough = (a: Point, b: Point): Line[] => known(lineThrough(a, b));

/** 2. One point onto another. */
export function foldPointOntoPoint(a: Point, b: Point): Line[] {
  return known(lineAcross([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], [b[0] - a[0], b[1] - a[1]]));
}

/** 3. One line onto another: both bisectors, or the line midway between parallels. */
export function foldLineOntoLine(a: Line, b: Line): Line[] {
  const cross = a.x * b.y - a.y * b.x;
  if (Math.abs(cross) < ROUNDING) {
    const sign = a.x * b.x + a.y * b.y > 0 ? 1 : -1;
    if (areSame(a, b, 0)) return [];
    return known(lineOf(a.x + sign * b.x, a.y + sign * b.y, a.d + sign * b.d));
  }
  return known(lineOf(a.x - b.x, a.y - b.y, a.d - b.d), lineOf(a.x + b.x, a.y + b.y, a.d + b.d));
}

/** 4. At right angles to a line, through a point. */
export const foldSquare = (p: Point, line: Line): Line[] => known(lineAcross(p, wayOf(line)));

/** 5. A point onto a line, through another point: where the circle about that one meets the line. */
export function foldPointOntoLine(p: Point, line: Line, through: Point): Line[] {
  const off = offLine(line, through);
  const reach = Math.hypot(p[0] - through[0], p[1] - through[1]);
  const foot: Point = [through[0] - off * line.x, through[1] - off * line.y];
  const rest = (reach - off) * (reach + off);
  const half = Math.abs(rest) < TANGENT * reach * reach ? 0 : Math.sqrt(rest);
  if (Number.isNaN(half)) return [];
  const way = wayOf(line);
  const images = (half === 0 ? [0] : [half, -half]).map(
    (s): Point => [foot[0] + s * way[0], foot[1] + s * way[1]],
  );
  return images.flatMap((image) => {
    const stays = Math.hypot(image[0] - p[0], image[1] - p[1]) < ROUNDING * reach;
    // the crease runs through the given point to the last digit
    return stays
      ? known(lineThrough(through, p))
      : known(lineAcross(through, [image[0] - p[0], image[1] - p[1]]));
  });
}

/** 6. Two points onto two lines at once: up to three creases, the roots of a cubic. */
export function foldTwoOntoTwo(p1: Point, l1: Line, p2: Point, l2: Line): Line[] {
  const scale = Math.max(
    Math.hypot(p1[0] - p2[0], p1[1] - p2[1]),
    Math.abs(offLine(l1, p1)),
    Math.abs(offLine(l2, p2)),
  );
  if (!(scale > 0)) return [];
  // lengths by their scale and counted from the first point, whose image is off * normal + s * way
  const off = -offLine(l1, p1) / scale;
  const way = wayOf(l1);
  const q: Point = [(p2[0] - p1[0]) / scale, (p2[1] - p1[1]) / scale];
  const base: Point = [off * l1.x, off * l1.y];
  // v = base + s way; (q - v/2).v and n2.v and v.v as polynomials in s; base and way are at right angles
  const dots = [
    q[0] * base[0] + q[1] * base[1] - (off * off) / 2,
    q[0] * way[0] + q[1] * way[1],
    -0.5,
  ] as const;
  const normal = [l2.x * base[0] + l2.y * base[1], l2.x * way[0] + l2.y * way[1]] as const;
  const miss = offLine(l2, p2) / scale;
  const roots = realRoots([
    miss * off * off - 2 * dots[0] * normal[0],
    -2 * (dots[0] * normal[1] + dots[1] * normal[0]),
    miss - 2 * (dots[1] * normal[1] + dots[2] * normal[0]),
    -2 * dots[2] * normal[1],
  ]);
  return roots.flatMap((s) => {
    const v: Point = [base[0] + s * way[0], base[1] + s * way[1]];
    // an image on the point itself gives no crease
    if (Math.hypot(v[0], v[1]) < TANGENT) return [];
    return known(lineAcross([p1[0] + (scale * v[0]) / 2, p1[1] + (scale * v[1]) / 2], v));
  });
}

/** 7. A point onto a line, at right angles to a second line; none where the two lines are parallel. */
export function foldPointOntoLineSquare(p: Point, line: Line, square: Line): Line[] {
  const way = wayOf(square);
  const slope = line.x * way[0] + line.y * way[1];
  if (Math.abs(slope) < ROUNDING) return [];
  const s = -offLine(line, p) / slope;
  return known(lineAcross([p[0] + (s * way[0]) / 2, p[1] + (s * way[1]) / 2], way));
}

/** Two solutions nearer than the root of this are one: rounding of a square leaves as much. */
const TANGENT = 1e-13;
