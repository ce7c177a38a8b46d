import { TURNED } from '../numeric/tolerance.ts';
import type { Stage, TrackPose } from '../pose/track.ts';

/**
 * Creases that a step does not name and yet moves, since closure ties them to those that it does.
 * @param poses of the step's track, its start first; angles of added bend lines, which come last, do not count
 */
export function followersOf(stage: Stage, poses: readonly TrackPose[]): number[] {
  const [start] = poses;
  const named = [stage.target, ...(stage.through ?? [])];
  return [...stage.target.keys()].filter(
    (crease) =>
      named.every((target) => Number.isNaN(target[crease]!)) &&
      poses.some(({ angle }) => Math.abs(angle[crease]! - start!.angle[crease]!) > TURNED),
  );
}
