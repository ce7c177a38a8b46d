/** Does what the page asks of the worker of layers. Each job runs to its end; to cancel, the worker is ended. */
import { tellingPlane } from '../core/layer/choices.ts';
import { leavesOf } from '../core/layer/leaves.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import type { LayerOrder } from '../core/layer/problem.ts';
import type { StartClock } from '../core/layer/roll.ts';
import { type Section, sectionOf } from '../core/layer/section.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { placePanels } from '../core/pose/place.ts';
import { lookAtStep, type StepLook } from '../core/run/look.ts';
import { clock } from '../core/run/run.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';
import { PlanStore } from './plan-store.ts';

/** Each question ends after so many seconds on screen; what was counted until then is said to be "at least". */
const COUNT_SECONDS = 4;
/** What paper meets on its way is watched for longer: where it is not known, nothing can be praised. */
const CONTACT_SECONDS = 60;

/** @param alive called once in a while during long work */
export function takeLayerRequest(request: LayerRequest, alive: () => void = () => {}): LayerAnswer {
  const { job } = request;
  try {
    if (request.kind === 'look') return { kind: 'look', job, look: lookAsAsked(request, alive) };
    const { sheet, angle, still } = request;
    if (request.kind === 'telling') {
      const { orders } = request;
      return { kind: 'telling', job, telling: { sections: tellingSections(sheet, angle, still, orders) } };
    }
    const { order } = request;
    const planes = groupByPlane(sheet, placePanels(sheet, angle, still));
    return { kind: 'stacks', job, stacks: stacksOf(planes, order) };
  } catch (error) {
    return { kind: 'broke', job, message: error instanceof Error ? error.message : String(error) };
  }
}

const plans = new PlanStore();

function lookAsAsked(
  { lesson, step, still, track, state, before }: Extract<LayerRequest, { kind: 'look' }>,
  alive: () => void,
): StepLook {
  const plan = { ...plans.planOf(lesson), still };
  const { sheet } = plan;
  const panelOf = track.panelOf ?? Int32Array.from(sheet.panelRings.keys());
  const own = { sheet: track.sheet ?? sheet, panelOf, poses: track.poses };
  const startClock: StartClock = (question) => {
    const isOver = clock(question === 'contact' ? CONTACT_SECONDS : COUNT_SECONDS);
    return () => {
      alive();
      return isOver();
    };
  };
  return lookAtStep({ plan, step: plan.steps[step]!, number: step, track: own, state, before }, startClock);
}

function tellingSections(
  sheet: Sheet,
  angle: Float64Array,
  still: number,
  orders: readonly LayerOrder[],
): Section[] {
  const placement = placePanels(sheet, angle, still);
  const planes = groupByPlane(sheet, placement);
  const stacks = orders.map((order) => stacksOf(planes, order));
  const plane = tellingPlane(stacks);
  return plane ? stacks.map((one) => sectionOf(placement, leavesOf(sheet, placement, one), plane)) : [];
}
