/**
 * How far drawn paper is bent aside of where stiff panels would be, so that it stays on its own side of paper that it
 * grazes: a shift for each corner of a panel, in space, even in between over each triangle of the panel.
 */
import type { Space } from './planes.ts';

/** Where paper is bent, each triangle is cut into four so many times: once is what a frame has time for. */
export const BENT_FINENESS = 1;

export interface BentPanel {
  /** Corners on the flat sheet, two numbers each. */
  readonly flat: Float64Array;
  /** Places in the list of corners, three a triangle, counter-clockwise on the flat sheet. */
  readonly triangles: Int32Array;
  /** How far each corner is shifted, three numbers each, sheet units, in the frame of the still panel. */
  readonly shift: Float64Array;
}

/** Panels that are bent; all others lie as they are placed. */
export type Aside = ReadonlyMap<number, BentPanel>;

const nowhere: Space = [0, 0, 0];

/** How far the paper at a flat point of a panel is shifted. */
export function asideAt(aside: Aside | null, panel: number, x: number, y: number): Space {
  const bent = aside?.get(panel);
  if (!bent) return nowhere;
  const { shift, triangles } = bent;
  const { t, share } = triangleAt(bent, x, y);
  const along = (axis: number) =>
    share.reduce((sum, part, k) => sum + part * shift[3 * triangles[t + k]! + axis]!, 0);
  return [along(0), along(1), along(2)];
}

/** The triangle that holds a flat point, or is nearest to doing so, and the point as shares of its three corners. */
function triangleAt({ flat, triangles }: BentPanel, x: number, y: number): { t: number; share: Space } {
  let best = { t: 0, share: nowhere, least: Number.NEGATIVE_INFINITY };
  for (let t = 0; t < triangles.length; t += 3) {
    const share = sharesOf(flat, triangles[t]!, triangles[t + 1]!, triangles[t + 2]!, x, y);
    const least = Math.min(...share);
    if (least > best.least) best = { t, share, least };
  }
  return best;
}

/** A flat point as shares of three corners; they add up to 1. */
export function sharesOf(
  flat: Float64Array,
  a: number,
  b: number,
  c: number,
  x: number,
  y: number,
): [number, number, number] {
  const twice = (p: number, q: number, r: number, s: number, u: number, v: number) =>
    (r - p) * (v - q) - (s - q) * (u - p);
  const [ax, ay, bx, by] = [flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!];
  const [cx, cy] = [flat[2 * c]!, flat[2 * c + 1]!];
  const whole = twice(ax, ay, bx, by, cx, cy);
  const first = twice(x, y, bx, by, cx, cy) / whole;
  const second = twice(ax, ay, x, y, cx, cy) / whole;
  return [first, second, 1 - first - second];
}
