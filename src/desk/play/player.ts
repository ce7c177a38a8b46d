/** Runs the slider: play, stop, one step on or back, eased; jumps between key poses where motion is unwelcome. */
import { NEXT_MOMENT, SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import type { Around, End } from '../around.ts';
import type { Store } from '../store.ts';
import type { Playhead } from './playhead.ts';

/** Seconds that one step takes, and that a jump of any length takes at least. */
const STEP_SECONDS = 2.6;
const LEAST_SECONDS = 0.5;
/** How long a key pose stands where motion is reduced, and between steps while playing. */
const KEY_POSE_SECONDS = 1.2;
const BREATH_SECONDS = 0.35;

export class Player {
  private halt: End = () => {};

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly around: Pick<Around, 'clock' | 'motionReduced'>,
  ) {}

  stop = (): void => {
    this.halt();
    if (this.store.look.playing) this.store.put({ look: { playing: false } });
  };

  /** Plays from here to the end, from the start when it is at the end; stops where it plays. */
  play = (): void => {
    const { board } = this.playhead;
    if (!board || this.store.look.playing) {
      this.stop();
      return;
    }
    this.halt();
    const end = Math.min(board.reached, board.steps.length);
    if (this.playhead.place >= end - NEXT_MOMENT) this.playhead.moveTo(0);
    this.store.put({ look: { playing: true }, run: { byHand: false } });
    this.playOn();
  };

  /** One step on or back: to the next place where a step begins or ends. */
  step(direction: 1 | -1): void {
    const { board, place } = this.playhead;
    if (!board) return;
    const goal = direction > 0 ? Math.floor(place + NEXT_MOMENT) + 1 : Math.ceil(place - NEXT_MOMENT) - 1;
    this.goTo(Math.max(0, Math.min(goal, board.reached)));
  }

  /** Moves the slider by a little, in steps, as an arrow key does. */
  nudge(by: number): void {
    this.takeInHand(Math.round((this.playhead.place + by) * 1000) / 1000);
  }

  /** The hand moves the slider. */
  takeInHand(place: number): void {
    this.stop();
    this.store.put({ run: { byHand: false } });
    this.playhead.moveTo(place);
  }

  /** Eases to a place of the slider. */
  goTo(place: number): void {
    this.stop();
    this.store.put({ run: { byHand: false } });
    this.glide(place, () => {});
  }

  private playOn = (): void => {
    const end = this.playhead.board?.reached ?? 0;
    const goal = Math.min(end, Math.floor(this.playhead.place + SAME_MOMENT) + 1);
    if (this.playhead.place >= end - SAME_MOMENT) {
      this.stop();
      return;
    }
    this.glide(goal, () => {
      const rest = this.around.motionReduced() ? KEY_POSE_SECONDS : BREATH_SECONDS;
      if (goal >= end - SAME_MOMENT) this.stop();
      else this.halt = this.around.clock.later(this.playOn, 1000 * rest);
    });
  };

  private glide(goal: number, then: () => void): void {
    const from = this.playhead.place;
    if (this.around.motionReduced() || from === goal) {
      this.playhead.moveTo(goal);
      then();
      return;
    }
    const seconds = Math.max(LEAST_SECONDS, Math.abs(goal - from) * STEP_SECONDS);
    let begun = -1;
    const tick = (now: number) => {
      if (begun < 0) begun = now;
      const t = Math.min(1, (now - begun) / 1000 / seconds);
      const eased = t < 0.5 ? 4 * t * t * t : 1 - (2 - 2 * t) ** 3 / 2;
      if (t < 1) this.halt = this.around.clock.frame(tick);
      this.playhead.moveTo(from + (goal - from) * eased);
      if (t >= 1) then();
    };
    this.halt = this.around.clock.frame(tick);
  }
}
