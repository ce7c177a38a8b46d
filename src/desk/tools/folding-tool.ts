/** The tool that folds on the model, taken in hand and put away. What it does is fetched when it is first wanted. */
import { SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import type { Clock, ScreenPlace } from '../around.ts';
import type { Edits } from '../document/edits.ts';
import type { Playhead } from '../play/playhead.ts';
import type { LayersNow } from '../run/layers-now.ts';
import type { Tracks } from '../run/tracks.ts';
import type { Store } from '../store.ts';
import type { Folding } from './folding.ts';
import { unfolded } from './folding-state.ts';

interface Parts {
  readonly store: Store;
  readonly edits: Edits;
  readonly playhead: Playhead;
  readonly tracks: Tracks;
  readonly layersNow: LayersNow;
  readonly screen: ScreenPlace;
  readonly clock: Clock;
}

export class FoldingTool {
  private fetched: Folding | null = null;

  constructor(private readonly parts: Parts) {}

  /** What folds; only while the tool is in hand. */
  get hands(): Folding {
    if (!this.fetched) throw new Error('folding tool not in hand');
    return this.fetched;
  }

  toggle = async (): Promise<void> => {
    const { store, playhead } = this.parts;
    if (store.folding.on) {
      this.close();
      return;
    }
    await this.fetch();
    const place = Math.round(playhead.place);
    if (Math.abs(playhead.place - place) > SAME_MOMENT) playhead.moveTo(Math.ceil(playhead.place));
    store.put({
      run: { byHand: false },
      look: { selection: null, picked: [], marks: null },
      folding: { ...unfolded, on: true },
    });
  };

  close = (): boolean => {
    const { store } = this.parts;
    if (!store.folding.on) return false;
    store.put({ folding: unfolded, look: { marks: null } });
    return true;
  };

  /** Takes back the last point; with none the tool is put away. @returns whether there was anything */
  back(): boolean {
    const { store } = this.parts;
    const { on, points } = store.folding;
    if (!on) return false;
    if (points.length === 0) return this.close();
    store.put({ folding: { points: points.slice(0, -1) }, look: { marks: null } });
    return true;
  }

  private async fetch(): Promise<void> {
    if (this.fetched) return;
    const [{ Folding }, { FoldingNow }] = await Promise.all([
      import('./folding.ts'),
      import('./folding-now.ts'),
    ]);
    const { store, playhead, layersNow, clock } = this.parts;
    const now = new FoldingNow(store, playhead, layersNow, clock);
    this.fetched ??= new Folding({ ...this.parts, now, close: this.close });
  }
}
