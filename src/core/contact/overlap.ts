/** How two panels lie over each other: where one covers the other seen along its normal, and at what height. */
import { TOUCH } from '../numeric/tolerance.ts';
import { type PosedPanels, seenFrom } from './shapes.ts';

/**
 * How panel f stands over panel g: `apart` covers nothing of it; `flat` lies on it; `up` or `down` stands clear of it on
 * the side that faced up at the start or on the other; `both` passes through, or stands on both sides in two places.
 */
export type Standing = 'apart' | 'flat' | 'up' | 'down' | 'both';

export interface Cover {
  readonly standing: Standing;
  /** Largest height over the part covered, either side. */
  readonly height: number;
  /** Where that is, flat on g. */
  readonly x: number;
  readonly y: number;
}

const nothing: Cover = { standing: 'apart', height: 0, x: 0, y: 0 };

/**
 * Panel `f` over panel `g`. Heights change evenly over a flat panel, so the corners of the covered parts, cut triangle
 * by triangle, hold the extremes: nothing is sampled.
 */
export function coverOf(posed: PosedPanels, f: number, g: number): Cover {
  const { shapes, corner } = posed;
  const { triangles, flat } = shapes;
  let [low, high, x, y] = [0, 0, 0, 0];
  let covers = false;
  const own = triangles[f]!;
  const other = triangles[g]!;
  for (let i = 0; i < own.length; i += 3) {
    const seen = [own[i]!, own[i + 1]!, own[i + 2]!].map((c) =>
      seenFrom(posed, g, corner[3 * c]!, corner[3 * c + 1]!, corner[3 * c + 2]!),
    );
    for (let j = 0; j < other.length; j += 3) {
      let part: (readonly [number, number, number])[] = seen;
      for (let k = 0; k < 3 && part.length > 0; k++) {
        const [a, b] = [other[j + k]!, other[j + ((k + 1) % 3)]!];
        part = leftOf(part, flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!);
      }
      if (part.length < 3 || isSliver(part)) continue;
      covers = true;
      for (const p of part) {
        if (Math.abs(p[2]) > Math.max(high, -low)) [x, y] = p;
        low = Math.min(low, p[2]);
        high = Math.max(high, p[2]);
      }
    }
  }
  if (!covers) return nothing;
  const standing = high > TOUCH ? (low < -TOUCH ? 'both' : 'up') : low < -TOUCH ? 'down' : 'flat';
  return { standing, height: Math.max(high, -low), x, y };
}

/** The part of a convex polygon on the left of a line, heights carried along. */
function leftOf(
  polygon: readonly (readonly [number, number, number])[],
  ax: number,
  ay: number,
  bx: number,
  by: number,
): (readonly [number, number, number])[] {
  const [dx, dy] = [bx - ax, by - ay];
  const side = polygon.map(([x, y]) => dx * (y - ay) - dy * (x - ax));
  const kept: (readonly [number, number, number])[] = [];
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
function isSliver(polygon: readonly (readonly [number, number, number])[]): boolean {
  let [twice, round] = [0, 0];
  polygon.forEach((p, k) => {
    const q = polygon[(k + 1) % polygon.length]!;
    twice += p[0] * q[1] - p[1] * q[0];
    round += Math.hypot(q[0] - p[0], q[1] - p[1]);
  });
  return Math.abs(twice) <= 2 * TOUCH * (round + TOUCH);
}
