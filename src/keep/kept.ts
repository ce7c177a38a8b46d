/** What is kept of lessons, and what can be asked of the shelf they lie on. */

/** What is wrong with a kept lesson: its text is gone, is no lesson, or was written by a later page. */
export type Damage = 'lost' | 'broken' | 'newer';

/** A lesson as it is kept. */
export interface KeptLesson {
  readonly id: string;
  readonly title: string;
  readonly place: string;
  /** The lesson's file. */
  readonly text: string;
  /** Milliseconds since 1970 of the last change. */
  readonly changed: number;
  /** Counts the writings. */
  readonly revision: number;
  /** Made by itself, from a lesson that could not be changed where it was. */
  readonly copy?: boolean;
  /** Milliseconds since 1970; a deleted lesson can still be had back for a while. */
  readonly deleted?: number;
  /** Keys of the states that undo and redo bring back, the next one last. */
  readonly undo?: readonly number[];
  readonly redo?: readonly number[];
  /** Found when it is read; never written. */
  readonly damage?: Damage;
}

/** What a writer says of itself: it takes all turns since the last one that it knows to be its own. */
export interface Turn {
  readonly writer: string;
  /** Revision read or written last, as far as is known; 0 for a lesson that is new. */
  readonly known: number;
  /** Revision that is written now. */
  readonly revision: number;
}

/** Earlier and later states of a lesson that are kept for undo, and those that are no longer wanted. */
export interface StateChanges {
  readonly come: readonly { readonly key: number; readonly text: string }[];
  readonly gone: readonly number[] | 'all';
}

/** A state of a lesson that was given a name. */
export interface Version {
  readonly key: number;
  readonly of: string;
  readonly name: string;
  readonly at: number;
  readonly text: string;
  readonly picture: string | null;
}

/** How a lesson was left: the place of the slider, how freely the paper may fold, and how it was looked at. */
export interface Look {
  readonly place: number;
  readonly bend: boolean;
  readonly free: boolean;
  readonly turned?: boolean;
  /** Angles in radians. */
  readonly eye?: { readonly bearing: number; readonly fall: number; readonly zoom: number } | null;
  readonly view?: 'model' | 'sheet';
}

/** What lay on the table last: a lesson of one's own, or a sample. */
export interface Last {
  readonly id: string | null;
  readonly sample: string | null;
}

/** What became of a writing. */
export type Kept =
  | { readonly kind: 'kept'; readonly revision: number }
  /** Someone else wrote in between; nothing was written. */
  | { readonly kind: 'changed-elsewhere' }
  | { readonly kind: 'full' }
  | { readonly kind: WhyClosed; readonly message: string };

/**
 * The database cannot be used: storage is switched off (`closed`), another tab with an older page holds it (`blocked`), or a
 * later page has changed its shelves (`newer`), which can be read then, but not written.
 */
export type WhyClosed = 'closed' | 'blocked' | 'newer';

/** The right of one tab to change a lesson. */
export interface Hold {
  /** Resolves once it is known whether this tab may change the lesson. */
  readonly known: Promise<boolean>;
  /** Lets go, or stops waiting. */
  release(): void;
}

/** Lessons, their pictures, looks and versions. Reading a shelf that cannot be used gives nothing; writing says so. */
export interface ShelfOfLessons {
  /** Writes a lesson unless someone else did since. */
  put(
    lesson: Omit<KeptLesson, 'revision' | 'title' | 'place'>,
    turn: Turn,
    states?: StateChanges,
  ): Promise<Kept>;
  /** Changes one kept lesson, whoever wrote it last. */
  change(id: string, how: (lesson: KeptLesson) => KeptLesson): Promise<Kept>;
  /** States of a lesson by their keys; those that are not there are left out. */
  states(of: string, keys: readonly number[]): Promise<Map<number, string>>;
  get(id: string): Promise<KeptLesson | null>;
  /** All that are not deleted, the one changed last first. */
  list(): Promise<KeptLesson[]>;
  picture(id: string): Promise<string | null>;
  /** Keeps what is no loss if it cannot be kept. */
  putPicture(id: string, picture: string): Promise<void>;
  look(id: string): Promise<Look | null>;
  putLook(id: string, look: Look): Promise<void>;
  last(): Promise<Last | null>;
  putLast(last: Last): Promise<void>;
  /** Versions of a lesson, the latest first. */
  versions(of: string): Promise<Version[]>;
  putVersion(version: Omit<Version, 'key'>): Promise<Kept>;
  removeVersion(key: number): Promise<void>;
  /** Forgets what was deleted long ago. */
  tidy(now?: number): Promise<void>;
}
