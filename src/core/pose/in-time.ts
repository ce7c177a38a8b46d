import type { TrackPose } from './track.ts';

/** The poses with their moments in proportion to the largest change of an angle, from 0 to 1. */
export function inTime(poses: readonly TrackPose[]): TrackPose[] {
  const gone = distancesGone(poses);
  const total = gone[gone.length - 1]!;
  return poses.map(({ angle }, k) => ({ at: total > 0 ? gone[k]! / total : k === 0 ? 0 : 1, angle }));
}

/** How far it is from the first pose to the last: the largest changes of an angle between neighbours, radians in all. */
export const lengthOfWay = (poses: readonly TrackPose[]): number => distancesGone(poses).at(-1) ?? 0;

function distancesGone(poses: readonly TrackPose[]): number[] {
  const gone: number[] = [];
  poses.forEach(({ angle }, k) => {
    const before = poses[k - 1]?.angle ?? angle;
    const largest = angle.reduce((most, a, e) => Math.max(most, Math.abs(a - before[e]!)), 0);
    gone.push((gone[k - 1] ?? 0) + largest);
  });
  return gone;
}
