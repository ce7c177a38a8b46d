/** Has the likely wrong folds of a step folded one after the other, while their panel is open. */
import { seenAt } from '../../core/lesson/seen.ts';
import type { Broken } from '../../core/run/step-known.ts';
import type { WrongFold, WrongLook } from '../../core/run/what-if.ts';
import type { WrongWork } from '../../worker/work.ts';
import type { End, ScreenPlace } from '../around.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';

/** Size of the small pictures, pixels. */
const PICTURE = { width: 240, height: 160 };

export interface Wrong {
  readonly fold: WrongFold;
  /** Null while it is being folded. */
  readonly look: WrongLook | Broken | null;
  readonly picture: string | null;
}

export class Wrongs {
  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly screen: ScreenPlace,
    private readonly start: () => WrongWork,
  ) {}

  /** Starts folding; `tell` hears of every change. @returns a call that stops it */
  foldAll(step: number, tell: (wrongs: readonly Wrong[]) => void): End {
    const { lesson, sheet } = this.store.document;
    const { board } = this.playhead;
    const start = board?.steps[step]?.poses[0]?.angle.slice(0, sheet?.creaseKind.length);
    if (!lesson || !sheet || !board || !start) return () => {};
    let wrongs: readonly Wrong[] = [];
    const work = this.start();
    const seen = seenAt(lesson.steps, step + 1);
    let stopped = false;
    const change = (which: number, part: Partial<Wrong>) => {
      if (stopped) return;
      wrongs = wrongs.map((one, k) => (k === which ? { ...one, ...part } : one));
      tell(wrongs);
    };
    const foldEach = async () => {
      const { wrongFolds } = await import('../../core/run/what-if.ts');
      if (stopped) return;
      const folds = wrongFolds(lesson, step, sheet, start);
      wrongs = folds.map((fold): Wrong => ({ fold, look: null, picture: null }));
      tell(wrongs);
      for (const [k, { fold }] of wrongs.entries()) {
        const look = await work.foldWrongly(sheet, start, fold);
        if (stopped || !look) return;
        change(k, { look });
        if ('broke' in look) continue;
        const pose = board.place(step, sheet, look.angle, null);
        const wish = { ...PICTURE, seen, otherSideUp: fold.kind === 'side-up' };
        const picture = await this.screen.now?.picture(pose, wish);
        if (picture) change(k, { picture });
      }
    };
    void foldEach();
    return () => {
      stopped = true;
      work.end();
    };
  }
}
