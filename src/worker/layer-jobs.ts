/** Does what the page asks of the worker of layers. Each job runs to its end; to cancel, the worker is ended. */
import { finding } from '../core/finding/finding.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import { rollForward } from '../core/layer/roll.ts';
import { stacksOf } from '../core/layer/stacks.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { placePanels } from '../core/pose/place.ts';
import type { LayerAnswer, LayerRequest, StepLayers, StepMotion } from './layer-protocol.ts';

/** Counting orders ends after so many seconds on screen; what was counted is then said to be "at least". */
const COUNT_SECONDS = 4;

export function takeLayerRequest(request: LayerRequest): LayerAnswer {
  const { job } = request;
  try {
    if (request.kind === 'step') return { kind: 'layers', job, layers: layersOfStep(request.motion) };
    const { sheet, angle, still, order } = request;
    const planes = groupByPlane(sheet, placePanels(sheet, angle, still));
    return { kind: 'stacks', job, stacks: stacksOf(planes, order) };
  } catch (error) {
    return { kind: 'broke', job, message: error instanceof Error ? error.message : String(error) };
  }
}

/** The layers at the end of a step, rolled forward from its start, and what its motion does to the paper. */
export function layersOfStep(motion: StepMotion): StepLayers {
  const { sheet, still, poses, before, asked, step, title } = motion;
  const end = poses.at(-1)!.angle;
  if (closureOfPose(sheet, end).largest > CLOSED) return noLayers;
  const along = poses.map(({ angle }) => placePanels(sheet, angle, still));
  const until = Date.now() + 1000 * COUNT_SECONDS;
  const rolled = rollForward(sheet, end, {
    before,
    along,
    motion: [],
    motionBinds: motion.stepKind !== 'tuck' && motion.stepKind !== 'lock',
    asked,
    outOfTime: () => Date.now() > until,
  });
  const { states, conflict, order, ...rest } = rolled;
  const findings = conflict
    ? [
        finding('layer-none', 'error', `After step ${step + 1} ("${title}"): ${conflict.message}`, {
          panels: conflict.panels,
          creases: conflict.creases,
        }),
      ]
    : [];
  return {
    states: String(states),
    exact: rest.exact,
    order,
    choices: rest.choices,
    deepest: rest.deepest,
    conflict,
    findings,
  };
}

/** Bent paper has no flat layers to speak of. */
const noLayers: StepLayers = {
  states: '0',
  exact: false,
  order: [],
  choices: [],
  deepest: 0,
  conflict: null,
  findings: [],
};
