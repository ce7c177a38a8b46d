import type { LayerOrder } from '../core/layer/problem.ts';
import { ordersOfStep } from '../core/lesson/orders.ts';
import { layersOfStep } from '../core/lesson/step-layers.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { Folded } from './fold-plan.ts';
import type { Input } from './input.ts';

/** Each question about layers ends after this long; a pose is then written without them. */
const SECONDS = 20;

function startClock(): () => boolean {
  const until = Date.now() + 1000 * SECONDS;
  return () => Date.now() > until;
}

/**
 * The layer order of the pose that a call of `fold` arrived at, rolled forward along its motions; undefined where the
 * pose has none, or where bent paper leaves nothing flat. A state that no motion reaches is ordered by itself.
 */
export function orderOfPose(
  input: Input,
  sheet: Sheet,
  folded: Folded,
  still: number,
): LayerOrder | undefined {
  const { state, tracks } = folded;
  if (state.sheet !== sheet || closureOfPose(sheet, state.angle).largest > CLOSED) return undefined;
  const reached = tracks.at(-1)?.poses.at(-1)?.angle;
  const arrived = reached?.every((angle, crease) => Math.abs(angle - state.angle[crease]!) < ARRIVED);
  const motions = arrived && tracks.every((track) => track.sheet === sheet) ? tracks : [];
  const steps = input.lesson?.steps ?? [];
  let before: LayerOrder = [];
  let order: LayerOrder = [];
  const all = motions.length > 0 ? motions.map(({ poses }) => poses) : [[{ at: 1, angle: state.angle }]];
  for (const [k, poses] of all.entries()) {
    const plan = steps[k];
    const asked = plan ? ordersOfStep(plan, k + 1, sheet).asked : [];
    const stepKind = plan?.kind ?? 'lock';
    const motion = { step: k, title: plan?.title ?? '', stepKind, sheet, sheetSize: input.size ?? 1, still };
    const layers = layersOfStep({ ...motion, poses, before, asked }, startClock);
    order = layers.order;
    before = layers.known;
  }
  return order.length > 0 ? order : undefined;
}

/** A motion has arrived at the state that is written when no crease is further off than this, radians. */
const ARRIVED = 1e-4;
