/** One step of a run: its motion, and the state it is about. */
import { finding } from '../finding/finding.ts';
import type { LayerOrder } from '../layer/problem.ts';
import { CLOSED } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { countFreedoms } from '../pose/freedoms.ts';
import { foldingCreases } from '../pose/moving.ts';
import type { Stage, StepTrack, TrackPose } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { LookTask } from './look.ts';
import type { Plan } from './plan.ts';
import type { StepEnd } from './step-known.ts';

export function endOfStep(sheet: Sheet, { target }: Stage, { poses, report }: StepTrack): StepEnd {
  const last = ownAngles(sheet, poses.at(-1)!.angle);
  const arrived = report.outcome === 'rigid' || report.outcome === 'bends';
  const asked = last.map((angle, crease) => (Number.isNaN(target[crease]!) ? angle : target[crease]!));
  if (closureOfPose(sheet, asked).largest < CLOSED)
    return { angle: asked, closes: true, deviation: 0, alone: !arrived };
  if (!arrived && namesAll(sheet, target)) return { angle: asked, closes: false, deviation: 0, alone: true };
  return { angle: last, closes: true, deviation: report.deviation, alone: false };
}

/** The look that a finished track wants; null where there is no state to look at. */
export function lookTask(plan: Plan, number: number, track: StepTrack, before: LayerOrder): LookTask | null {
  const step = plan.steps[number]!;
  const { angle, closes, alone } = endOfStep(plan.sheet, step.stage, track);
  return closes ? { plan, step, number, track, before, state: alone ? angle : null } : null;
}

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
const namesAll = (sheet: Sheet, target: Float64Array): boolean =>
  foldingCreases(sheet).every((folds, crease) => !folds || !Number.isNaN(target[crease]!));
