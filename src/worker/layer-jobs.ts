/** Does what the page asks of the worker of layers. Each job runs to its end; to cancel, the worker is ended. */
import { tellingPlane } from '../core/layer/choices.ts';
import { leavesOf } from '../core/layer/leaves.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import type { LayerOrder } from '../core/layer/problem.ts';
import { type Section, sectionOf } from '../core/layer/section.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { layersOfStep } from '../core/lesson/step-layers.ts';
import { placePanels } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';

/** Each question about layers ends after so many seconds on screen; what was counted is then said to be "at least". */
const SECONDS = 4;

function startClock(): () => boolean {
  const until = Date.now() + 1000 * SECONDS;
  return () => Date.now() > until;
}

export function takeLayerRequest(request: LayerRequest): LayerAnswer {
  const { job } = request;
  try {
    if (request.kind === 'step') {
      return { kind: 'layers', job, layers: layersOfStep(request.motion, startClock) };
    }
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
