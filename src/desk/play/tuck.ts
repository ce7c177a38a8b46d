/**
 * Plays a tuck or a lock by itself, slowly: a range of the slider in which what hides the moving panels is glass, and a
 * section follows the tip of the flap.
 */

import type { SectionPlane } from '../../core/layer/section.ts';
import type { StepKind } from '../../core/lesson/lesson.ts';
import { NEXT_MOMENT, SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import type { Around, End } from '../around.ts';
import type { LayersNow } from '../run/layers-now.ts';
import type { Store } from '../store.ts';
import { FlapTip } from '../tools/flap-tip.ts';
import { closed } from '../tools/inside-wishes.ts';
import type { PlacedPose } from './board.ts';
import type { Player } from './player.ts';
import type { Playhead } from './playhead.ts';

const SECONDS = 8;
/** A press of the step buttons, and a still where motion is unwelcome, is such a share of the tuck. */
const STILLS = 8;
const STILL_SECONDS = 1.2;

export const isTuck = (kind: StepKind): boolean => kind === 'tuck' || kind === 'lock';

interface Parts {
  readonly store: Store;
  readonly playhead: Playhead;
  readonly player: Player;
  readonly layersNow: LayersNow;
  readonly around: Pick<Around, 'clock' | 'motionReduced'>;
}

export class Tuck {
  private halt: End = () => {};
  private unfollow: End | null = null;
  private tip: FlapTip | null = null;
  /** Where the tuck has put the slider; where it stands elsewhere, a hand has taken it. */
  private stood = 0;

  constructor(private readonly parts: Parts) {}

  begin(): End {
    const { store, playhead } = this.parts;
    const ends = [
      store.subscribe((now, before) => {
        if (before.inside.tuck && !now.inside.tuck) this.leave();
      }),
      playhead.subscribe(() => this.followSlider()),
    ];
    return () => {
      for (const end of ends) end();
    };
  }

  /** Begins at the start of a step, with everything else that was open closed. */
  open(step: number): void {
    const { store, player, layersNow } = this.parts;
    player.stop();
    const { point, pointer } = store.inside;
    store.put({ inside: { ...closed, point, pointer, tuck: { step, playing: false } } });
    this.unfollow ??= layersNow.follow();
    this.stand(step);
    this.play();
  }

  /** Plays, stops and goes on with the tuck of the step that the slider is in. */
  toggleHere = (): void => {
    const { store, playhead } = this.parts;
    const { tuck } = store.inside;
    if (tuck?.playing) this.pause();
    else if (tuck) this.play();
    else {
      const { step } = playhead;
      const kind = store.document.lesson?.steps[step]?.kind;
      if (kind && isTuck(kind) && playhead.board?.finished(step)) this.open(step);
    }
  };

  play = (): void => {
    const { store, player, playhead, around } = this.parts;
    const { tuck } = store.inside;
    if (!tuck) return;
    player.stop();
    this.halt();
    this.stand(this.share >= 1 - NEXT_MOMENT ? tuck.step : playhead.place);
    store.put({ inside: { tuck: { ...tuck, playing: true } } });
    if (around.motionReduced()) this.halt = around.clock.later(this.showStill, 1000 * STILL_SECONDS);
    else this.run(tuck.step, this.share);
  };

  pause = (): void => {
    this.halt();
    const { tuck } = this.parts.store.inside;
    if (tuck?.playing) this.parts.store.put({ inside: { tuck: { ...tuck, playing: false } } });
  };

  /** One still on or back. */
  step(direction: 1 | -1): void {
    this.pause();
    this.toStill(direction);
  }

  close = (): void => {
    this.pause();
    this.parts.store.put({ inside: { tuck: null, slice: null } });
  };

  /** How far the tuck has come, 0 to 1. */
  get share(): number {
    const { tuck } = this.parts.store.inside;
    return tuck ? Math.max(0, Math.min(1, this.parts.playhead.place - tuck.step)) : 0;
  }

  private stand(place: number): void {
    this.stood = place;
    this.parts.playhead.moveTo(place);
  }

  private run(step: number, from: number): void {
    const { store, around } = this.parts;
    let begun = -1;
    const tick = (now: number) => {
      if (!store.inside.tuck?.playing) return;
      if (begun < 0) begun = now;
      const share = Math.min(1, from + (now - begun) / 1000 / SECONDS);
      if (share < 1) this.halt = around.clock.frame(tick);
      this.stand(step + share);
      if (share >= 1) this.pause();
    };
    this.halt = around.clock.frame(tick);
  }

  private showStill = (): void => {
    this.toStill(1);
    const { store, around } = this.parts;
    if (store.inside.tuck?.playing) this.halt = around.clock.later(this.showStill, 1000 * STILL_SECONDS);
  };

  private toStill(direction: 1 | -1): void {
    const { tuck } = this.parts.store.inside;
    if (!tuck) return;
    const at = this.share * STILLS;
    const next = direction > 0 ? Math.floor(at + NEXT_MOMENT) + 1 : Math.ceil(at - NEXT_MOMENT) - 1;
    const share = Math.max(0, Math.min(1, next / STILLS));
    this.stand(tuck.step + share);
    if (share >= 1) this.pause();
  }

  private leave(): void {
    this.halt();
    this.unfollow?.();
    this.unfollow = null;
    this.tip = null;
  }

  private followSlider(): void {
    const { store, playhead } = this.parts;
    const { tuck } = store.inside;
    const { pose, place } = playhead;
    if (!tuck || !pose) return;
    // the slider was taken elsewhere
    if (place < tuck.step - SAME_MOMENT || place > tuck.step + 1 + SAME_MOMENT) this.close();
    else {
      if (place !== this.stood) this.pause();
      store.put({ inside: { slice: this.planeOfTip(tuck.step, pose) } });
    }
  }

  /** The plane in which the tip of the flap turns, where the tip is now. */
  private planeOfTip(step: number, pose: PlacedPose): SectionPlane | null {
    const { board } = this.parts.playhead;
    if (!board) return null;
    if (!this.tip?.isOf(board, step)) this.tip = FlapTip.find(board, step);
    return this.tip?.planeAt(pose) ?? null;
  }
}
