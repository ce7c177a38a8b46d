/** Puts a lesson on the table: its state is fresh, and its tracks are asked for. */
import type { ReadyLesson } from '../../worker/protocol.ts';
import type { ScreenPlace } from '../around.ts';
import type { Player } from '../play/player.ts';
import type { Tracks } from '../run/tracks.ts';
import { nothingAsked, type Store } from '../store.ts';
import { undrawn } from '../tools/drawing-state.ts';
import { unfolded } from '../tools/folding-state.ts';

export class Table {
  constructor(
    private readonly store: Store,
    private readonly player: Player,
    private readonly tracks: Tracks,
    private readonly screen: ScreenPlace,
  ) {}

  /** @param place where the slider is to stand */
  show({ lesson, sheet, stages, findings, trueUp, pictures }: ReadyLesson, place = 0): void {
    this.player.stop();
    this.store.put({
      document: { lesson, sheet, stages, findings, checked: true, trueUp },
      opening: nothingAsked,
      run: { byHand: false, rest: null },
      look: {
        ...{ notice: null, selection: null, picked: [], hover: null, marks: null, toldMore: false },
        ...{ turned: false, verdict: null },
      },
      drawing: undrawn,
      folding: unfolded,
    });
    this.screen.now?.begin();
    void this.tracks.compute(place, undefined, pictures);
  }
}
