/**
 * Does it stand? Read off a body at rest on the table: how far it turned on the way, what it rests on, and how far
 * it would have to be tilted to go over.
 */
import { convexOutline, marginInside } from '../numeric/plane.ts';
import type { Space } from '../numeric/vector.ts';

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
  points: readonly Space[],
  centre: Space,
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
