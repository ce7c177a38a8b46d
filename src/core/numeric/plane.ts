/** Small geometry of the plane, in plain numbers and typed arrays. */
import { side } from './predicates.ts';
import type { Point, Space } from './vector.ts';

/** Convex hull, counter-clockwise, as indices into x and y; corners only (monotone chain). */
export function convexHull(x: Float64Array, y: Float64Array): number[] {
  const order = Array.from(x.keys()).sort((p, q) => x[p]! - x[q]! || y[p]! - y[q]!);
  const half = (points: number[]): number[] => {
    const chain: number[] = [];
    for (const p of points) {
      while (chain.length >= 2) {
        const a = chain[chain.length - 2]!;
        const b = chain[chain.length - 1]!;
        if (side(x[a]!, y[a]!, x[b]!, y[b]!, x[p]!, y[p]!) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  const lower = half(order);
  return [...lower, ...half(order.reverse())];
}

/** The corners of the convex hull of points, counter-clockwise; a single point is its own. */
export function convexOutline(points: readonly Point[]): Point[] {
  const [x, y] = [Float64Array.from(points, (p) => p[0]), Float64Array.from(points, (p) => p[1])];
  const hull = convexHull(x, y).map((at) => points[at]!);
  return hull.length > 0 ? hull : points.slice(0, 1);
}

/** Distance of a point from the rim of a convex outline: positive inside, negative outside. */
export function marginInside(outline: readonly Point[], [x, y]: Point): number {
  if (outline.length < 3) {
    const [a, b = a] = outline;
    if (!a || !b) return Number.NEGATIVE_INFINITY;
    return -distanceToStretch(a, b, [x, y]);
  }
  let margin = Number.POSITIVE_INFINITY;
  let outside = 0;
  outline.forEach((a, k) => {
    const b = outline[(k + 1) % outline.length]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    const inside = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length;
    margin = Math.min(margin, inside);
    if (inside < 0)
      outside =
        outside === 0 ? distanceToStretch(a, b, [x, y]) : Math.min(outside, distanceToStretch(a, b, [x, y]));
  });
  return margin >= 0 ? margin : -outside;
}

/** Share of the way from one point to another at which it comes nearest to a third, 0 to 1. */
export function nearestShare(from: Point, to: Point, p: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const share = ((p[0] - from[0]) * dx + (p[1] - from[1]) * dy) / (dx * dx + dy * dy || 1);
  return Math.min(1, Math.max(0, share));
}

/** Distance of a point from the straight way between two others. */
export function distanceToStretch(from: Point, to: Point, [x, y]: Point): number {
  const share = nearestShare(from, to, [x, y]);
  return Math.hypot(from[0] + share * (to[0] - from[0]) - x, from[1] + share * (to[1] - from[1]) - y);
}

/** Does a ring run round a point, seen from above? On the ring itself either may be said. */
export function isWithin(ring: readonly (Point | Space)[], [x, y]: Point): boolean {
  let inside = false;
  ring.forEach((a, k) => {
    const b = ring[(k + 1) % ring.length]!;
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  });
  return inside;
}

/** Length round the convex hull of points; a measure of size that turning does not change. */
export function hullPerimeter(x: Float64Array, y: Float64Array): number {
  const hull = convexHull(x, y);
  let sum = 0;
  for (let k = 0; k < hull.length; k++) {
    const a = hull[k]!;
    const b = hull[(k + 1) % hull.length]!;
    sum += Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!);
  }
  return sum;
}

/** Groups 0..count-1 that are joined pair by pair. */
export class Groups {
  private readonly parent: Int32Array;

  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, k) => k);
  }

  /** The member that stands for the group of k. */
  find(k: number): number {
    const parent = this.parent;
    let root = k;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[k] !== root) {
      const up = parent[k]!;
      parent[k] = root;
      k = up;
    }
    return root;
  }

  /** Joins two groups; the smaller root stands for both. */
  join(a: number, b: number): void {
    const [p, q] = [this.find(a), this.find(b)];
    this.parent[Math.max(p, q)] = Math.min(p, q);
  }
}

/** Groups points that can be linked by hops of at most `reach`. Order of the points does not matter. */
export function groupNearPoints(x: Float64Array, y: Float64Array, count: number, reach: number): Groups {
  const groups = new Groups(count);
  const bucket = new Int32Array(nextPower(count * 2)).fill(-1);
  const after = new Int32Array(count).fill(-1);
  const mask = bucket.length - 1;
  // cells wide against the reach, so that most points need to look into one cell alone
  const cell = 16 * reach;
  for (let p = 0; p < count; p++) {
    const px = x[p]!;
    const py = y[p]!;
    const right = Math.floor((px + reach) / cell);
    const top = Math.floor((py + reach) / cell);
    let repeated = false;
    for (let i = Math.floor((px - reach) / cell); i <= right; i++) {
      for (let j = Math.floor((py - reach) / cell); j <= top; j++) {
        for (let q = bucket[hash(i, j) & mask]!; q >= 0; q = after[q]!) {
          const dx = px - x[q]!;
          const dy = py - y[q]!;
          if (dx * dx + dy * dy > reach * reach) continue;
          groups.join(p, q);
          if (dx === 0 && dy === 0) repeated = true;
        }
      }
    }
    // one of several equal points is enough to be found by the rest
    if (repeated) continue;
    const h = hash(Math.floor(px / cell), Math.floor(py / cell)) & mask;
    after[p] = bucket[h]!;
    bucket[h] = p;
  }
  return groups;
}

/** The least power of two, 16 or more, that is not below n. */
export function nextPower(n: number): number {
  let power = 16;
  while (power < n) power *= 2;
  return power;
}

/** Spreads pairs of whole numbers over 32 bits. */
export function hash(i: number, j: number): number {
  let h = Math.imul(i | 0, 0x9e3779b1) ^ Math.imul(j | 0, 0x85ebca6b);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 12);
}
