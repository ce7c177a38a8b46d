/** Random jumps of the slider: is the pose that a jump lands on the one that a slow walk reaches? */
import { seededRandom } from '../../src/core/numeric/random.ts';
import { PoseCorrector } from '../../src/core/pose/correct.ts';
import type { StepTrack, TrackPose } from '../../src/core/pose/track.ts';
import { foldToFinish } from '../support/fold.ts';
import { foldLesson, sampleLesson } from '../support/lessons.ts';
import { miuraSheet, vertexSheet } from '../support/patterns.ts';

/** Two poses are on one branch when no crease differs by more than this, radians: 0.05 degrees. */
const SAME = (0.05 * Math.PI) / 180;

export interface SliderResult {
  readonly pattern: string;
  readonly jumps: number;
  readonly right: number;
  /** Mean time of one jump, ms: blend and correct. */
  readonly time: number;
}

export function sliderJumps(jumps: number, seed: number): SliderResult[] {
  const pencilCase = sampleLesson('pencil-case');
  const tracks: [string, StepTrack][] = [
    ['Miura 10 x 10', foldToFinish(miuraSheet(10, 10))],
    ['pencil case, first step', foldLesson(pencilCase.sheet, pencilCase.stages.slice(0, 1))[0]!],
    [
      'waterbomb vertex',
      foldToFinish(vertexSheet([45, 90, 45, 45, 90, 45], [-180, 180, 180, -180, 180, 180])),
    ],
  ];
  return tracks.map(([pattern, track], k) => jumpAbout(pattern, track, jumps, seed + k));
}

function jumpAbout(pattern: string, track: StepTrack, jumps: number, seed: number): SliderResult {
  const random = seededRandom(seed);
  const corrector = new PoseCorrector(track.sheet);
  const places = Array.from({ length: jumps }, () => random());
  const start = performance.now();
  const landed = places.map((at) => corrector.correct(blendAt(track.poses, at)).angle);
  const time = (performance.now() - start) / jumps;
  const right = places.filter((at, j) => apart(landed[j]!, walkTo(track, at)) < SAME).length;
  return { pattern, jumps, right, time };
}

function blendAt(poses: readonly TrackPose[], at: number): Float64Array {
  let k = 1;
  while (k < poses.length - 1 && poses[k]!.at < at) k++;
  const share = (at - poses[k - 1]!.at) / (poses[k]!.at - poses[k - 1]!.at);
  const to = poses[k]!.angle;
  return poses[k - 1]!.angle.map((angle, e) => angle + share * (to[e]! - angle));
}

/** The pose at a place by small steps from the baked pose before it, each corrected from the one before. */
function walkTo(track: StepTrack, at: number): Float64Array {
  const { poses } = track;
  let k = 1;
  while (k < poses.length - 1 && poses[k]!.at < at) k++;
  const corrector = new PoseCorrector(track.sheet);
  let here = poses[k - 1]!.angle;
  let before = blendAt(poses, poses[k - 1]!.at);
  for (let step = 1; step <= 20; step++) {
    const next = blendAt(poses, poses[k - 1]!.at + (step / 20) * (at - poses[k - 1]!.at));
    here = corrector.correct(here.map((angle, e) => angle + next[e]! - before[e]!)).angle;
    before = next;
  }
  return here;
}

function apart(a: Float64Array, b: Float64Array): number {
  return a.reduce((most, angle, e) => Math.max(most, Math.abs(angle - b[e]!)), 0);
}
