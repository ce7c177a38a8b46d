/** One pose of a plan, asked about: its end, a part of the way there, or with single creases held at an angle. */
import { type Finding, finding } from '../finding/finding.ts';
import { stageOfFinishedAngles } from '../lesson/stages.ts';
import { CLOSED, MISS } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { correctInRange, correctPose } from '../pose/correct.ts';
import { foldingCreases } from '../pose/moving.ts';
import { reaches } from '../pose/reaches.ts';
import type { StepTrack } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Plan, PlannedStep } from './plan.ts';
import { looked, type Run, type RunOptions, runPlan, runStep, type StepRun, trackOf } from './run.ts';
import { ownAngles } from './step.ts';
import { type Verdict, worstOf } from './verdict.ts';

interface Ask {
  /** Share of the way, 0..1; null where the end is meant. */
  readonly part: number | null;
  /** Crease number -> degrees: these are driven exactly, the rest follows. */
  readonly hold: ReadonlyMap<number, number>;
  /** Counted from 1; null: all. */
  readonly step: number | null;
}

/** A pose on a sheet of its own: the plan's, or the same with bend lines. */
export interface SheetPose {
  readonly sheet: Sheet;
  readonly angle: Float64Array;
}

export interface Answered {
  readonly state: SheetPose;
  /** Largest difference between the state and the angles asked for, degrees. */
  readonly deviation: number;
  readonly steps: readonly StepRun[];
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
}

/** @param ask its step, if any, is one of the plan's */
export function answerAsk(plan: Plan, ask: Ask, options: RunOptions): Answered {
  if (ask.step !== null) return askStep(plan, ask.step, ask, options);
  const flat = new Float64Array(plan.sheet.creaseKind.length);
  if (ask.hold.size > 0) {
    const start = ask.part === null ? flat : scaledState(plan, ask.part, options).angle;
    return ended(plan, runHeld(plan, start, ask.hold, options), []);
  }
  if (ask.part === null || ask.part === 1) return askWhole(runPlan(plan, options));
  return askPart(plan, ask.part, options);
}

/** The end of all steps: the finished angles as they are, where the steps end there or where no motion got to them. */
function askWhole({ plan, steps, verdict, findings }: Run): Answered {
  const { sheet } = plan;
  const last = steps.at(-1);
  if (!last) return { state: flatState(sheet), deviation: 0, steps, verdict, findings };
  const finished = finishedAngles(sheet);
  const here = last.end.angle;
  const there = finished !== null && (last.end.alone || largestMiss(finished, here) < MISS);
  if (there && closureOfPose(sheet, finished).largest < CLOSED)
    return { state: { sheet, angle: finished }, deviation: 0, steps, verdict, findings };
  return { ...ended(plan, last, []), steps, verdict, findings };
}

/** The finished angle of every crease, radians; null where one that folds has none. */
function finishedAngles(sheet: Sheet): Float64Array | null {
  const { target } = stageOfFinishedAngles(sheet);
  const folds = foldingCreases(sheet);
  if (target.some((angle, crease) => folds[crease] && Number.isNaN(angle))) return null;
  return target.map((angle) => (Number.isNaN(angle) ? 0 : angle));
}

/** The nearest state that closes to the finished angles scaled, and the motion to it. */
function askPart(plan: Plan, part: number, options: RunOptions): Answered {
  const { sheet } = plan;
  const state = scaledState(plan, part, options);
  const folds = foldingCreases(sheet);
  const target = state.angle.map((angle, crease) => (folds[crease] ? angle : Number.NaN));
  // what is wrong with the finished angles is not asked here
  const there: Plan = { ...plan, findings: [], steps: [assumedStep({ target })] };
  const run = runPlan(there, options);
  const reached = reaches(state.asked, state.angle, part) ? 'yes' : 'no';
  return {
    state: { sheet, angle: state.angle },
    deviation: (largestMiss(state.asked, state.angle) * 180) / Math.PI,
    steps: run.steps,
    verdict: { ...run.verdict, reaches: reached },
    // nor that a part of the way ends short of the whole
    findings: [
      ...run.findings.filter(({ code }) => code !== 'crease-left-short'),
      ...(reached === 'no' ? [missedPart(state, part)] : []),
    ],
  };
}

function missedPart({ asked, angle }: ScaledState, part: number): Finding {
  const creases = [...asked.keys()]
    .filter((crease) => Math.abs(asked[crease]! - angle[crease]!) > MISS)
    .sort((a, b) => Math.abs(asked[b]! - angle[b]!) - Math.abs(asked[a]! - angle[a]!));
  const off = (largestMiss(asked, angle) * 180) / Math.PI;
  const values = { part, by: off, crease: creases[0]! };
  return finding('state-missed', 'error', values, { value: off, creases });
}

interface ScaledState {
  /** The finished angles scaled. */
  readonly asked: Float64Array;
  /** The nearest state that closes. */
  readonly angle: Float64Array;
}

/**
 * Of the state next to the scaled angles and the one that a motion toward them comes to rest at, the one that differs
 * less; both within the range of each kind, unless kinds do not count.
 */
function scaledState(plan: Plan, part: number, options: RunOptions): ScaledState {
  const { sheet } = plan;
  const { target } = stageOfFinishedAngles(sheet);
  const asked = target.map((angle) => (Number.isNaN(angle) ? 0 : part * angle));
  if (closureOfPose(sheet, asked).largest < CLOSED) return { asked, angle: asked };
  const flat = new Float64Array(asked.length);
  const toward = { target: target.map((angle) => part * angle) };
  const rest = endOf(trackOf(sheet, flat, toward, plan, { ...options, bend: false })).angle;
  const { angle: next, closure } = (options.free ? correctPose : correctInRange)(sheet, asked);
  const nearer = closure < CLOSED && squaredMiss(asked, next) < squaredMiss(asked, rest);
  return { asked, angle: nearer ? next : rest };
}

/** One step from where those before it end; creases held at an angle are driven there after it. */
function askStep(plan: Plan, number: number, { part, hold }: Ask, options: RunOptions): Answered {
  const before = runPlan({ ...plan, steps: plan.steps.slice(0, number - 1), findings: [] }, options);
  const last = before.steps.at(-1);
  const broken = last && last.verdict.moves !== 'yes' && last.verdict.moves !== 'bends' ? last : null;
  const start = last
    ? ownAngles(plan.sheet, last.track.poses.at(-1)!.angle)
    : new Float64Array(plan.sheet.creaseKind.length);
  const order = before.steps.findLast(({ look }) => look)?.look?.known ?? [];
  const step = plan.steps[number - 1]!;
  const whole = trackOf(plan.sheet, start, step.stage, plan, options);
  const cut = part !== null && part < 1 ? cutAt(whole, part) : null;
  const run = cut
    ? looked(withStage(plan, number - 1, cut), number - 1, { start, before: order }, cut, options)
    : looked(plan, number - 1, { start, before: order }, whole, options);
  const notes = broken ? broken.findings : [];
  if (hold.size > 0) {
    const held = heldAfter(plan, number - 1, run, hold, options);
    const told = ended(plan, held, [...notes, ...run.findings]);
    const verdicts = [...(broken ? [broken.verdict] : []), run.verdict, held.verdict];
    return { ...told, verdict: worstOf(verdicts), steps: [run, held] };
  }
  const told = ended(plan, run, [...plan.findings.filter(({ code }) => code === 'step-misses'), ...notes]);
  return broken ? { ...told, verdict: worstOf([broken.verdict, told.verdict]), steps: [broken, run] } : told;
}

/** A track up to a part of its way, as if that had been asked for. */
function cutAt(track: StepTrack, part: number): StepTrack {
  const { angle } = poseAlong(track, part);
  const before = track.poses.filter(({ at }) => at < part);
  const poses = [...before, { at: part, angle }].map((pose) => ({
    ...pose,
    at: pose.at / Math.max(part, 1e-9),
  }));
  return { ...track, poses: part > 0 ? poses : [{ at: 0, angle: track.poses[0]!.angle }] };
}

/** The plan with a step that is to go no further than a track does. */
function withStage(plan: Plan, number: number, { poses, report }: StepTrack): Plan {
  const target = ownAngles(plan.sheet, poses.at(-1)!.angle);
  const got = report.outcome === 'rigid' || report.outcome === 'bends';
  const step: PlannedStep = { ...plan.steps[number]!, stage: got ? { target } : plan.steps[number]!.stage };
  return { ...plan, steps: plan.steps.map((one, k) => (k === number ? step : one)) };
}

/** Creases driven exactly, degrees; the rest follows. */
function heldStage(creases: number, hold: ReadonlyMap<number, number>): PlannedStep['stage'] {
  const target = new Float64Array(creases).fill(Number.NaN);
  const exact = new Uint8Array(creases);
  for (const [crease, degrees] of hold) {
    target[crease] = (degrees * Math.PI) / 180;
    exact[crease] = 1;
  }
  return { target, exact };
}

function runHeld(
  plan: Plan,
  start: Float64Array,
  hold: ReadonlyMap<number, number>,
  options: RunOptions,
): StepRun {
  return runStep({ ...plan, steps: [assumedStep(heldStage(start.length, hold))] }, 0, start, [], options);
}

/** Creases driven where a step has led, from its layers: a way that is asked for as the step itself is. */
function heldAfter(
  plan: Plan,
  number: number,
  { track, look }: StepRun,
  hold: ReadonlyMap<number, number>,
  options: RunOptions,
): StepRun {
  const { title, kind } = plan.steps[number]!;
  const start = ownAngles(plan.sheet, track.poses.at(-1)!.angle);
  const step = { title, kind, stage: heldStage(start.length, hold), asked: [], assumed: false };
  const held = { ...plan, steps: plan.steps.map((one, k) => (k === number ? step : one)) };
  return runStep(held, number, start, look?.known ?? [], options);
}

const assumedStep = (stage: PlannedStep['stage']): PlannedStep => ({
  ...{ title: '', kind: 'collapse', asked: [], assumed: true },
  stage,
});

/** The answer that the end of one step gives. Only paper that arrives bent is on a sheet of its own. */
function ended({ sheet }: Plan, run: StepRun, notes: readonly Finding[]): Answered {
  const { end, track } = run;
  return {
    state: track.sheet === sheet ? { sheet, angle: end.angle } : endOf(track),
    deviation: end.alone ? 0 : track.report.deviation,
    steps: [run],
    verdict: run.verdict,
    findings: [...notes, ...run.findings],
  };
}

const flatState = (sheet: Sheet): SheetPose => ({ sheet, angle: new Float64Array(sheet.creaseKind.length) });

const endOf = ({ sheet, poses }: StepTrack): SheetPose => ({ sheet, angle: poses.at(-1)!.angle });

/** The pose at a moment of a track, 0..1: neighbours blended, then brought to closure. */
export function poseAlong(track: StepTrack, at: number): SheetPose {
  const { poses, sheet } = track;
  const after = poses.findIndex((pose) => pose.at >= at);
  const b = poses[after < 0 ? poses.length - 1 : after]!;
  const a = poses[Math.max(0, (after < 0 ? poses.length : after) - 1)]!;
  const share = b.at > a.at ? (at - a.at) / (b.at - a.at) : 0;
  const near = a.angle.map((angle, crease) => angle + Math.min(1, share) * (b.angle[crease]! - angle));
  return { sheet, angle: correctPose(sheet, near).angle };
}

function squaredMiss(asked: Float64Array, reached: Float64Array): number {
  return asked.reduce((sum, angle, crease) => sum + (angle - reached[crease]!) ** 2, 0);
}

/** Largest difference of two poses, radians. */
function largestMiss(asked: Float64Array, reached: Float64Array): number {
  return asked.reduce((most, angle, crease) => Math.max(most, Math.abs(angle - reached[crease]!)), 0);
}
