/**
 * A motion toward given fold angles. From where the paper is, every driven crease is drawn a little further toward
 * its target, in proportion to what it still has to go; the nearest closing pose becomes the next pose. The
 * distance to the targets falls, but for what bringing a pose to closure costs, so the motion either arrives or comes to rest where no further motion was found.
 * Frames are halved until neighbouring poses lie close together; what still jumps is reported, not hidden.
 */

import { seededRandom } from '../numeric/random.ts';
import { ARRIVED, CLOSED, JUMP, TRACK_STEP } from '../numeric/tolerance.ts';
import type { Loop } from '../sheet/loops.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { rangeFrom } from './moving.ts';
import { type Goal, PoseSolver } from './solve.ts';
import type { TrackPose } from './track.ts';

/** What moves, how, and how stiffly. One entry per crease of the sheet. */
export interface MotionTask {
  readonly sheet: Sheet;
  /** The walks that must close: all that a moving crease is part of, at least. */
  readonly loops: readonly Loop[];
  /** Pose to start from; it should close. */
  readonly start: Float64Array;
  /** 1 for creases that may move; the others keep their angles to the last bit. */
  readonly moving: Uint8Array;
  /** Angle to reach, NaN for creases that follow. */
  readonly target: Float64Array;
  /** 1 for creases that run to their target exactly. */
  readonly exact: Uint8Array;
  /** Kinds do not bound the sign. */
  readonly free: boolean;
  /** 1 for creases that their kind does not bound either way. */
  readonly bothWays?: Uint8Array;
  /** Stiffness of bend lines (creases from `firstBend` on), as weight toward angle 0. */
  readonly firstBend: number;
  readonly bendWeight: number;
  readonly seed: number;
  /** Most random starts when the motion rests short of its targets. */
  readonly startLimit: number;
}

export interface MotionEnd {
  /** Largest distance of a drive to its target, radians. */
  readonly remaining: number;
  readonly closure: number;
  /** Moments (0 to 1 of the way gone) at which neighbouring poses differ by more than JUMP, with the crease. */
  readonly jumps: readonly { at: number; crease: number; change: number }[];
  readonly starts: number;
}

/** Weight of creases that only follow, against 1 for driven ones: enough to keep them where nothing moves them. */
const FOLLOW = 1e-3;
/** First frame away from the flat state, and the shortest frame before a jump is admitted. Radians. */
const FIRST_FRAME = (0.5 * Math.PI) / 180;
const SHORTEST_FRAME = TRACK_STEP / 512;
const FRAME_LIMIT = 4000;
/** Frames without getting nearer by a hundredth of the distance before a motion counts as at rest. */
const PATIENCE = 80;
/** A frame is found when its steps are shorter than this; where exactly it lies between its neighbours is no matter. */
const ENOUGH = 1e-5;

export function* moveToward(task: MotionTask): Generator<TrackPose, MotionEnd> {
  return yield* new Motion(task).run();
}

class Motion {
  private readonly task: MotionTask;
  private readonly solver: PoseSolver;
  private readonly goal: Goal;
  private readonly driven: Int32Array;
  private readonly random: () => number;
  private angle: Float64Array;
  private gone = 0;
  private frame = FIRST_FRAME;
  private readonly lastChange: Float64Array;
  /** What the last frame asked of each drive, radians, and 1 where a drive hardly followed it. */
  private readonly asked: Float64Array;
  private readonly held: Uint8Array;
  private lastFrame = 0;
  private starts = 0;
  private readonly jumps: { at: number; crease: number; change: number }[] = [];

  constructor(task: MotionTask) {
    this.task = task;
    const { sheet, loops, moving, exact, target } = task;
    const adapting = moving.map((m, e) => (m && !exact[e] ? 1 : 0));
    this.solver = new PoseSolver(sheet, adapting, loops);
    const { creaseOf, size } = this.solver.system;
    this.goal = {
      goal: new Float64Array(size),
      weight: new Float64Array(size).fill(FOLLOW),
      lower: new Float64Array(size),
      upper: new Float64Array(size),
    };
    for (let u = 0; u < size; u++) {
      const e = creaseOf[u]!;
      const bend = e >= task.firstBend;
      const unbound = bend || task.free || task.bothWays?.[e] === 1;
      const [lower, upper] = rangeFrom(task.start[e]!, sheet.creaseKind[e]!, unbound);
      this.goal.lower[u] = lower;
      this.goal.upper[u] = upper;
      if (bend) this.goal.weight[u] = task.bendWeight;
      else if (!Number.isNaN(target[e]!)) this.goal.weight[u] = 1;
    }
    this.driven = Int32Array.from(
      [...target.keys()].filter((e) => moving[e] === 1 && !Number.isNaN(target[e]!)),
    );
    this.random = seededRandom(task.seed);
    this.angle = task.start.slice();
    this.lastChange = new Float64Array(this.angle.length);
    this.asked = new Float64Array(this.angle.length);
    this.held = new Uint8Array(this.angle.length);
  }

  *run(): Generator<TrackPose, MotionEnd> {
    let rests = 0;
    let nearest = this.distance(this.angle);
    let sinceNearest = 0;
    for (let k = 0; k < FRAME_LIMIT; k++) {
      const remaining = this.remaining(this.angle);
      if (remaining < ARRIVED) break;
      const next = this.nextPose();
      if (!next) {
        if (!this.restart()) break;
        yield this.here();
        continue;
      }
      const { largest, crease } = this.largestChange(next, this.angle);
      if (largest > JUMP) {
        // paper does not leap: the motion ends here
        this.jumps.push({ at: this.fractionGone(remaining), crease, change: largest });
        break;
      }
      if (largest < 1e-3 * this.frame) {
        // at rest short of the targets: another way round may lead on
        if (++rests < 2) continue;
        if (!this.restart()) break;
        yield this.here();
        continue;
      }
      rests = 0;
      this.accept(next, largest);
      yield this.here();
      // a motion that goes round without getting nearer will not arrive
      const distance = this.distance(this.angle);
      if (distance < 0.99 * nearest) {
        nearest = distance;
        sinceNearest = 0;
      } else if (++sinceNearest > PATIENCE) {
        if (!this.restart()) break;
        yield this.here();
        sinceNearest = 0;
      }
    }
    const before = this.angle;
    const closure = this.finish();
    if (this.largestChange(this.angle, before).largest > 0) yield { at: 1, angle: this.angle.slice() };
    return {
      remaining: this.remaining(this.angle),
      closure,
      jumps: this.jumps,
      starts: this.starts,
    };
  }

  private here(): TrackPose {
    return { at: this.fractionGone(this.remaining(this.angle)), angle: this.angle.slice() };
  }

  private fractionGone(remaining: number): number {
    return this.gone / (this.gone + remaining);
  }

  private remaining(angle: Float64Array): number {
    let most = 0;
    for (const e of this.driven) most = Math.max(most, Math.abs(this.task.target[e]! - angle[e]!));
    return most;
  }

  private largestChange(a: Float64Array, b: Float64Array): { largest: number; crease: number } {
    let largest = 0;
    let crease = 0;
    for (let e = 0; e < a.length; e++) {
      const d = Math.abs(a[e]! - b[e]!);
      if (d > largest) {
        largest = d;
        crease = e;
      }
    }
    return { largest, crease };
  }

  private accept(next: Float64Array, largest: number): void {
    for (let e = 0; e < next.length; e++) {
      this.lastChange[e] = next[e]! - this.angle[e]!;
      this.held[e] = Math.abs(this.lastChange[e]!) < 0.1 * Math.abs(this.asked[e]!) ? 1 : 0;
    }
    this.lastFrame = this.frame;
    this.angle = next;
    this.gone += largest;
    if (largest < 0.7 * TRACK_STEP) this.frame = Math.min(TRACK_STEP, this.frame * 1.6);
  }

  /** Solves for the next pose, with a shorter frame as long as it would leap. Undefined: no pose found at all. */
  private nextPose(): Float64Array | undefined {
    for (;;) {
      const next = this.lastFrame === 0 ? this.leave() : this.tryFrame(ENOUGH);
      const leap = next === undefined || this.largestChange(next, this.angle).largest > 1.25 * TRACK_STEP;
      if (!leap) return next;
      if (this.frame <= SHORTEST_FRAME) return next;
      this.frame /= 2;
      this.solver.multiplier.fill(0);
    }
  }

  /** The nearest closing pose to one a frame further; `kick` moves where the search starts. Undefined: none found. */
  private tryFrame(enough: number, kick?: Float64Array): Float64Array | undefined {
    this.askFrame();
    const straight = kick ? undefined : this.straightOn();
    if (straight) return straight;
    const { target, sheet, exact } = this.task;
    const { creaseOf, size } = this.solver.system;
    const next = this.angle.slice();
    const carry = this.lastFrame > 0 ? Math.min(1.5, this.frame / this.lastFrame) : 0;
    const leaving = this.lastFrame === 0;
    for (let u = 0; u < size; u++) {
      const e = creaseOf[u]!;
      const here = this.angle[e]!;
      const wanted = target[e]!;
      if (e >= this.task.firstBend) {
        this.goal.goal[u] = 0;
        next[e] = here + carry * this.lastChange[e]!;
      } else if (Number.isNaN(wanted)) {
        this.goal.goal[u] = here;
        // leaving the flat state a follower starts off the way its kind asks for
        const finished = sheet.creaseAngle[e]!;
        const seed = leaving && here === 0 && !Number.isNaN(finished) ? (this.frame / Math.PI) * finished : 0;
        next[e] = here + seed + carry * this.lastChange[e]!;
      } else {
        this.goal.goal[u] = here + this.asked[e]!;
        next[e] = leaving ? this.goal.goal[u]! : here + carry * this.lastChange[e]!;
      }
      if (kick) next[e]! += kick[u]!;
    }
    for (const e of this.driven) if (exact[e]) next[e] = this.angle[e]! + this.asked[e]!;
    const solved = this.solver.solve(next, this.goal, { enough });
    return solved.closure > this.closeEnough(next) ? undefined : next;
  }

  /** What is asked, taken as it is, where that closes: so it does in a fold through all layers. */
  private straightOn(): Float64Array | undefined {
    const { system } = this.solver;
    const { lower, upper } = this.goal;
    // a panel that is bent is to be let straighten
    if (this.task.firstBend < this.angle.length) return undefined;
    const next = this.angle.slice();
    for (const e of this.driven) {
      next[e]! += this.asked[e]!;
      const u = system.unknownOf[e]!;
      if (u !== NONE && (next[e]! < lower[u]! || next[e]! > upper[u]!)) return undefined;
    }
    system.evaluate(next);
    return system.largest() > this.closeEnough(next) ? undefined : next;
  }

  /**
   * The first frame. The nearest pose may leave some creases unfolded although all can start together, each its own
   * way. Then the frame is sought from within: the sum of the logarithms of the angles is made large instead, by
   * solves whose weights are its second derivative, and a frame in which every drive starts is taken.
   */
  private leave(): Float64Array | undefined {
    const first = this.tryFrame(ENOUGH);
    if (!first || this.allStart(first)) return first;
    const { creaseOf, size } = this.solver.system;
    const { goal, weight } = this.goal;
    const usual = weight.slice();
    const limit = Math.max(4, Math.min(40, Math.floor(2000 / size)));
    const pose = this.angle.slice();
    for (const e of this.driven) pose[e]! += this.asked[e]!;
    for (let tries = 0; tries < limit; tries++) {
      const next = pose.slice();
      for (let u = 0; u < size; u++) {
        const e = creaseOf[u]!;
        const asked = this.asked[e]!;
        if (asked === 0) continue;
        // no angle shrinks to less than a third of what it was, so that the weights stay finite
        const step = pose[e]! - this.angle[e]!;
        const kept = Math.sign(asked) * Math.max(Math.abs(step), 1e-3 * this.frame);
        goal[u] = this.angle[e]! + 2 * kept;
        weight[u] = (this.frame / kept) ** 2;
        next[e] = this.angle[e]! + kept;
      }
      this.solver.multiplier.fill(0);
      const solved = this.solver.solve(next, this.goal, { enough: ENOUGH });
      if (solved.closure > this.closeEnough(next)) break;
      for (const e of this.driven) {
        const third = (pose[e]! - this.angle[e]!) / 3;
        const now = next[e]! - this.angle[e]!;
        pose[e] = this.angle[e]! + (Math.abs(now) > Math.abs(third) ? now : third);
      }
      if (!this.allStart(next)) continue;
      weight.set(usual);
      this.solver.multiplier.fill(0);
      return this.largestChange(next, this.angle).largest < TRACK_STEP ? next : first;
    }
    weight.set(usual);
    this.solver.multiplier.fill(0);
    return first;
  }

  /** Near flat closure is of second order, so that tiny folds of any kind nearly close: there it must be as small. */
  private closeEnough(pose: Float64Array): number {
    const folded = pose.reduce((most, angle) => Math.max(most, Math.abs(angle)), 0);
    return Math.min(0.1 * CLOSED, 1e-6 * folded * folded + 1e-15);
  }

  private allStart(pose: Float64Array): boolean {
    return this.driven.every((e) => {
      const asked = Math.abs(this.asked[e]!);
      return Math.abs(pose[e]! - this.angle[e]!) >= 1e-3 * Math.min(this.frame, asked);
    });
  }

  /**
   * How far each drive is asked to go in a frame of the present length: in proportion to what it still has to go,
   * the furthest by the whole frame. Drives that did not follow the last frame do not slow down the others.
   */
  private askFrame(): void {
    const { target } = this.task;
    let furthest = 0;
    for (const e of this.driven)
      if (!this.held[e]) furthest = Math.max(furthest, Math.abs(target[e]! - this.angle[e]!));
    if (furthest < ARRIVED) furthest = this.remaining(this.angle);
    const fraction = Math.min(1, this.frame / furthest);
    for (const e of this.driven) {
      const wanted = fraction * (target[e]! - this.angle[e]!);
      this.asked[e] = Math.max(-this.frame, Math.min(this.frame, wanted));
    }
  }

  /** Tries to leave a resting place by small random starts. Keeps the first that gets nearer to the targets. */
  private restart(): boolean {
    const here = this.distance(this.angle);
    while (this.starts < this.task.startLimit) {
      this.starts++;
      this.solver.multiplier.fill(0);
      const size = TRACK_STEP * (0.1 + 0.5 * this.random());
      const kick = Float64Array.from({ length: this.solver.size }, () => size * (2 * this.random() - 1));
      const next = this.tryFrame(ENOUGH, kick);
      if (!next) continue;
      const { largest } = this.largestChange(next, this.angle);
      if (largest > 1.25 * TRACK_STEP || this.distance(next) > here * (1 - 1e-4)) continue;
      this.accept(next, largest);
      return true;
    }
    return false;
  }

  private distance(angle: Float64Array): number {
    let sum = 0;
    for (const e of this.driven) sum += (this.task.target[e]! - angle[e]!) ** 2;
    return sum;
  }

  /**
   * From nearly there to there: repeats the last solve, then sets drives to their targets, and creases that are
   * all but flat or all but folded to just that, where the pose closes no worse for it. (Near a half turn closure
   * is of second order, so it alone leaves such angles a few millionths of a radian off.)
   */
  private finish(): number {
    if (this.remaining(this.angle) > 10 * ARRIVED) return this.solver.close(this.angle, this.goal);
    this.frame = TRACK_STEP;
    for (let k = 0; k < 3; k++) {
      const next = this.tryFrame(1e-10);
      if (!next || this.largestChange(next, this.angle).largest > TRACK_STEP) break;
      this.angle = next;
    }
    const plain = this.solver.close(this.angle, this.goal);
    const exactly = this.angle.slice();
    for (const e of this.driven) exactly[e] = this.task.target[e]!;
    for (const e of this.solver.system.creaseOf) {
      const full = Math.PI * Math.round(exactly[e]! / Math.PI);
      if (Math.abs(exactly[e]! - full) < 10 * ARRIVED) exactly[e] = full;
    }
    for (const pose of [this.withFollowersBack(exactly), exactly]) {
      const snapped = this.solver.close(pose, this.goal);
      if (snapped > Math.max(plain, 1e-14)) continue;
      this.angle = pose;
      return snapped;
    }
    return plain;
  }

  /** Creases that nothing had to move may have wandered a little on the way: back to where the step found them. */
  private withFollowersBack(pose: Float64Array): Float64Array {
    const { start, target, firstBend } = this.task;
    return pose.map((angle, e) =>
      e < firstBend && Number.isNaN(target[e]!) && Math.abs(angle - start[e]!) < TRACK_STEP
        ? start[e]!
        : angle,
    );
  }
}
