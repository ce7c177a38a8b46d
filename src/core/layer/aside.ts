/**
 * How far drawn paper is bent aside of where stiff panels would be, so that it stays on its own side of paper that it
 * grazes: a shift for each corner of a panel, in space, even in between over each triangle of the panel.
 */
import type { Space } from '../numeric/vector.ts';

/** Where paper is bent, each triangle is cut into four so many times: once is what a frame has time for. */
export const BENT_FINENESS = 1;

/** The corners and triangles of a panel that may be bent: the same, once and for all, for every pose of its sheet. */
export interface BentMesh {
  /** Corners on the flat sheet, two numbers each. */
  readonly flat: Float64Array;
  /** Places in the list of corners, three a triangle, counter-clockwise on the flat sheet. */
  readonly triangles: Int32Array;
}

export interface BentPanel {
  readonly mesh: BentMesh;
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
  const { corners, shares } = spotAt(bent.mesh, x, y);
  const along = (axis: number) =>
    shares.reduce((sum, share, k) => sum + share * bent.shift[3 * corners[k]! + axis]!, 0);
  return [along(0), along(1), along(2)];
}

/** A flat point of a panel as shares of three of its corners, which add up to 1: it is shifted as they are. */
export interface Spot {
  readonly corners: readonly [number, number, number];
  readonly shares: readonly [number, number, number];
}

/** By the triangle that holds the point, or is nearest to doing so. */
export function spotAt({ flat, triangles }: BentMesh, x: number, y: number): Spot {
  let best: Spot = { corners: [0, 0, 0], shares: [0, 0, 0] };
  let most = Number.NEGATIVE_INFINITY;
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!] as const;
    const shares = sharesOf(flat, corners[0], corners[1], corners[2], x, y);
    const least = Math.min(shares[0], shares[1], shares[2]);
    if (least > most) [best, most] = [{ corners, shares }, least];
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
  const [ax, ay, bx, by] = [flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!];
  const [cx, cy] = [flat[2 * c]!, flat[2 * c + 1]!];
  const whole = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  const first = ((bx - x) * (cy - y) - (by - y) * (cx - x)) / whole;
  const second = ((x - ax) * (cy - ay) - (y - ay) * (cx - ax)) / whole;
  return [first, second, 1 - first - second];
}
