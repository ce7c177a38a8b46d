/** Changes that can be taken back: each is a pair of plain settings, before and after. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import type { EyePlace } from '../../core/lesson/eye.ts';
import type { ReadyLesson } from '../../worker/protocol.ts';
import { get, set } from '../store.ts';

/** Everything that an edit may change: the lesson, and how it is looked at. */
export interface Settings {
  readonly lesson: Lesson;
  readonly turned: boolean;
  readonly bend: boolean;
  readonly free: boolean;
  readonly eye: EyePlace | null;
}

interface SettingsEdit {
  /** A word for what is changed; 'open' is another lesson. */
  readonly what: string;
  readonly before: Settings;
  after: Settings;
  at: number;
}

/** Another lesson was put on the table. */
interface Opening {
  readonly what: 'open';
  readonly before: ReadyLesson;
  readonly after: ReadyLesson;
}

type Edit = SettingsEdit | Opening;

const isOpening = (one: Edit): one is Opening => one.what === 'open';

/** Edits of the same thing within this time are one: a colour being dragged, a number being typed. */
const SAME_EDIT_MILLISECONDS = 900;

let done: Edit[] = [];
let undone: Edit[] = [];

/** Who carries settings out beyond the store; set where the views live. */
export const carryOut: {
  eye: () => EyePlace | null;
  apply: (settings: Settings, before: Settings) => void;
  /** Puts a lesson on the table as it was. */
  show: (ready: ReadyLesson) => void;
} = { eye: () => null, apply: () => {}, show: () => {} };

export function settingsNow(): Settings | null {
  const { lesson, turned, bend, free } = get();
  return lesson && { lesson, turned, bend, free, eye: carryOut.eye() };
}

/**
 * Makes a change of the lesson that can be taken back.
 * @param flowing several at short notice with the same word are one edit: a colour being dragged, a text being typed
 */
export function editLesson(what: string, change: (lesson: Lesson) => Lesson, flowing = false): void {
  const { lesson } = get();
  const after = lesson && change(lesson);
  if (after && after !== lesson) edit(what, { lesson: after }, flowing);
}

/** Makes a change that can be taken back. */
export function edit(what: string, change: Partial<Settings>, flowing = false): void {
  const before = settingsNow();
  if (!before) return;
  const after = { ...before, ...change };
  const last = done[done.length - 1];
  const now = performance.now();
  if (flowing && last && !isOpening(last) && last.what === what && now - last.at < SAME_EDIT_MILLISECONDS) {
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
  if (isOpening(last)) reopen(last.before);
  else put(last.before, last.after);
}

export function redo(): void {
  const last = undone.pop();
  if (!last) return;
  done.push(last);
  if (isOpening(last)) reopen(last.after);
  else put(last.after, last.before);
}

/** Opening a lesson is an edit like others: the one before comes back by undo, as it was left. */
export function opened(after: ReadyLesson): void {
  const { lesson, sheet, stages, findings, trueUp } = get();
  done =
    lesson && sheet
      ? [...done, { what: 'open', before: { lesson, sheet, stages, findings, trueUp }, after }]
      : [];
  undone = [];
  tell();
}

/** States of the lesson on the table that undo and redo bring back, the next one last. */
export function statesAround(): { undo: Lesson[]; redo: Lesson[] } {
  const sinceOpening = (edits: readonly Edit[]) => {
    const from = edits.findLastIndex(isOpening) + 1;
    return edits
      .slice(from)
      .filter((one): one is SettingsEdit => !isOpening(one) && one.before.lesson !== one.after.lesson);
  };
  return {
    undo: sinceOpening(done).map(({ before }) => before.lesson),
    redo: sinceOpening(undone).map(({ after }) => after.lesson),
  };
}

/** Puts states round a lesson that was just opened, as they were before the page was left; not after other edits. */
export function putStatesAround({ undo, redo }: ReturnType<typeof statesAround>): void {
  const now = settingsNow();
  if (!now || done.length + undone.length > 0) return;
  const edits = (states: readonly Lesson[], way: (from: Settings, to: Settings) => [Settings, Settings]) =>
    states.map((state, k): SettingsEdit => {
      const [before, after] = way(
        { ...now, lesson: state, eye: null },
        { ...now, lesson: states[k + 1] ?? now.lesson, eye: null },
      );
      return { what: 'earlier', before, after, at: 0 };
    });
  done = edits(undo, (from, to) => [from, to]);
  undone = edits(redo, (from, to) => [to, from]);
  tell();
}

function reopen(ready: ReadyLesson): void {
  carryOut.show(ready);
  tell();
}

function tell(): void {
  set({ canUndo: done.length > 0, canRedo: undone.length > 0 });
}

function put(settings: Settings, before: Settings): void {
  const { lesson, turned, bend, free } = settings;
  set({ lesson, turned, bend, free });
  tell();
  carryOut.apply(settings, before);
}
