/**
 * A lesson carried out, step after step: each from the pose and the layers that the one before left. Screen, workers and
 * command line do the same in parts (`foldStep`, `lookAtStep`) and read the same answers.
 */
import { type Finding, finding } from '../finding/finding.ts';
import type { LayerOrder } from '../layer/problem.ts';
import { type FoldOptions, foldStep } from '../pose/fold-step.ts';
import type { Stage, StepTrack, TrackPose } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type LookTask, lookAtStep, type StepLook } from './look.ts';
import type { Plan, PlannedStep } from './plan.ts';
import { creasesShort, shortFindings } from './short.ts';
import { endOfStep, lookTask, ownAngles, stoppedTrack } from './step.ts';
import { type Broken, isBroken, type MotionKnown, type StepEnd, verdictOfStep } from './step-known.ts';
import { taughtAgain } from './taught.ts';
import { type Verdict, worstOf } from './verdict.ts';

export interface RunOptions extends Pick<FoldOptions, 'bend' | 'free'> {
  /** Layers and contact are left out. */
  readonly motionOnly?: boolean;
  /** Seconds for each question; without end where left out. */
  readonly seconds?: number;
  /** Called now and then while it works. */
  readonly alive?: () => void;
}

export interface StepRun {
  readonly step: PlannedStep;
  /** Pose at its start. */
  readonly start: Float64Array;
  readonly track: StepTrack;
  readonly end: StepEnd;
  /** Null where it was not asked for, or where no state closes. */
  readonly look: StepLook | null;
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
}

export interface Run {
  readonly plan: Plan;
  /** The steps up to the first that fails. */
  readonly steps: readonly StepRun[];
  readonly verdict: Verdict;
  /** Creases that the last step leaves away from their finished angles. */
  readonly short: readonly number[];
  /** Of the sheet, of the lesson and of all its steps. */
  readonly findings: readonly Finding[];
}

/** Carries out a plan; after a step that fails nothing is known, and nothing looked at. */
export function runPlan(plan: Plan, options: RunOptions): Run {
  const steps: StepRun[] = [];
  let start: Float64Array = new Float64Array(plan.sheet.creaseKind.length);
  let before: LayerOrder = [];
  for (const number of plan.steps.keys()) {
    const done = runStep(plan, number, start, before, options);
    steps.push(done);
    if (done.verdict.moves === 'no' || done.verdict.moves === 'gave-up') break;
    start = ownAngles(plan.sheet, done.track.poses.at(-1)!.angle);
    // where the layers cannot be told, what was known of them is kept
    if (done.look) before = done.look.known;
  }
  // only a run that came to its end can be held against the end of the pattern
  const last = steps.length === plan.steps.length ? steps.at(-1) : undefined;
  const arrives = last && !last.end.alone && last.verdict.moves !== 'no';
  const short = arrives ? creasesShort(plan.sheet, last.end.angle) : [];
  const told = plan.lesson
    ? taughtAgain(plan.findings, plan.lesson, plan.sheet, steps.map(endReached))
    : plan.findings;
  return {
    ...{ plan, steps, short },
    verdict: worstOf(steps.map(({ verdict }) => verdict)),
    findings: [
      ...told,
      ...(arrives ? shortFindings(plan.sheet, last.end.angle, told) : []),
      ...steps.flatMap(({ findings }) => findings),
    ],
  };
}

/** Where paper got to in a step that went to its end. */
const endReached = ({ end, verdict }: StepRun): Float64Array | undefined =>
  end.alone || verdict.moves === 'no' || verdict.moves === 'gave-up' ? undefined : end.angle;

/** @param start pose at its start @param before layer order there */
export function runStep(
  plan: Plan,
  number: number,
  start: Float64Array,
  before: LayerOrder,
  options: RunOptions,
): StepRun {
  const step = plan.steps[number]!;
  return looked(
    plan,
    number,
    { start, before },
    trackOf(plan.sheet, start, step.stage, plan, options),
    options,
  );
}

/** The rest of a step whose track is known. */
export function looked(
  plan: Plan,
  number: number,
  { start, before }: { readonly start: Float64Array; readonly before: LayerOrder },
  track: StepTrack,
  options: RunOptions,
): StepRun {
  const step = plan.steps[number]!;
  const { angle, ...facts } = endOfStep(plan.sheet, step.stage, track);
  const task = options.motionOnly ? null : lookTask(plan, number, track, before);
  const look = task && lookOrWhy(task, options);
  const motion: MotionKnown = { report: track.report, end: facts };
  return {
    ...{ step, start, track },
    look: isBroken(look) ? null : look,
    end: { angle, ...facts },
    verdict: verdictOfStep({ motion, look }),
    findings: [...track.report.findings, ...(isBroken(look) ? [brokeFinding(look)] : (look?.findings ?? []))],
  };
}

/** What fails on the way costs the answer to this question, not the run. */
function lookOrWhy(task: LookTask, { seconds, alive }: RunOptions): StepLook | Broken {
  try {
    return lookAtStep(task, () => clock(seconds, alive));
  } catch (error) {
    return { broke: error instanceof Error ? error.message : String(error) };
  }
}

const brokeFinding = ({ broke: why }: Broken): Finding => finding('run-broke', 'error', { why });

/** The motion of a step, within its time. */
export function trackOf(
  sheet: Sheet,
  start: Float64Array,
  stage: Stage,
  { sheetSize }: Pick<Plan, 'sheetSize'>,
  { bend, free, seconds, alive }: RunOptions,
): StepTrack {
  const motion = foldStep(sheet, start, stage, { bend, free, sheetSize: sheetSize ?? undefined });
  const outOfTime = clock(seconds, alive);
  const poses: TrackPose[] = [{ at: 0, angle: start }];
  for (;;) {
    const { value, done } = motion.next();
    if (done) return value;
    if (value.angle.length === start.length && value.at > poses.at(-1)!.at) poses.push(value);
    if (outOfTime()) return stoppedTrack(sheet, poses);
  }
}

/** Says that time is up after so many seconds from now; never where they are left out. @param alive called when it is asked */
export function clock(seconds: number | undefined, alive: () => void = () => {}): () => boolean {
  const until = seconds === undefined ? Number.POSITIVE_INFINITY : Date.now() + 1000 * seconds;
  return () => {
    alive();
    return Date.now() > until;
  };
}
