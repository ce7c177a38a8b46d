/** What folding brings to light: does it close, do its layers have an order, does paper pass paper. */
import type { Finding } from '../core/finding/finding.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { closingAngles } from '../core/run/finished.ts';
import { lookAtStep } from '../core/run/look.ts';
import type { Plan } from '../core/run/plan.ts';
import { clock, runPlan } from '../core/run/run.ts';
import { unclosedFindings } from '../core/run/unclosed.ts';
import { type Verdict, verdictOf, worstOf } from '../core/run/verdict.ts';
import { runOptions } from './fold-plan.ts';
import { knownState } from './layers.ts';
import type { Options } from './options.ts';

interface FoldedCheck {
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
}

/** Of a lesson every step is carried out; of a pattern without steps only its finished state is looked at. */
export function checkFolded(plan: Plan, options: Options): FoldedCheck {
  if (plan.steps.some(({ assumed }) => assumed)) return checkFinished(plan, options);
  const { steps, verdict } = runPlan(plan, { ...runOptions(options), motionOnly: false });
  return { verdict, findings: steps.flatMap(({ findings }) => findings) };
}

function checkFinished(plan: Plan, options: Options): FoldedCheck {
  const { sheet } = plan;
  const finished = knownState(sheet);
  const closing = closingAngles(sheet, finished);
  if (closureOfPose(sheet, closing).largest >= CLOSED) {
    const verdict = verdictOf((question) => (question === 'closes' ? 'no' : 'not-looked'));
    return { verdict, findings: unclosedFindings(sheet, closing) };
  }
  const { angle } = finished;
  const track = { sheet, panelOf: Int32Array.from(sheet.panelRings.keys()), poses: [{ at: 1, angle }] };
  const task = { plan, step: plan.steps[0]!, number: 0, track, state: angle, eitherWay: true, before: [] };
  const { replies, findings } = lookAtStep(task, () => clock(runOptions(options).seconds));
  const known = verdictOf((question) => (question === 'moves' ? 'not-looked' : 'yes'));
  return { verdict: { ...worstOf([known]), ...replies }, findings };
}
