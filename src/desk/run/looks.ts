/** Has each finished step looked at, one after the other, since each starts from the layers that the one before left. */
import { isBroken } from '../../core/run/step.ts';
import { startLayerSolver } from '../../worker/layer-client.ts';
import { lookKey, newLookStore } from '../../worker/look-store.ts';
import { playhead } from '../play/playhead.ts';
import { onStepEnd } from '../document/opening.ts';
import { get, setStep } from '../store.ts';
import type { TrackBoard } from '../play/board.ts';

export const layerSolver = startLayerSolver();

const known = newLookStore();

let chain: Promise<void> = Promise.resolve();
/** The tracks that are looked at; what was asked of others is dropped. */
let wanted: TrackBoard | null = null;

/** Asks for the layers at the end of a step whose track is finished, and what is met on the way. */
export function askLook(board: TrackBoard, step: number): void {
  chain = chain.then(() => lookAt(board, step));
}

/** Asks again from a step on, after another stacking was chosen for it, or after something broke. */
export function askLooksAgain(from: number): void {
  const board = wanted;
  if (!board) return;
  layerSolver.cancel();
  board.steps.forEach((_, step) => {
    // what was under way for earlier steps has been stopped as well
    if (step < from && get().steps[step]?.layers) return;
    if (!board.finished(step) || !get().steps[step]?.end?.closes) return;
    setStep(step, { layers: null, lookBroke: null });
    askLook(board, step);
  });
}

/** Another lesson or other tracks: nothing of what is under way is wanted any more. */
export function beginLooks(board: TrackBoard): void {
  wanted = board;
  layerSolver.cancel();
}

async function lookAt(board: TrackBoard, step: number): Promise<void> {
  const { lesson, sheet } = get();
  const record = board.steps[step];
  if (!lesson || !sheet || wanted !== board || !record?.report) return;
  // steps were added or taken away since: their own tracks are on the way
  if (lesson.steps.length !== board.steps.length) return;
  const shape = board.shape?.step === step ? board.shape : null;
  const request = {
    ...{ lesson, step, still: board.stillPanel(sheet) },
    track: {
      sheet: record.sheet === board.sheet ? null : record.sheet,
      panelOf: record.panelOf,
      poses: record.poses,
    },
    state: shape?.angle ?? null,
    before: board.orderBefore(step),
  };
  const key = lookKey(request, sheet);
  const look = known.get(key) ?? (await layerSolver.look(request));
  if (!look || wanted !== board) return;
  if (isBroken(look)) {
    setStep(step, { lookBroke: look.broke });
    return;
  }
  known.put(key, look);
  // the order at the end of a step may tell how paper lies in the picture of the one before, too
  const pictured = [step - 1, step].filter((one) => one >= 0);
  const drawn = pictured.map((one) => drawnAtEnd(board, one));
  board.learnOrder(step, look.order, look.known);
  pictured.forEach((one, k) => {
    if (drawnAtEnd(board, one) !== drawn[k]) onStepEnd.call(one);
  });
  setStep(step, { layers: look, lookBroke: null });
  if (board === playhead.board && !get().playing) playhead.refresh();
}

/** How the paper is drawn at the end of a step, as a text to compare. */
function drawnAtEnd(board: TrackBoard, step: number): string {
  const { levels, aside } = board.poseAt(step + 1);
  const shifts = [...(aside ?? [])].map(([panel, { shift }]) => `${panel}:${shift.join()}`);
  return `${levels.join()} ${shifts.join(' ')}`;
}
