/**
 * One step of a lesson, folded: the motion from a pose to the angles asked for, and an honest answer how it went.
 * First as rigid panels. Where that fails and bending is allowed, again with bend lines, several ways of laying
 * them, stiff ones first. Where that fails too, the answer is `fails`, with the width of the tear.
 */

import { seededRandom } from '../numeric/random.ts';
import { ARRIVED, CLOSED, MISS } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { addBendLines, type BentSheet, bendOf, unbent } from './bend-lines.ts';
import { ClosureSystem } from './closure.ts';
import { countFreedoms } from './freedoms.ts';
import { inTime } from './in-time.ts';
import type { MotionEnd } from './motion.ts';
import { moveParts, type WayGone } from './move-parts.ts';
import { foldingCreases } from './moving.ts';
import { forcedTear, noTear } from './tear.ts';
import type { Outcome, Stage, StepTrack, TrackPose } from './track.ts';
import { describeMotion } from './verdict.ts';

export interface FoldOptions {
  /** Try with bend lines where the rigid motion fails. */
  readonly bend: boolean;
  /** Mountain and valley do not bound the sign of an angle. */
  readonly free: boolean;
  /** Seed of the random starts, and how many the rigid motion may use. */
  readonly seed?: number;
  readonly startLimit?: number;
  /** Length of the sheet's longer side in mm, for findings that state a width in mm. */
  readonly sheetSize?: number;
}

const defaultSeed = 20107;
/** Random starts that a motion at rest may use: fewer on large sheets, where each costs more. */
const startsFor = (creases: number) => Math.max(8, Math.min(64, Math.floor(4000 / creases)));
const degrees = 180 / Math.PI;

/**
 * Yields poses as they are found and returns the finished track. Stop iterating to cancel.
 * @param start fold angle per crease, a pose that closes
 */
export function* foldStep(
  sheet: Sheet,
  start: Float64Array,
  stage: Stage,
  options: FoldOptions,
): Generator<TrackPose, StepTrack> {
  const begin = [{ at: 0, angle: start.slice() }];
  // on a way that is laid out, what stays as it is stays exactly so; where that leaves no way, it may give
  let rigid = yield* attempt(unbent(sheet), begin, stage, options, 0, stage.through !== undefined);
  if (!arrived(rigid.end) && stage.through) rigid = yield* attempt(unbent(sheet), begin, stage, options, 0);
  if (arrived(rigid.end) || !options.bend) return finishTrack(rigid, stage, options, 'rigid');
  let best: Attempt | undefined;
  for (const way of bendWays(options.seed ?? defaultSeed)) {
    const bent = addBendLines(sheet, way.choose);
    if (bent.bendLines === 0) break;
    // where the stiff paper came to rest, bending takes over
    const tried = yield* attempt(bent, rigid.poses, stage, options, way.weight);
    if (arrived(tried.end) && (!best || tried.peakBend < best.peakBend)) best = tried;
    if (best && way.settle) break;
  }
  return finishTrack(best ?? rigid, stage, options, best ? 'bends' : 'rigid');
}

interface Attempt {
  readonly bent: BentSheet;
  readonly poses: TrackPose[];
  readonly end: MotionEnd;
  readonly peakBend: number;
}

/** Ways to lay bend lines, stiff first; after a way that settles, no further one is tried once one has arrived. */
function bendWays(seed: number) {
  const random = seededRandom(seed + 1);
  const long = (length: number) => -length;
  const short = (length: number) => length;
  const mixed = (length: number) => -length * (0.6 + 0.8 * random());
  const ways: { choose: (length: number) => number; weight: number; settle: boolean }[] = [];
  for (const weight of [1, 0.1, 0.01, 0.001]) {
    for (const choose of [long, short, mixed, mixed, mixed]) ways.push({ choose, weight, settle: false });
    ways.push({ choose: () => random(), weight, settle: true });
  }
  return ways;
}

/**
 * Goes on from the last of the poses given, which become the start of the track. Poses on the way are drawn toward one
 * after the other; where paper does not let itself be drawn as far, the way goes on from where it rests.
 * @param hold creases that are to be at the end of a leg as they are at its start are not drawn but held
 */
function* attempt(
  bent: BentSheet,
  before: readonly TrackPose[],
  stage: Stage,
  options: FoldOptions,
  bendWeight: number,
  hold = false,
): Generator<TrackPose, Attempt> {
  const { sheet } = bent;
  const creases = sheet.creaseKind.length;
  const poses = before.map(({ at, angle }) => ({ at, angle: extend(angle, creases, 0) }));
  let peakBend = 0;
  // bending takes over where stiff paper came to rest, which is past all poses on the way
  const legs = [...(before.length > 1 ? [] : (stage.through ?? [])), stage.target];
  for (let leg = 0; ; leg++) {
    const isLast = leg === legs.length - 1;
    const from = poses[poses.length - 1]!.angle;
    const target = extend(legs[leg]!, creases, Number.NaN);
    const exact = isLast && stage.exact ? extendMarks(stage.exact, creases) : new Uint8Array(creases);
    for (let e = 0; e < creases; e++) if (hold && Math.abs(target[e]! - from[e]!) < ARRIVED) exact[e] = 1;
    const motion = moveParts({
      sheet,
      start: from,
      moving: foldingCreases(sheet),
      target,
      exact,
      free: options.free,
      ...(stage.bothWays ? { bothWays: stage.bothWays } : {}),
      firstBend: creases - bent.bendLines,
      bendWeight,
      seed: options.seed ?? defaultSeed,
      startLimit: options.startLimit ?? startsFor(creases),
    });
    const gone = yield* shareOfWay(motion, leg, legs.length);
    poses.push(...gone.poses);
    for (const { angle } of gone.poses) peakBend = Math.max(peakBend, bendOf(bent, angle, 0).largest);
    if (isLast) return { bent, poses: inTime(poses), end: gone.end, peakBend };
  }
}

/** One leg of several, its moments told as shares of the whole way. */
function* shareOfWay(
  motion: Generator<TrackPose, WayGone>,
  leg: number,
  legs: number,
): Generator<TrackPose, WayGone> {
  for (;;) {
    const { value, done } = motion.next();
    if (done) return value;
    yield { at: (leg + value.at) / legs, angle: value.angle };
  }
}

function extend(values: Float64Array, length: number, filler: number): Float64Array {
  const result = new Float64Array(length).fill(filler);
  result.set(values);
  return result;
}

function extendMarks(values: Uint8Array, length: number): Uint8Array {
  const result = new Uint8Array(length);
  result.set(values);
  return result;
}

function arrived(end: MotionEnd): boolean {
  return end.remaining < MISS && end.jumps.length === 0 && end.closure < CLOSED;
}

function finishTrack(tried: Attempt, stage: Stage, options: FoldOptions, success: Outcome): StepTrack {
  const { bent, end, poses } = tried;
  const outcome: Outcome = arrived(end) ? success : 'fails';
  const last = poses[poses.length - 1]!.angle;
  const closure = largestClosure(bent.sheet, poses);
  const tear = outcome === 'fails' ? forcedTear(bent.sheet, last, stage, options.free) : noTear;
  const bendAtEnd = bendOf(bent, last, 0).largest;
  return {
    sheet: bent.sheet,
    bendLines: bent.bendLines,
    panelOf: bent.panelOf,
    poses,
    report: {
      outcome,
      closure,
      deviation: end.remaining * degrees,
      bendDegrees: tried.peakBend * degrees,
      bendAtEnd: bendAtEnd * degrees,
      jumps: end.jumps.length,
      freedoms: countFreedoms(bent.sheet, last),
      tear: tear.gap,
      starts: end.starts,
      seed: options.seed ?? defaultSeed,
      findings: describeMotion({
        bent,
        end,
        poses,
        stage,
        outcome,
        tear,
        peakBend: tried.peakBend,
        sheetSize: options.sheetSize,
        bendTried: options.bend,
      }),
    },
  };
}

function largestClosure(sheet: Sheet, poses: readonly TrackPose[]): number {
  const system = new ClosureSystem(sheet, new Uint8Array(sheet.creaseKind.length));
  let most = 0;
  for (const { angle } of poses) {
    system.evaluate(angle);
    most = Math.max(most, system.largest());
  }
  return most;
}
