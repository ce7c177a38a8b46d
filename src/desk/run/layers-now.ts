/**
 * The layers of the pose that is shown: asked for whenever the slider rests, or all the time while something follows.
 * Views that look inside read it in their own time; nothing passes through React.
 */
import type { Stacks } from '../../core/layer/stacks.ts';
import { layerSolver } from './looks.ts';
import { playhead } from '../play/playhead.ts';
import { get, useStore } from '../store.ts';
import type { PlacedPose } from '../play/board.ts';

type Listener = () => void;

/** Waits this long after the last move before layers are asked for. */
const REST_MILLISECONDS = 90;

class LayersNow {
  /** Panels are numbered as in `pose.sheet`. Null while nothing is known. */
  stacks: Stacks | null = null;
  /** The pose that the stacks belong to. */
  pose: PlacedPose | null = null;
  private following = 0;
  private asking = false;
  private timer = 0;
  private listeners = new Set<Listener>();

  constructor() {
    useStore.subscribe((now, before) => {
      if (before.computing && !now.computing) void this.ask();
    });
    playhead.subscribe(() => {
      clearTimeout(this.timer);
      if (this.following > 0) void this.ask();
      else this.timer = window.setTimeout(() => void this.ask(), REST_MILLISECONDS);
    });
  }

  subscribe = (listener: Listener): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** Keeps up with a moving slider until the returned call. */
  follow(): () => void {
    this.following++;
    void this.ask();
    return () => {
      this.following--;
    };
  }

  private async ask(): Promise<void> {
    const { pose, board } = playhead;
    // layers of a large sheet are a long message; while tracks are computed nobody looks inside
    if (!pose || !board || this.asking || (get().computing && this.following === 0)) return;
    this.asking = true;
    const stacks = await layerSolver.stacks({
      sheet: pose.sheet,
      angle: pose.angle.slice(),
      still: board.stillPanel(pose.sheet),
      order: board.orderOfParts(pose),
    });
    this.asking = false;
    if (!stacks || playhead.board !== board) return;
    this.stacks = stacks;
    this.pose = pose;
    for (const listener of this.listeners) listener();
    if (playhead.pose !== pose) void this.ask();
  }
}

export const layersNow = new LayersNow();
