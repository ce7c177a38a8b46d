/** Steps as poses that are written down, not solved for: every layer over a line turns about it, evenly. */
import type { Drive } from '../../src/core/lesson/lesson.ts';
import { creasesOnLine } from '../../src/core/lesson/stages.ts';
import type { TrackPose } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { radians } from './patterns.ts';

/** Angles of all creases once the drives are done, from angles before. */
export function anglesAfter(sheet: Sheet, before: Float64Array, drives: readonly Drive[]): Float64Array {
  const angle = before.slice();
  for (const drive of drives)
    for (const crease of creasesOnLine(sheet, drive)) angle[crease] = drive.angle * radians;
  return angle;
}

/** Poses 4 degrees apart, the creases that change turning alike. */
export function evenMotion(from: Float64Array, to: Float64Array): TrackPose[] {
  const most = to.reduce((turn, angle, e) => Math.max(turn, Math.abs(angle - from[e]!)), 0);
  const count = Math.max(1, Math.ceil(most / (4 * radians)));
  return Array.from({ length: count + 1 }, (_, k) => ({
    at: k / count,
    angle: from.map((angle, e) => angle + (k / count) * (to[e]! - angle)),
  }));
}
