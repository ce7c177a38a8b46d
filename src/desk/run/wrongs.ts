/** Has the likely wrong folds of a step folded one after the other, while their panel is open. */

import type { Broken } from '../../core/run/step.ts';
import { type WrongFold, type WrongLook, wrongFolds } from '../../core/run/what-if.ts';
import { Door } from '../../worker/door.ts';
import type { WhatIfAnswer, WhatIfRequest } from '../../worker/what-if.worker.ts';
import { view } from '../document/paper.ts';
import { playhead } from '../play/playhead.ts';
import { get } from '../store.ts';

const PICTURE = { width: 240, height: 160 };

export interface Wrong {
  readonly fold: WrongFold;
  /** Null while it is being folded. */
  readonly look: WrongLook | Broken | null;
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
  const door = new Door<WhatIfRequest, WhatIfAnswer>(
    () => new Worker(new URL('../../worker/what-if.worker.ts', import.meta.url), { type: 'module' }),
  );
  const change = (which: number, part: Partial<Wrong>) => {
    wrongs = wrongs.map((one, k) => (k === which ? { ...one, ...part } : one));
    tell(wrongs);
  };
  let stopped = false;
  const foldAll = async () => {
    for (const [k, { fold }] of wrongs.entries()) {
      const answer = await door.ask({ kind: 'fold-wrongly', sheet, start, fold });
      if (stopped || answer.kind === 'cancelled') return;
      if (answer.kind === 'broke') {
        change(k, { look: { broke: answer.message } });
        continue;
      }
      change(k, { look: answer.look });
      const pose = board.place(step, sheet, answer.look.angle, null);
      const otherSideUp = fold.kind === 'side-up';
      const picture = await view.stage?.picture(pose, PICTURE.width, PICTURE.height, otherSideUp);
      if (!stopped && picture) change(k, { picture });
    }
  };
  void foldAll();
  return () => {
    stopped = true;
    door.close();
  };
}
