/** Keys of the whole page. Views and the slider see to their own arrows. */
import { viewNames } from '../core/lesson/eye.ts';
import { acrossActions } from './tools/folding.ts';
import { actions } from './document/paper.ts';
import { drawActions, drawKey } from './tools/drawing.ts';
import { lookInside } from './tools/look-inside.ts';
import { inside } from './tools/inside-wishes.ts';
import { play, step } from './play/player.ts';
import { playhead, stepAt } from './play/playhead.ts';
import { save } from './document/opening.ts';
import { get, set } from './store.ts';
import { nudge } from '../interface/storyboard/storyboard.tsx';
import { cancel } from './run/tracks.ts';
import { isTuck, openTuck, pauseTuck, playTuck } from './play/tuck.ts';

/** Plays the tuck of the step that the slider is in, and stops and goes on with it. */
function tuckHere(): void {
  const { tuck } = inside();
  if (tuck?.playing) pauseTuck();
  else if (tuck) playTuck();
  else {
    const { lesson } = get();
    const step = stepAt(playhead.place, lesson?.steps.length ?? 0);
    const kind = lesson?.steps[step]?.kind;
    if (kind && isTuck(kind) && playhead.board?.finished(step)) openTuck(step);
  }
}

const plain: Record<string, () => void> = {
  ' ': play,
  ',': () => step(-1),
  '.': () => step(1),
  '[': () => nudge(-0.05),
  ']': () => nudge(0.05),
  t: actions.turnOver,
  f: actions.fit,
  d: () => void actions.setOnTable(),
  s: actions.keepSelectedStill,
  u: actions.otherSideUp,
  x: actions.swapColours,
  p: () => set({ paperShown: true }),
  b: actions.toggleBend,
  w: actions.toggleFree,
  n: actions.toggleTable,
  o: () => document.getElementById('open-file-anywhere')?.click(),
  '?': () => set({ keysShown: true }),
  g: lookInside.toggleGlass,
  v: lookInside.toggleFan,
  c: () => {
    lookInside.toggleSlice();
    // the handle is there with the next picture; arrows then move the slice at once
    requestAnimationFrame(() => document.getElementById('slice-handle')?.focus());
  },
  l: lookInside.peel,
  k: lookInside.putBack,
  m: tuckHere,
  a: acrossActions.toggle,
  e: drawActions.toggle,
  Escape: () => {
    if (drawActions.back()) return;
    if (acrossActions.back()) return;
    if (lookInside.close()) return;
    if (get().computing) void cancel();
    set({ selection: null, marks: null, notice: null, toldMore: false });
  },
};

viewNames.forEach((name, k) => {
  plain[String(k + 1)] = () => actions.look(name);
});

const held: Record<string, () => void> = {
  z: actions.undo,
  y: actions.redo,
  Z: actions.redo,
  s: () => void save('lesson'),
};

/** Listens for keys; those meant for a field, a button or a menu are left alone. @returns a call that stops it */
export function listenForKeys(): () => void {
  const onKey = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.altKey || !get().lesson) return;
    const target = event.target as HTMLElement;
    const range = target instanceof HTMLInputElement && target.type === 'range';
    if (target.closest('[role=dialog], [role=menu], [role=listbox]')) return;
    if (target.closest('input, textarea, select') && !range) return;
    if (event.key === ' ' && target.closest('button')) return;
    if (!event.ctrlKey && !event.metaKey && drawKey(event.key)) {
      event.preventDefault();
      return;
    }
    const call =
      event.ctrlKey || event.metaKey
        ? held[event.key]
        : plain[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!call) return;
    event.preventDefault();
    call();
  };
  window.addEventListener('keydown', onKey);
  return () => window.removeEventListener('keydown', onKey);
}
