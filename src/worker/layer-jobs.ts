/** Does what the page asks of the worker of layers. Each job runs to its end; to cancel, the worker is ended. */
import { groupByPlane } from '../core/layer/planes.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { layersOfStep } from '../core/lesson/step-layers.ts';
import { placePanels } from '../core/pose/place.ts';
import type { LayerAnswer, LayerRequest } from './layer-protocol.ts';

/** Counting orders ends after so many seconds on screen; what was counted is then said to be "at least". */
const COUNT_SECONDS = 4;

export function takeLayerRequest(request: LayerRequest): LayerAnswer {
  const { job } = request;
  try {
    if (request.kind === 'step') {
      const until = Date.now() + 1000 * COUNT_SECONDS;
      return { kind: 'layers', job, layers: layersOfStep(request.motion, () => Date.now() > until) };
    }
    const { sheet, angle, still, order } = request;
    const planes = groupByPlane(sheet, placePanels(sheet, angle, still));
    return { kind: 'stacks', job, stacks: stacksOf(planes, order) };
  } catch (error) {
    return { kind: 'broke', job, message: error instanceof Error ? error.message : String(error) };
  }
}
