/**
 * Does it stand? Read off a body at rest on the table: how far it turned on the way, what it rests on, and how far
 * it would have to be tilted to go over.
 */

export interface RestVerdict {
  readonly verdict: 'stands' | 'rocks' | 'tips over';
  /** How far the model turned away from where it was set, degrees. */
  readonly turnDegrees: number;
  /** By how much it can be tilted before it goes over, degrees: the centre of mass over the nearest rim. */
  readonly holdDegrees: number;
  readonly base: Base;
}

/** What touches the table. */
export interface Base {
  /** Panels that lie on the table with no other panel under them. */
  readonly panels: readonly number[];
  /** Which of their sides is down, the one that faced up at the start or the other; null where they differ. */
  readonly side: 'up' | 'down' | null;
  /** The whole model lies in the plane of the table. */
  readonly flat: boolean;
}

export type Point = readonly [number, number, number];

/** Turned by more than this it has tipped over; by more than the other it has rocked onto another rest. */
const TIPPED_DEGREES = 20;
const ROCKED_DEGREES = 1.5;
/** A base that lets go at less than this rocks. */
const SHAKY_DEGREES = 4;

/**
 * @param points places of the body at rest, table at z = 0
 * @param centre its centre of mass
 * @param touch points no higher than this above the lowest one carry it
 */
export function judge(
  points: readonly Point[],
  centre: Point,
  turnDegrees: number,
  touch: number,
  base: RestVerdict['base'],
): RestVerdict {
  const low = Math.min(...points.map((p) => p[2]));
  const support = convexOutline(points.filter((p) => p[2] <= low + touch).map((p) => [p[0], p[1]]));
  const margin = marginInside(support, [centre[0], centre[1]]);
  const holdDegrees = (Math.atan2(Math.max(0, margin), Math.max(1e-9, centre[2] - low)) * 180) / Math.PI;
  const verdict =
    turnDegrees > TIPPED_DEGREES
      ? 'tips over'
      : turnDegrees > ROCKED_DEGREES || holdDegrees < SHAKY_DEGREES
        ? 'rocks'
        : 'stands';
  return { verdict, turnDegrees, holdDegrees, base };
}

/** Convex outline of points of a plane, counter-clockwise (monotone chain, Andrew 1979). */
export function convexOutline(points: readonly (readonly [number, number])[]): [number, number][] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly (readonly [number, number])[]) => {
    const chain: [number, number][] = [];
    for (const [x, y] of list) {
      while (chain.length >= 2) {
        const [a, b] = [chain[chain.length - 2]!, chain[chain.length - 1]!];
        if ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) > 1e-12) break;
        chain.pop();
      }
      chain.push([x, y]);
    }
    return chain;
  };
  const lower = half(sorted);
  const upper = half([...sorted].reverse());
  if (lower.length < 2) return lower;
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

/** Distance of a point from the rim of a convex outline: positive inside, negative outside. */
export function marginInside(
  outline: readonly (readonly [number, number])[],
  [x, y]: readonly [number, number],
): number {
  if (outline.length < 3) {
    const [a, b = a] = outline;
    if (!a || !b) return Number.NEGATIVE_INFINITY;
    return -distanceToSegment(a, b, x, y);
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
        outside === 0 ? distanceToSegment(a, b, x, y) : Math.min(outside, distanceToSegment(a, b, x, y));
  });
  return margin >= 0 ? margin : -outside;
}

function distanceToSegment(
  a: readonly [number, number],
  b: readonly [number, number],
  x: number,
  y: number,
): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(a[0] + t * dx - x, a[1] + t * dy - y);
}
