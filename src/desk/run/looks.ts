/** Has each finished step looked at, one after the other, since each starts from the layers that the one before left. */
import { isBroken } from '../../core/run/step-known.ts';
import { lookKey, newLookStore } from '../../worker/look-store.ts';
import type { LayersAsked, LayerWork } from '../../worker/work.ts';
import type { ScreenPlace } from '../around.ts';
import type { TrackBoard } from '../play/board.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';

export class Looks {
  private readonly known = newLookStore();
  private chain: Promise<void> = Promise.resolve();
  /** The tracks that are looked at; what was asked of others is dropped. */
  private wanted: TrackBoard | null = null;

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly layers: LayerWork,
    private readonly screen: ScreenPlace,
  ) {}

  /** Asks for the layers at the end of a step whose track is finished, and what is met on the way. */
  ask(board: TrackBoard, step: number): void {
    this.chain = this.chain.then(() => this.lookAt(board, step));
  }

  /** Asks again from a step on, after another stacking was chosen for it, or after something broke. */
  askAgain(from: number): void {
    const board = this.wanted;
    if (!board) return;
    this.layers.cancel();
    board.steps.forEach((_, step) => {
      // what was under way for earlier steps has been stopped as well
      if (step < from && this.store.run.steps[step]?.layers) return;
      if (!board.finished(step) || !this.store.run.steps[step]?.end?.closes) return;
      this.store.putStep(step, { layers: null, lookBroke: null });
      this.ask(board, step);
    });
  }

  /** Another lesson or other tracks: nothing of what is under way is wanted any more. */
  begin(board: TrackBoard): void {
    this.wanted = board;
    this.layers.cancel();
  }

  private async lookAt(board: TrackBoard, step: number): Promise<void> {
    const { sheet } = this.store.document;
    const request = this.requestFor(board, step);
    if (!request || !sheet) return;
    const key = lookKey(request, sheet);
    const look = this.known.get(key) ?? (await this.layers.look(request));
    if (!look || this.wanted !== board) return;
    if (isBroken(look)) {
      this.store.putStep(step, { lookBroke: look.broke });
      return;
    }
    this.known.put(key, look);
    // the order at the end of a step may tell how paper lies in the picture of the one before, too
    const pictured = [step - 1, step].filter((one) => one >= 0);
    const drawn = pictured.map((one) => drawnAtEnd(board, one));
    board.learnOrder(step, look.order, look.known);
    pictured.forEach((one, k) => {
      if (drawnAtEnd(board, one) !== drawn[k]) this.screen.now?.takePicture(one);
    });
    this.store.putStep(step, { layers: look, lookBroke: null });
    if (board === this.playhead.board && !this.store.look.playing) this.playhead.refresh();
  }

  private requestFor(board: TrackBoard, step: number): LayersAsked<'look'> | null {
    const { lesson, sheet } = this.store.document;
    const record = board.steps[step];
    if (!lesson || !sheet || this.wanted !== board || !record?.report) return null;
    // steps were added or taken away since: their own tracks are on the way
    if (lesson.steps.length !== board.steps.length) return null;
    const shape = board.shape?.step === step ? board.shape : null;
    return {
      ...{ lesson, step, still: board.stillPanel(sheet) },
      track: {
        sheet: record.sheet === board.sheet ? null : record.sheet,
        panelOf: record.panelOf,
        poses: record.poses,
      },
      state: shape?.angle ?? null,
      before: board.orderBefore(step),
    };
  }
}

/** How the paper is drawn at the end of a step, as a text to compare. */
function drawnAtEnd(board: TrackBoard, step: number): string {
  const { levels, aside } = board.poseAt(step + 1);
  const shifts = [...(aside ?? [])].map(([panel, { shift }]) => `${panel}:${shift.join()}`);
  return `${levels.join()} ${shifts.join(' ')}`;
}
