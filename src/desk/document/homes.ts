/** Where the lesson on the table lives: with the samples, on the shelf, or nowhere yet. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import type { Hold } from '../../keep/kept.ts';

export interface Home {
  /** On the shelf; null for a sample that was not changed, and for what was just opened. */
  id: string | null;
  /** File of the sample that it is, or began as. */
  readonly sample: string | null;
  /** Of the last reading, or the last writing that was sent off. */
  revision: number;
  /** Of the last reading, or the last writing that is known to be kept. */
  known: number;
  /** Made by itself, because the lesson could not be changed where it was. */
  copy: boolean;
  hold: Hold | null;
  /** May this tab write here? Null while that is not known. */
  held: boolean | null;
  /** Came with its file, for the shelf. */
  picture: string | null;
  /** Newest state that is not known to be kept. */
  pending: Lesson | null;
  /** Its place is being looked for. */
  settling: boolean;
  /** Writings that were sent off and not answered yet. */
  underWay: number;
  /** States that lie beside it for undo; null where that is not known. */
  states: States | null;
}

/** Keys of states on the shelf. */
export interface States {
  readonly keys: ReadonlyMap<Lesson, number>;
  /** Keys from here on are free. */
  readonly next: number;
}

/** Finds the home of any lesson that was on the table, in any of its states before and after edits. */
export class Homes {
  /** Home of the lesson on the table. */
  current: Home | null = null;
  private readonly known = new WeakMap<Lesson, Home>();

  /** A state that is not known belongs to the lesson on the table. */
  of(lesson: Lesson): Home {
    const home = this.known.get(lesson) ?? this.current ?? newHome();
    this.known.set(lesson, home);
    return home;
  }

  put(lesson: Lesson, home: Home): void {
    this.known.set(lesson, home);
  }
}

export function newHome(known: Partial<Pick<Home, 'id' | 'sample' | 'revision' | 'copy'>> = {}): Home {
  return {
    id: null,
    sample: null,
    revision: 0,
    copy: false,
    ...known,
    known: known.revision ?? 0,
    hold: null,
    held: null,
    picture: null,
    pending: null,
    settling: false,
    underWay: 0,
    states: null,
  };
}

/** Gives a lesson another place on the shelf, or none: nothing is known to lie there. */
export function rehome(home: Home, id: string | null): void {
  home.hold?.release();
  Object.assign(home, { id, revision: 0, known: 0, hold: null, held: null, states: null });
}
