/** Has the layers of each finished step computed, one step after the other, since each starts from the one before. */
import { type Lesson, usualThickness } from '../core/lesson/lesson.ts';
import { ordersOfStep } from '../core/lesson/orders.ts';
import { CLOSED } from '../core/numeric/tolerance.ts';
import { closureOfPose } from '../core/pose/closure.ts';
import { kindFolds } from '../core/sheet/kind.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { startLayerSolver } from '../worker/layer-client.ts';
import { playhead } from './playhead.ts';
import { get, set, setStep } from './store.ts';
import type { TrackBoard } from './track-board.ts';

export const layerSolver = startLayerSolver();

let chain: Promise<void> = Promise.resolve();

/** Asks for the layers at the end of a step whose track is finished. */
export function askLayers(board: TrackBoard, step: number): void {
  chain = chain.then(() => layersOf(board, step));
}

/** A lid goes over the finished model. */
function lidAfter({ sheet, steps }: Lesson, step: number) {
  const { lidSize, thickness = usualThickness } = sheet;
  return step === steps.length - 1 && lidSize ? { lid: { size: lidSize, thickness } } : {};
}

/** Asks again from a step on, after another stacking was chosen for it. */
export function askLayersAgain(from: number): void {
  const { board } = playhead;
  if (!board) return;
  layerSolver.cancel();
  board.steps.forEach((_, step) => {
    // what was under way for earlier steps has been stopped as well
    const wanted = step >= from || board.orders[step] === undefined;
    if (wanted && board.finished(step)) askLayers(board, step);
  });
}

/** Another lesson or other tracks: nothing of what is under way is wanted. */
export function forgetLayers(): void {
  layerSolver.cancel();
}

async function layersOf(board: TrackBoard, step: number): Promise<void> {
  const { lesson, sheet } = get();
  const record = board.steps[step];
  if (!lesson || !sheet || playhead.board !== board || !record?.report) return;
  const plan = lesson.steps[step];
  // steps were added or taken away since: their own tracks are on the way
  if (!plan || lesson.steps.length !== board.steps.length) return;
  const layers = await layerSolver.step({
    step,
    title: plan.title,
    stepKind: plan.kind,
    sheet,
    sheetSize: lesson.sheet.size,
    thickness: lesson.sheet.thickness,
    still: board.stillPanel(sheet),
    poses: ownPoses(board, step),
    target: get().stages[step]?.target,
    ...lidAfter(lesson, step),
    before: board.orders[step - 1] ?? [],
    asked: ordersOfStep(plan, step + 1, sheet).asked,
  });
  if (!layers || typeof layers === 'string' || playhead.board !== board) return;
  board.learnOrder(step, layers.known);
  setStep(step, { layers });
  if (!get().playing) playhead.refresh();
}

/**
 * The finished shape of a pattern that no motion was found for: it may close all the same, and then its layers can be
 * looked at.
 */
export function askShape(board: TrackBoard): void {
  chain = chain.then(async () => {
    const { lesson, sheet } = get();
    if (!lesson || !sheet || playhead.board !== board) return;
    const { angle, complete } = finishedAngles(sheet);
    if (!complete || closureOfPose(sheet, angle).largest > CLOSED) return;
    const layers = await layerSolver.step({
      ...{ step: board.steps.length - 1, title: lesson.title, stepKind: 'fold', sheet },
      ...{ sheetSize: lesson.sheet.size, still: board.stillPanel(sheet) },
      ...{ poses: [{ at: 1, angle }], before: [], asked: [] },
    });
    if (!layers || typeof layers === 'string' || playhead.board !== board) return;
    board.shape = { angle, order: layers.order };
    set({ shape: layers });
  });
}

function finishedAngles(sheet: Sheet): { angle: Float64Array; complete: boolean } {
  let complete = true;
  const angle = sheet.creaseAngle.map((value, crease) => {
    if (!kindFolds(sheet.creaseKind[crease]!)) return 0;
    if (Number.isNaN(value)) complete = false;
    return Number.isNaN(value) ? 0 : value;
  });
  return { angle, complete };
}

/** The poses of a step on the lesson's own creases; of bent paper only its start and its end. */
function ownPoses(board: TrackBoard, step: number) {
  const { poses, sheet } = board.steps[step]!;
  const bent = sheet !== board.sheet;
  const wanted = bent ? [poses[0]!, poses.at(-1)!] : poses;
  return wanted.map(({ at, angle }) => ({ at, angle: angle.slice(0, board.sheet.creaseKind.length) }));
}
