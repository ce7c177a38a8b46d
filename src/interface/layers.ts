/** Has the layers of each finished step computed, one step after the other, since each starts from the one before. */
import { ordersOfStep } from '../core/lesson/orders.ts';
import { startLayerSolver } from '../worker/layer-client.ts';
import { playhead } from './playhead.ts';
import { get, setStep } from './store.ts';
import type { TrackBoard } from './track-board.ts';

export const layerSolver = startLayerSolver();

let chain: Promise<void> = Promise.resolve();

/** Asks for the layers at the end of a step whose track is finished. */
export function askLayers(board: TrackBoard, step: number): void {
  chain = chain.then(() => layersOf(board, step));
}

/** Asks again from a step on, after another stacking was chosen for it. */
export function askLayersAgain(from: number): void {
  const { board } = playhead;
  if (!board) return;
  layerSolver.cancel();
  for (let step = from; step < board.steps.length; step++) if (board.finished(step)) askLayers(board, step);
}

/** Another lesson or other tracks: nothing of what is under way is wanted. */
export function forgetLayers(): void {
  layerSolver.cancel();
}

async function layersOf(board: TrackBoard, step: number): Promise<void> {
  const { lesson, sheet } = get();
  const record = board.steps[step];
  if (!lesson || !sheet || playhead.board !== board || !record?.report) return;
  const plan = lesson.steps[step]!;
  const layers = await layerSolver.step({
    step,
    title: plan.title,
    stepKind: plan.kind,
    sheet,
    sheetSize: lesson.sheet.size,
    still: board.stillPanel(sheet),
    poses: ownPoses(board, step),
    target: get().stages[step]?.target,
    before: board.orders[step - 1] ?? [],
    asked: ordersOfStep(plan, step + 1, sheet).asked,
  });
  if (!layers || typeof layers === 'string' || playhead.board !== board) return;
  board.learnOrder(step, layers.order);
  setStep(step, { layers });
  if (!get().playing) playhead.refresh();
}

/** The poses of a step on the lesson's own creases; of bent paper only its start and its end. */
function ownPoses(board: TrackBoard, step: number) {
  const { poses, sheet } = board.steps[step]!;
  const bent = sheet !== board.sheet;
  const wanted = bent ? [poses[0]!, poses.at(-1)!] : poses;
  return wanted.map(({ at, angle }) => ({ at, angle: angle.slice(0, board.sheet.creaseKind.length) }));
}
