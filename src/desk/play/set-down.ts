/** Drops the model on the table and says how it stands; a second time lifts it again. */
import { words } from '../../words/words.ts';
import type { Around, FallMoment, ScreenPlace } from '../around.ts';
import type { Store } from '../store.ts';
import type { Playhead } from './playhead.ts';

/** A fall is computed in so many moments a second. */
const MOMENTS_A_SECOND = 60;

export class SetDown {
  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly screen: ScreenPlace,
    private readonly around: Pick<Around, 'clock' | 'motionReduced'>,
  ) {}

  toggle = async (): Promise<void> => {
    const { pose, board, place } = this.playhead;
    if (this.store.look.verdict) {
      this.store.put({ look: { verdict: null } });
      return;
    }
    if (!pose || !this.screen.now) return;
    try {
      const fall = await this.screen.now.setOnTable(pose, this.store.isTurned);
      // the model was folded on while its fall was computed
      if (this.playhead.board !== board || this.playhead.place !== place) return;
      this.store.put({ look: { verdict: fall.verdict } });
      this.show(fall.moments);
    } catch (error) {
      this.store.say(words.broke(error instanceof Error ? error.message : String(error)));
    }
  };

  /** Only the end of the fall where motion is unwelcome. */
  private show(moments: readonly FallMoment[]): void {
    const last = moments.at(-1)!;
    if (this.around.motionReduced()) {
      this.screen.now?.setRest(last);
      return;
    }
    let begun = -1;
    const tick = (now: number) => {
      if (!this.store.look.verdict) return;
      if (begun < 0) begun = now;
      const k = Math.floor(((now - begun) / 1000) * MOMENTS_A_SECOND);
      this.screen.now?.setRest(moments[k] ?? last);
      if (k < moments.length - 1) this.around.clock.frame(tick);
    };
    this.around.clock.frame(tick);
  }
}
