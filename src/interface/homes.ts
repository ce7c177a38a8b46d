/** Where the lesson on the table lives: with the samples, on the shelf, or nowhere yet. */
import type { Lesson } from '../core/lesson/lesson.ts';
import type { Hold } from '../keep/hold.ts';

export interface Home {
  /** On the shelf; null for a sample that was not changed, and for what was just opened. */
  id: string | null;
  /** File of the sample that it is, or began as. */
  readonly sample: string | null;
  /** Of the last reading or writing. */
  revision: number;
  /** Made by itself, because the lesson could not be changed where it was. */
  copy: boolean;
  hold: Hold | null;
  /** Waits to be written. */
  pending: Lesson | null;
  writing: boolean;
}

/** Every lesson that was on the table, with all its states before and after edits. */
export const homes = new WeakMap<Lesson, Home>();

export function newHome(known: Partial<Pick<Home, 'id' | 'sample' | 'revision' | 'copy'>> = {}): Home {
  return {
    id: null,
    sample: null,
    revision: 0,
    copy: false,
    ...known,
    hold: null,
    pending: null,
    writing: false,
  };
}
