/** Changes that can be taken back: each is a pair of plain settings, before and after. */
import type { Lesson, SideLook } from '../core/lesson/lesson.ts';
import type { EyePlace } from '../scene/views.ts';
import { get, set } from './store.ts';

/** Everything that an edit may change. */
export interface Settings {
  readonly still: readonly [number, number] | undefined;
  readonly size: number;
  readonly sideUp: 'a' | 'b';
  readonly a: SideLook;
  readonly b: SideLook;
  readonly turned: boolean;
  readonly bend: boolean;
  readonly free: boolean;
  readonly eye: EyePlace | null;
}

interface Edit {
  readonly what: string;
  readonly before: Settings;
  after: Settings;
  at: number;
}

/** Edits of the same thing within this time are one: a colour being dragged, a number being typed. */
const SAME_EDIT_MILLISECONDS = 900;

let done: Edit[] = [];
let undone: Edit[] = [];

/** Who carries settings out beyond the store; set where the views live. */
export const carryOut: {
  eye: () => EyePlace | null;
  apply: (settings: Settings, before: Settings) => void;
} = { eye: () => null, apply: () => {} };

export function settingsNow(): Settings | null {
  const { lesson, turned, bend, free } = get();
  if (!lesson) return null;
  const { size, sideUp, sides } = lesson.sheet;
  return {
    still: lesson.still,
    size,
    sideUp,
    a: sides.a,
    b: sides.b,
    turned,
    bend,
    free,
    eye: carryOut.eye(),
  };
}

/** Makes a change that can be taken back. */
export function edit(what: string, change: Partial<Settings>): void {
  const before = settingsNow();
  if (!before) return;
  const after = { ...before, ...change };
  const last = done[done.length - 1];
  const now = performance.now();
  if (last && last.what === what && now - last.at < SAME_EDIT_MILLISECONDS) {
    last.after = after;
    last.at = now;
  } else {
    done.push({ what, before, after, at: now });
  }
  undone = [];
  put(after, before);
}

export function undo(): void {
  const last = done.pop();
  if (!last) return;
  undone.push(last);
  put(last.before, last.after);
}

export function redo(): void {
  const last = undone.pop();
  if (!last) return;
  done.push(last);
  put(last.after, last.before);
}

export function clearEdits(): void {
  done = [];
  undone = [];
  set({ canUndo: false, canRedo: false });
}

function put(settings: Settings, before: Settings): void {
  const { lesson } = get();
  if (!lesson) return;
  const { size, sideUp, a, b, still, turned, bend, free } = settings;
  const { still: _old, ...rest } = lesson;
  const changed: Lesson = {
    ...rest,
    sheet: { size, sideUp, sides: { a, b } },
    ...(still ? { still } : {}),
  };
  set({ lesson: changed, turned, bend, free, canUndo: done.length > 0, canRedo: undone.length > 0 });
  carryOut.apply(settings, before);
}
