/** Runs the slider: play, stop, one step on or back, eased; jumps between key poses where motion is unwelcome. */
import { playhead } from './playhead.ts';
import { get, set } from '../store.ts';

/** Seconds that one step takes, and that a jump of any length takes at least. */
const STEP_SECONDS = 2.6;
const LEAST_SECONDS = 0.5;
/** How long a key pose stands where motion is reduced, and between steps while playing. */
const KEY_POSE_SECONDS = 1.2;
const BREATH_SECONDS = 0.35;

let frame = 0;
let timer = 0;

/** Does this person want things to stay still? */
export function motionReduced(): boolean {
  return matchMedia('(prefers-reduced-motion: reduce)').matches;
}

export function stop(): void {
  cancelAnimationFrame(frame);
  clearTimeout(timer);
  set({ playing: false });
}

/** Plays from here to the end, from the start when it is at the end. */
export function play(): void {
  const { board } = playhead;
  if (!board || get().playing) {
    stop();
    return;
  }
  const end = Math.min(board.reached, board.steps.length);
  if (playhead.place >= end - 1e-3) playhead.moveTo(0);
  set({ playing: true, byHand: false });
  playOn();
}

function playOn(): void {
  const { board } = playhead;
  const end = board?.reached ?? 0;
  const goal = Math.min(end, Math.floor(playhead.place + 1e-6) + 1);
  if (playhead.place >= end - 1e-6) {
    stop();
    return;
  }
  glide(goal, () => {
    if (goal >= end - 1e-6) stop();
    else timer = window.setTimeout(playOn, 1000 * (motionReduced() ? KEY_POSE_SECONDS : BREATH_SECONDS));
  });
}

/** One step on or back: to the next place where a step begins or ends. */
export function step(direction: 1 | -1): void {
  const { board } = playhead;
  if (!board) return;
  stop();
  const place = playhead.place;
  const goal = direction > 0 ? Math.floor(place + 1e-3) + 1 : Math.ceil(place - 1e-3) - 1;
  goTo(Math.max(0, Math.min(goal, board.reached)));
}

/** Eases to a place of the slider. */
export function goTo(place: number): void {
  stop();
  set({ byHand: false });
  glide(place, () => {});
}

function glide(goal: number, then: () => void): void {
  const from = playhead.place;
  if (motionReduced() || from === goal) {
    playhead.moveTo(goal);
    then();
    return;
  }
  const seconds = Math.max(LEAST_SECONDS, Math.abs(goal - from) * STEP_SECONDS);
  let begun = -1;
  const tick = (now: number) => {
    if (begun < 0) begun = now;
    const t = Math.min(1, (now - begun) / 1000 / seconds);
    const eased = t < 0.5 ? 4 * t * t * t : 1 - (2 - 2 * t) ** 3 / 2;
    playhead.moveTo(from + (goal - from) * eased);
    if (t < 1) frame = requestAnimationFrame(tick);
    else then();
  };
  frame = requestAnimationFrame(tick);
}
