/**
 * The edits of the lesson on the table that can be taken back, and those that can be made again: each is a pair of plain
 * settings. Another lesson begins with its own.
 */
import type { EyePlace } from '../../core/lesson/eye.ts';
import type { Lesson } from '../../core/lesson/lesson.ts';

/** Everything that an edit may change: the lesson, and how it is looked at. */
export interface Settings {
  readonly lesson: Lesson;
  readonly turned: boolean;
  readonly bend: boolean;
  readonly free: boolean;
  readonly eye: EyePlace | null;
}

interface Edit {
  /** A word for what is changed. */
  readonly what: string;
  readonly before: Settings;
  readonly after: Settings;
  readonly at: number;
}

/** States of a lesson that undo and redo bring back, the next one last. */
export interface StatesAround {
  readonly undo: readonly Lesson[];
  readonly redo: readonly Lesson[];
}

/** Edits of the same thing within this time are one: a colour being dragged, a number being typed. */
const SAME_EDIT_MILLISECONDS = 900;

export class History {
  private done: readonly Edit[] = [];
  private undone: readonly Edit[] = [];

  get canUndo(): boolean {
    return this.done.length > 0;
  }

  get canRedo(): boolean {
    return this.undone.length > 0;
  }

  /** @param flowing several at short notice with the same word are one edit */
  add(edit: Edit, flowing: boolean): void {
    const last = this.done.at(-1);
    const flowsOn = flowing && last?.what === edit.what;
    this.done =
      flowsOn && edit.at - last.at < SAME_EDIT_MILLISECONDS
        ? [...this.done.slice(0, -1), { ...last, after: edit.after, at: edit.at }]
        : [...this.done, edit];
    this.undone = [];
  }

  /** Another lesson is on the table. */
  clear(): void {
    this.done = [];
    this.undone = [];
  }

  /** The edit that is to be taken back now; it can be made again. */
  back(): Edit | null {
    const last = this.done.at(-1);
    if (!last) return null;
    this.done = this.done.slice(0, -1);
    this.undone = [...this.undone, last];
    return last;
  }

  /** The edit that is to be made again now. */
  forth(): Edit | null {
    const last = this.undone.at(-1);
    if (!last) return null;
    this.undone = this.undone.slice(0, -1);
    this.done = [...this.done, last];
    return last;
  }

  /** States of the lesson before and after edits, without those that only looked at it otherwise. */
  statesAround(): StatesAround {
    const ofLesson = (edits: readonly Edit[]) =>
      edits.filter(({ before, after }) => before.lesson !== after.lesson);
    return {
      undo: ofLesson(this.done).map(({ before }) => before.lesson),
      redo: ofLesson(this.undone).map(({ after }) => after.lesson),
    };
  }

  /** Puts states round a lesson that was just opened, as they were before the page was left; not after other edits. */
  putStatesAround({ undo, redo }: StatesAround, now: Settings): void {
    if (this.canUndo || this.canRedo) return;
    const edits = (states: readonly Lesson[], way: (from: Settings, to: Settings) => [Settings, Settings]) =>
      states.map((state, k): Edit => {
        const next = { ...now, lesson: states[k + 1] ?? now.lesson, eye: null };
        const [before, after] = way({ ...now, lesson: state, eye: null }, next);
        return { what: 'earlier', before, after, at: 0 };
      });
    this.done = edits(undo, (from, to) => [from, to]);
    this.undone = edits(redo, (from, to) => [to, from]);
  }
}
