/** How two panels lie over each other: where one covers the other seen along its normal, and at what height. */
import { TOUCH } from '../numeric/tolerance.ts';
import { type PosedPanels, seenFrom } from './shapes.ts';

/** Highest and lowest over the part covered; both 0 where it lies flat. */
export interface Cover {
  readonly up: Summit;
  readonly down: Summit;
}

/** A height, as a positive number on either side, and where it is, flat on g. */
export interface Summit {
  readonly height: number;
  readonly x: number;
  readonly y: number;
}

const level: Summit = { height: 0, x: 0, y: 0 };

/** A corner of a part of a panel that lies over another: flat x and y on the lower one, and the height over it. */
export type CoverCorner = readonly [number, number, number];

/**
 * Panel `f` over panel `g`: how far it stands off on the side that faced up at the start, and on the other; null where
 * it covers nothing of it. Heights change evenly over a flat panel, so the corners of the covered parts, cut triangle
 * by triangle, hold the extremes: nothing is sampled.
 */
export function coverOf(posed: PosedPanels, f: number, g: number): Cover | null {
  let [up, down] = [level, level];
  let covers = false;
  eachPartOver(posed, f, g, (part) => {
    covers = true;
    for (const [x, y, height] of part) {
      if (height > up.height) up = { height, x, y };
      if (-height > down.height) down = { height: -height, x, y };
    }
  });
  return covers ? { up, down } : null;
}

/**
 * The parts of panel `f` that lie over panel `g`, seen along the normal of `g`, one for each triangle of the one over
 * each of the other. @param found given the corners of a part and the places of both triangles in `shapes.triangles`
 */
export function eachPartOver(
  posed: PosedPanels,
  f: number,
  g: number,
  found: (part: readonly CoverCorner[], own: number, other: number) => void,
): void {
  const { shapes, corner } = posed;
  const { triangles, flat } = shapes;
  const own = triangles[f]!;
  const other = triangles[g]!;
  const boxes = boxesOf(flat, other);
  for (let i = 0; i < own.length; i += 3) {
    const seen = [own[i]!, own[i + 1]!, own[i + 2]!].map((c) =>
      seenFrom(posed, g, corner[3 * c]!, corner[3 * c + 1]!, corner[3 * c + 2]!),
    );
    const [left, right] = reachAlong(seen, 0);
    const [low, high] = reachAlong(seen, 1);
    for (let j = 0; j < other.length; j += 3) {
      const box = (4 * j) / 3;
      if (right < boxes[box]! || left > boxes[box + 1]! || high < boxes[box + 2]! || low > boxes[box + 3]!)
        continue;
      let part: readonly CoverCorner[] = seen;
      for (let k = 0; k < 3 && part.length > 0; k++) {
        const [a, b] = [other[j + k]!, other[j + ((k + 1) % 3)]!];
        part = leftOf(part, flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!);
      }
      if (part.length >= 3 && !isSliver(part)) found(part, i, j);
    }
  }
}

const boxesKnown = new WeakMap<Int32Array, Float64Array>();

/** Left, right, low and high of each triangle; kept with the triangles. */
function boxesOf(flat: Float64Array, triangles: Int32Array): Float64Array {
  let boxes = boxesKnown.get(triangles);
  if (boxes) return boxes;
  boxes = new Float64Array((4 * triangles.length) / 3);
  for (let t = 0; t < triangles.length; t += 3)
    for (const axis of [0, 1]) {
      const [p, q, r] = [0, 1, 2].map((k) => flat[2 * triangles[t + k]! + axis]!) as [number, number, number];
      boxes[(4 * t) / 3 + 2 * axis] = Math.min(p, q, r);
      boxes[(4 * t) / 3 + 2 * axis + 1] = Math.max(p, q, r);
    }
  boxesKnown.set(triangles, boxes);
  return boxes;
}

function reachAlong(corners: readonly CoverCorner[], axis: 0 | 1): [number, number] {
  const [a, b, c] = [corners[0]![axis], corners[1]![axis], corners[2]![axis]];
  return [Math.min(a, b, c), Math.max(a, b, c)];
}

/** The part of a convex polygon on the left of a line, heights carried along. */
function leftOf(
  polygon: readonly CoverCorner[],
  ax: number,
  ay: number,
  bx: number,
  by: number,
): CoverCorner[] {
  const [dx, dy] = [bx - ax, by - ay];
  const side = polygon.map(([x, y]) => dx * (y - ay) - dy * (x - ax));
  const kept: CoverCorner[] = [];
  polygon.forEach((p, k) => {
    const n = (k + 1) % polygon.length;
    const [s, t] = [side[k]!, side[n]!];
    if (s >= 0) kept.push(p);
    if (s >= 0 !== t >= 0) {
      const q = polygon[n]!;
      const u = s / (s - t);
      kept.push([p[0] + u * (q[0] - p[0]), p[1] + u * (q[1] - p[1]), p[2] + u * (q[2] - p[2])]);
    }
  });
  return kept;
}

/** Narrower than twice TOUCH: boundaries that run along each other, or a panel that stands upright. */
function isSliver(polygon: readonly CoverCorner[]): boolean {
  let [twice, round] = [0, 0];
  polygon.forEach((p, k) => {
    const q = polygon[(k + 1) % polygon.length]!;
    twice += p[0] * q[1] - p[1] * q[0];
    round += Math.hypot(q[0] - p[0], q[1] - p[1]);
  });
  return Math.abs(twice) <= 2 * TOUCH * (round + TOUCH);
}
