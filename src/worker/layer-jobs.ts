/** Does what the page asks of the worker of layers. Each job runs to its end; to cancel, the worker is ended. */
import { contactsOfTrack } from '../core/contact/track.ts';
import { type Finding, finding } from '../core/finding/finding.ts';
import { type Lock, locksOf } from '../core/layer/lock/locks.ts';
import { groupByPlane } from '../core/layer/planes.ts';
import type { LayerOrder } from '../core/layer/problem.ts';
import { type RolledLayers, rollForward } from '../core/layer/roll.ts';
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
  const { sheet, still, poses, before, asked } = motion;
  const end = poses.at(-1)!.angle;
  if (closureOfPose(sheet, end).largest > CLOSED) return noLayers;
  const along = poses.map(({ angle }) => placePanels(sheet, angle, still));
  const until = Date.now() + 1000 * COUNT_SECONDS;
  let rolled: RolledLayers | null = null;
  contactsOfTrack({
    sheet,
    poses,
    still,
    startOrder: before,
    endOrder: ({ pairs }) => {
      rolled = rollForward(sheet, end, {
        ...{ before, along, asked, motion: pairs },
        motionBinds: !slips(motion),
        outOfTime: () => Date.now() > until,
      });
      return rolled.order;
    },
  });
  const { states, exact, order, choices, deepest, conflict, motionTells } = rolled! as RolledLayers;
  const planes = groupByPlane(sheet, along.at(-1)!);
  const locks = choices.map((choice) => locksOf(sheet, end, along.at(-1)!, stacksOf(planes, choice)));
  return {
    ...{ states: String(states), exact, order, choices, locks, deepest, conflict },
    asks: states > 1n && !(motionTells && (!slips(motion) || holds(locks[0] ?? []))),
    findings: conflict ? [noOrder(motion, conflict)] : [],
  };
}

/** In a tuck or a lock, a hand may slip one layer under another where stiff panels cannot. */
const slips = ({ stepKind }: StepMotion) => stepKind === 'tuck' || stepKind === 'lock';

const holds = (locks: readonly Lock[]) => locks.some(({ grade }) => grade === 'fold' || grade === 'friction');

function noOrder({ step, title }: StepMotion, conflict: NonNullable<StepLayers['conflict']>): Finding {
  const { panels, creases, message } = conflict;
  return finding('layer-none', 'error', `After step ${step + 1} ("${title}"): ${message}`, {
    panels,
    creases,
  });
}

const nothing: LayerOrder = [];

/** Bent paper has no flat layers to speak of. */
const noLayers: StepLayers = {
  states: '0',
  exact: false,
  order: nothing,
  choices: [],
  locks: [],
  asks: false,
  deepest: 0,
  conflict: null,
  findings: [],
};
