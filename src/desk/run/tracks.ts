/**
 * Has the tracks of all steps computed in the worker and shows them as they come. After an edit the old model stays on
 * screen until the new one has got as far; steps that did not change are had again at once.
 */
import type { Step } from '../../core/lesson/lesson.ts';
import { stillPointOf } from '../../core/run/plan.ts';
import type { LessonPictures } from '../../core/storage/pictures.ts';
import type { Reply } from '../../worker/client.ts';
import { askLook, beginLooks } from './looks.ts';
import { stop } from '../play/player.ts';
import { playhead } from '../play/playhead.ts';
import { onStepEnd, say, settle, solver } from '../document/opening.ts';
import { get, type StepState, set, setStep } from '../store.ts';
import { TrackBoard } from '../play/board.ts';
import { words } from '../../words/words.ts';

/** The old model gives way after this long, however far the new one has got. */
const PATIENCE_MILLISECONDS = 600;

let baking: number | null = null;
/** The board that is being filled; it is on screen, or will be soon. */
let filling: TrackBoard | null = null;
/** Where the slider is to stand once tracks reach as far. */
let wanted = 0;
let patience = 0;

/**
 * @param place where the slider is to stand
 * @param before the steps before an edit: their pictures stay where a step is still the same; left out for a lesson
 * that was opened
 * @param brought pictures that came with its file
 */
export async function compute(
  place: number,
  before?: readonly Step[],
  brought: LessonPictures = [],
): Promise<void> {
  stop();
  if (baking !== null) await cancel();
  const { lesson, sheet, stages, bend, free } = get();
  if (!lesson || !sheet) return;
  const board = new TrackBoard(sheet, stages.length, stillPointOf(lesson, sheet), {
    sheetSize: lesson.sheet.size,
    thickness: lesson.sheet.thickness,
  });
  const old = get().steps;
  const pictures = new Map(before?.map((step, k) => [step, old[k]?.picture ?? null]));
  set({
    steps: stages.map((_, k) => waiting(k === 0, pictures.get(lesson.steps[k]!) ?? brought[k] ?? null)),
    computing: stages.length > 0,
    broke: null,
    byHand: false,
    verdict: null,
  });
  beginLooks(board);
  filling = board;
  wanted = place;
  clearTimeout(patience);
  if (!before || !playhead.board || stages.length === 0) playhead.begin(board, 0);
  else patience = window.setTimeout(() => comeOn(board, true), PATIENCE_MILLISECONDS);
  if (stages.length === 0) return;
  baking = solver.bake(lesson, { bend, free }, (answer) => hear(board, answer));
}

/** Puts the slider at a place, at once or as soon as tracks reach as far. */
export function standAt(place: number): void {
  set({ byHand: false });
  wanted = place;
  if (filling === playhead.board) playhead.moveTo(Math.min(place, filling?.reached ?? 0));
}

/** Puts the board that is being filled on screen once it reaches far enough. */
function comeOn(board: TrackBoard, now = false): void {
  if (board === playhead.board || board !== filling) return;
  if (now || board.reached >= Math.min(wanted, board.steps.length) - 1e-9) {
    playhead.begin(board, Math.min(wanted, board.reached));
  }
}

function hear(board: TrackBoard, answer: Reply): void {
  if (filling !== board) return;
  switch (answer.kind) {
    case 'pose': {
      const before = board.reached;
      board.addPose(answer.step, answer.pose);
      sketchProgress(answer.step, answer.pose.at);
      comeOn(board);
      if (board === playhead.board && wanted > before) playhead.moveTo(Math.min(wanted, board.reached));
      return;
    }
    case 'step': {
      board.endStep(answer.step, answer);
      const { report, reached, end } = answer;
      const failed = report.outcome === 'fails' || report.outcome === 'stopped';
      setStep(answer.step, { status: failed ? 'fails' : 'ready', reached, report, end });
      if (!failed && get().steps[answer.step + 1]) setStep(answer.step + 1, { status: 'computing' });
      comeOn(board, failed);
      if (board === playhead.board) {
        if (wanted > 0) playhead.moveTo(Math.min(wanted, board.reached));
        else playhead.refresh();
      }
      onStepEnd.call(answer.step);
      if (end.closes) askLook(board, answer.step);
      return;
    }
    case 'baked':
      baking = null;
      comeOn(board, true);
      wanted = 0;
      set({ computing: false });
      void settle();
      return;
    case 'broke':
      baking = null;
      set({ computing: false, broke: answer.message });
      say(words.broke(answer.message));
  }
}

let sketched = 0;

/** Progress on screen at most ten times a second. */
function sketchProgress(step: number, reached: number): void {
  const now = performance.now();
  if (now - sketched < 100) return;
  sketched = now;
  setStep(step, { reached });
}

/** Stops computing. What has been computed stays. */
export async function cancel(): Promise<void> {
  if (baking === null) return;
  const job = baking;
  baking = null;
  wanted = 0;
  await solver.cancel(job);
  set({
    computing: false,
    steps: get().steps.map((one) => (one.status === 'computing' ? { ...one, status: 'waiting' } : one)),
  });
  playhead.refresh();
}

function waiting(first: boolean, picture: string | null): StepState {
  return {
    status: first ? 'computing' : 'waiting',
    ...{ reached: 0, report: null, end: null, layers: null, lookBroke: null, picture },
  };
}
