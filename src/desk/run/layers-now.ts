/**
 * The layers of the pose that is shown: asked for whenever the slider rests, or all the time while something follows.
 * Views that look inside read it in their own time, like the playhead.
 */
import type { Stacks } from '../../core/layer/stacks.ts';
import type { LayerWork } from '../../worker/work.ts';
import type { Clock, End } from '../around.ts';
import type { PlacedPose } from '../play/board.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';

/** Waits this long after the last move before layers are asked for. */
const REST_MILLISECONDS = 90;

export class LayersNow {
  /** Panels are numbered as in `pose.sheet`. Null while nothing is known. */
  stacks: Stacks | null = null;
  /** The pose that the stacks belong to. */
  pose: PlacedPose | null = null;
  private following = 0;
  private asking = false;
  private halt: End = () => {};
  private readonly listeners = new Set<() => void>();

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly layers: LayerWork,
    private readonly clock: Clock,
  ) {}

  begin(): End {
    const ends = [
      this.store.subscribe((now, before) => {
        if (before.run.computing && !now.run.computing) void this.ask();
      }),
      this.playhead.subscribe(() => {
        this.halt();
        if (this.following > 0) void this.ask();
        else this.halt = this.clock.later(() => void this.ask(), REST_MILLISECONDS);
      }),
    ];
    return () => {
      for (const end of ends) end();
      this.halt();
    };
  }

  subscribe = (listener: () => void): End => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Keeps up with a moving slider until the returned call. */
  follow(): End {
    this.following++;
    void this.ask();
    return () => {
      this.following--;
    };
  }

  private async ask(): Promise<void> {
    const { pose, board } = this.playhead;
    // layers of a large sheet are a long message; while tracks are computed nobody looks inside
    const busy = this.store.run.computing && this.following === 0;
    if (!pose || !board || this.asking || busy) return;
    this.asking = true;
    const stacks = await this.layers.stacks({
      sheet: pose.sheet,
      angle: pose.angle.slice(),
      still: board.stillPanel(pose.sheet),
      order: board.orderOfParts(pose),
    });
    this.asking = false;
    if (!stacks || this.playhead.board !== board) return;
    this.stacks = stacks;
    this.pose = pose;
    for (const listener of this.listeners) listener();
    if (this.playhead.pose !== pose) void this.ask();
  }
}
