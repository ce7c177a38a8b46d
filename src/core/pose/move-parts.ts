/**
 * A motion of the whole sheet: each tied part goes its own way, as if it were alone, and the ways are laid side by
 * side in time. What no part holds stays to the last bit.
 */
import { ARRIVED, CLOSED } from '../numeric/tolerance.ts';
import { closureLoops } from '../sheet/loops.ts';
import { PoseCorrector } from './correct.ts';
import { setsToFree } from './free-sets.ts';
import { inTime, lengthOfWay } from './in-time.ts';
import { type MotionEnd, type MotionTask, moveToward } from './motion.ts';
import { type TiedPart, tiedParts } from './parts.ts';
import type { TrackPose } from './track.ts';

/** A motion that is done: its poses after the start, and where it came to rest. */
export interface WayGone {
  readonly poses: readonly TrackPose[];
  readonly end: MotionEnd;
}

/** The way of one part, and what was free in it: 1 per crease. */
interface PartWay extends WayGone {
  readonly part: TiedPart;
  readonly moving: Uint8Array;
}

type WholeTask = Omit<MotionTask, 'loops'>;

/** Yields poses as they are found, those of tries that come to nothing among them. */
export function* moveParts(whole: WholeTask): Generator<TrackPose, WayGone> {
  const parts = tiedParts(closureLoops(whole.sheet), whole.moving, whole.target);
  const ways: PartWay[] = [];
  for (const part of parts) ways.push(yield* movePart(part, whole));
  const poses = ways.length === 1 ? ways[0]!.poses : sideBySide(whole, ways);
  const largest = (of: (end: MotionEnd) => number) => Math.max(0, ...ways.map(({ end }) => of(end)));
  const end: MotionEnd = {
    remaining: largest(({ remaining }) => remaining),
    closure: largest(({ closure }) => closure),
    jumps: ways.flatMap(({ end: { jumps } }) => jumps),
    starts: ways.reduce((sum, { end: { starts } }) => sum + starts, 0),
  };
  return { poses, end };
}

/** Moves one part with as few creases free as lead to the targets, or with all of them where none do. */
function* movePart(part: TiedPart, whole: WholeTask): Generator<TrackPose, PartWay> {
  const task = { ...whole, loops: part.loops };
  const sets = setsToFree(part, whole);
  const isBent = whole.firstBend < whole.start.length;
  for (const moving of isBent ? [] : sets.slice(0, -1)) {
    const way = yield* goOneWay({ ...task, moving, startLimit: 0 });
    if (isThere(way.end)) return { ...way, part, moving };
  }
  const moving = sets.at(-1)!;
  return { ...(yield* goOneWay({ ...task, moving })), part, moving };
}

const isThere = ({ remaining, jumps, closure }: MotionEnd) =>
  remaining < ARRIVED && jumps.length === 0 && closure < CLOSED;

function* goOneWay(task: MotionTask): Generator<TrackPose, WayGone> {
  const motion = moveToward(task);
  const poses: TrackPose[] = [];
  for (;;) {
    const { value, done } = motion.next();
    if (done) return { poses, end: value };
    poses.push(value);
    yield value;
  }
}

/**
 * All ways in one track, each at the same share of its length at the same moment. The moments are those of the longest,
 * so that no other changes by more between two of them; where it has no pose of its own, its neighbours are blended
 * and brought to closure.
 */
function sideBySide({ sheet, start }: WholeTask, ways: readonly PartWay[]): TrackPose[] {
  const tracks = ways.map(({ poses }) => inTime([{ at: 0, angle: start }, ...poses]));
  const lengths = tracks.map(lengthOfWay);
  const longest = tracks[lengths.indexOf(Math.max(...lengths))] ?? [];
  const correctors = ways.map(({ part, moving }) => new PoseCorrector(sheet, moving, part.loops));
  return longest.slice(1).map(({ at }) => {
    const angle = start.slice();
    ways.forEach(({ part }, k) => {
      const own = poseAt(tracks[k]!, at, correctors[k]!);
      for (const e of part.creases) angle[e] = own[e]!;
    });
    return { at, angle };
  });
}

function poseAt(track: readonly TrackPose[], at: number, corrector: PoseCorrector): Float64Array {
  const after = Math.max(
    0,
    track.findIndex((pose) => pose.at >= at),
  );
  const [a, b] = [track[Math.max(0, after - 1)]!, track[after]!];
  if (b.at === at || a === b) return b.angle;
  const share = (at - a.at) / (b.at - a.at);
  return corrector.correct(a.angle.map((angle, e) => angle + share * (b.angle[e]! - angle))).angle;
}
