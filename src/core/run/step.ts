/** One step of a run: its motion, the state it is about, and the answers to its questions. */
import { finding } from '../finding/finding.ts';
import type { LayerOrder } from '../layer/problem.ts';
import { CLOSED, MISS } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { countFreedoms } from '../pose/freedoms.ts';
import { foldingCreases } from '../pose/moving.ts';
import type { Stage, StepTrack, TrackPose } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { LookTask, StepLook } from './look.ts';
import type { Plan } from './plan.ts';
import { type Reply, type Verdict, verdictOf } from './verdict.ts';

/** Something that failed although no finding describes it, such as a worker that could not be loaded. */
export interface Broken {
  readonly broke: string;
}

export const isBroken = (known: unknown): known is Broken =>
  typeof known === 'object' && known !== null && 'broke' in known;

/** All that is known of a step so far; null: not looked at yet. */
export interface StepKnown {
  readonly motion: MotionKnown | Broken | null;
  readonly look: StepLook | Broken | null;
}

/** What the motion of a step has to say, without its poses. */
export interface MotionKnown {
  readonly report: StepTrack['report'];
  readonly end: Omit<StepEnd, 'angle'>;
}

/**
 * The state that a step is about: where its track ends; or what was asked, where that is a state of its own and no
 * motion got there; or where paper came to rest.
 */
export interface StepEnd {
  /** Per crease of the lesson's sheet, radians. */
  readonly angle: Float64Array;
  readonly closes: boolean;
  /** Largest difference from the angles asked for, degrees. */
  readonly deviation: number;
  /** It stands by itself: no motion that was found leads to it. */
  readonly alone: boolean;
}

export function endOfStep(sheet: Sheet, { target }: Stage, { poses, report }: StepTrack): StepEnd {
  const last = ownAngles(sheet, poses.at(-1)!.angle);
  const arrived = report.outcome === 'rigid' || report.outcome === 'bends';
  const asked = last.map((angle, crease) => (Number.isNaN(target[crease]!) ? angle : target[crease]!));
  if (closureOfPose(sheet, asked).largest < CLOSED)
    return { angle: asked, closes: true, deviation: 0, alone: !arrived };
  if (!arrived && namesAll(sheet, target)) return { angle: asked, closes: false, deviation: 0, alone: true };
  return { angle: last, closes: true, deviation: report.deviation, alone: false };
}

const degrees = 180 / Math.PI;

/** The look that a finished track wants; null where there is no state to look at. */
export function lookTask(plan: Plan, number: number, track: StepTrack, before: LayerOrder): LookTask | null {
  const step = plan.steps[number]!;
  const { angle, closes, alone } = endOfStep(plan.sheet, step.stage, track);
  return closes ? { plan, step, number, track, before, state: alone ? angle : null } : null;
}

/** The answers of a step, from what is known of it. */
export function verdictOfStep({ motion, look }: StepKnown): Verdict {
  return verdictOf((question): Reply => {
    if (question === 'layers' || question === 'contact')
      return look === null ? 'not-looked' : isBroken(look) ? 'broke' : look.replies[question];
    if (motion === null) return 'not-looked';
    if (isBroken(motion)) return 'broke';
    const { report, end } = motion;
    if (question === 'closes') return end.closes ? 'yes' : 'no';
    if (question === 'moves') return moved[report.outcome];
    if (end.closes && end.deviation <= MISS * degrees) return 'yes';
    return report.outcome === 'stopped' ? 'gave-up' : 'no';
  });
}

const moved = { rigid: 'yes', bends: 'bends', fails: 'no', stopped: 'gave-up' } as const;

/** A track that was stopped before its motion came to an end: what is known of it so far. */
export function stoppedTrack(sheet: Sheet, poses: readonly TrackPose[]): StepTrack {
  const last = poses.at(-1)!.angle;
  return {
    sheet,
    bendLines: 0,
    panelOf: Int32Array.from(sheet.panelRings.keys()),
    poses,
    report: {
      outcome: 'stopped',
      closure: closureOfPose(sheet, last).largest,
      deviation: 180,
      bendDegrees: 0,
      bendAtEnd: 0,
      jumps: 0,
      freedoms: countFreedoms(sheet, last),
      tear: 0,
      starts: 0,
      seed: 0,
      findings: [finding('motion-stopped', 'error', {})],
    },
  };
}

/** Without the angles of added bend lines. */
export function ownAngles(sheet: Sheet, angle: Float64Array): Float64Array<ArrayBuffer> {
  return Float64Array.from(angle.subarray(0, sheet.creaseKind.length));
}

/** Are all folds told where to go? */
export const namesAll = (sheet: Sheet, target: Float64Array): boolean =>
  foldingCreases(sheet).every((folds, crease) => !folds || !Number.isNaN(target[crease]!));
