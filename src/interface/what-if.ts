/** Has the likely wrong folds of a step folded one after the other, while their panel is open. */
import { type WrongFold, type WrongLook, wrongFolds } from '../core/lesson/what-if.ts';
import type { WhatIfAnswer, WhatIfRequest } from '../worker/what-if.worker.ts';
import { view } from './actions.ts';
import { playhead } from './playhead.ts';
import { get } from './store.ts';

const PICTURE = { width: 240, height: 160 };

export interface Wrong {
  readonly fold: WrongFold;
  /** Null while it is being folded. */
  readonly look: WrongLook | null;
  readonly picture: string | null;
}

/** Starts folding; `tell` hears of every change. @returns a call that stops it */
export function foldWrongs(step: number, tell: (wrongs: readonly Wrong[]) => void): () => void {
  const { lesson, sheet } = get();
  const { board } = playhead;
  const start = board?.steps[step]?.poses[0]?.angle.slice(0, sheet?.creaseKind.length);
  if (!lesson || !sheet || !board || !start) return () => {};
  let wrongs = wrongFolds(lesson, step, sheet, start).map(
    (fold): Wrong => ({ fold, look: null, picture: null }),
  );
  tell(wrongs);
  const worker = new Worker(new URL('../worker/what-if.worker.ts', import.meta.url), { type: 'module' });
  const change = (job: number, part: Partial<Wrong>) => {
    wrongs = wrongs.map((one, k) => (k === job ? { ...one, ...part } : one));
    tell(wrongs);
  };
  const ask = (job: number) => {
    const fold = wrongs[job]?.fold;
    if (fold) worker.postMessage({ job, sheet, start, fold } satisfies WhatIfRequest);
  };
  let stopped = false;
  worker.onmessage = async ({ data }: MessageEvent<WhatIfAnswer>) => {
    ask(data.job + 1);
    if (!data.look) return;
    change(data.job, { look: data.look });
    const pose = board.place(step, sheet, data.look.angle, null);
    const otherSideUp = wrongs[data.job]!.fold.kind === 'side-up';
    const picture = await view.stage?.picture(pose, PICTURE.width, PICTURE.height, otherSideUp);
    if (!stopped && picture) change(data.job, { picture });
  };
  ask(0);
  return () => {
    stopped = true;
    worker.terminate();
  };
}
