/**
 * The browser's own database of lessons. A lesson is kept as the text of its file, so that a kept one opens the way a
 * file does, whatever version wrote it. Nothing is overwritten unseen: who writes says which revision was read last.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { titleAndPlace } from './peek.ts';

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

/** How a lesson was left: the place of the slider, and how freely the paper may fold. */
export interface Look {
  readonly place: number;
  readonly bend: boolean;
  readonly free: boolean;
}

/** What lay on the table last: a lesson of one's own, or a sample. */
export interface Last {
  readonly id: string | null;
  readonly sample: string | null;
}

interface Shelves extends DBSchema {
  lessons: { key: string; value: KeptLesson };
  pictures: { key: string; value: string };
  looks: { key: string; value: Look };
  versions: { key: number; value: Omit<Version, 'key'> & { key?: number }; indexes: { of: string } };
  last: { key: string; value: Last };
}

/** What became of a writing. */
export type Kept =
  | { readonly kind: 'kept'; readonly revision: number }
  /** Someone else wrote in between; nothing was written. */
  | { readonly kind: 'changed-elsewhere' }
  | { readonly kind: 'full' }
  /** The database cannot be used: a private window, storage switched off. */
  | { readonly kind: 'closed'; readonly message: string };

/** Deleted lessons can be had back for this long. */
const DELETED_MILLISECONDS = 3_600_000;

const NAME = 'creaseway';

export class Shelf {
  private database: Promise<IDBPDatabase<Shelves>> | null = null;

  constructor(private readonly name = NAME) {}

  /** Opens the database, or the one that the browser closed anew. */
  private open(): Promise<IDBPDatabase<Shelves>> {
    if (this.database) return this.database;
    const forget = () => {
      this.database = null;
    };
    const opening = openDB<Shelves>(this.name, 1, {
      upgrade(database) {
        database.createObjectStore('lessons', { keyPath: 'id' });
        database.createObjectStore('pictures');
        database.createObjectStore('looks');
        database.createObjectStore('last');
        database
          .createObjectStore('versions', { keyPath: 'key', autoIncrement: true })
          .createIndex('of', 'of');
      },
      // a newer page wants to change the shelves: let go, and open again when something is to be kept
      blocking: () => {
        void opening.then((database) => database.close());
        forget();
      },
      terminated: forget,
    });
    this.database = opening;
    opening.catch(forget);
    return opening;
  }

  /**
   * Writes a lesson unless someone else did since. Once this resolves with `kept`, the lesson outlives the page and the
   * browser; waiting for the disk itself would leave more edits unwritten behind it, so that is done by `putLook`.
   * @param known revision read or written last; 0 for a lesson that is new
   */
  async put(lesson: Omit<KeptLesson, 'revision' | 'title' | 'place'>, known: number): Promise<Kept> {
    return guarded(async () => {
      const database = await this.open();
      const writing = database.transaction('lessons', 'readwrite', { durability: 'relaxed' });
      const before = await writing.store.get(lesson.id);
      if (before && before.revision !== known) {
        await writing.done;
        return { kind: 'changed-elsewhere' };
      }
      const revision = known + 1;
      const put = writing.store.put({ ...lesson, ...titleAndPlace(lesson.text), revision });
      writing.commit();
      await Promise.all([put, writing.done]);
      return { kind: 'kept', revision };
    });
  }

  /** Changes one kept lesson, whoever wrote it last. */
  async change(id: string, how: (lesson: KeptLesson) => KeptLesson): Promise<Kept> {
    return guarded(async () => {
      const database = await this.open();
      const writing = database.transaction('lessons', 'readwrite', { durability: 'strict' });
      const before = await writing.store.get(id);
      const revision = (before?.revision ?? 0) + 1;
      const after = before && how(before);
      if (after) await writing.store.put({ ...after, ...titleAndPlace(after.text), revision });
      await writing.done;
      return { kind: 'kept', revision };
    });
  }

  get(id: string): Promise<KeptLesson | null> {
    return this.read(null, async (database) => (await database.get('lessons', id)) ?? null);
  }

  /** All that are not deleted, the one changed last first. */
  list(): Promise<KeptLesson[]> {
    return this.read([], async (database) => {
      const all = await database.getAll('lessons');
      return all.filter((one) => !one.deleted).sort((a, b) => b.changed - a.changed);
    });
  }

  picture(id: string): Promise<string | null> {
    return this.read(null, async (database) => (await database.get('pictures', id)) ?? null);
  }

  /** Keeps what is no loss if it cannot be kept. */
  async putPicture(id: string, picture: string): Promise<void> {
    await this.read(null, (database) => database.put('pictures', picture, id));
  }

  look(id: string): Promise<Look | null> {
    return this.read(null, async (database) => (await database.get('looks', id)) ?? null);
  }

  /** Waits for the disk, and with it for everything that was written before. */
  async putLook(id: string, look: Look): Promise<void> {
    await this.read(null, async (database) => {
      const writing = database.transaction('looks', 'readwrite', { durability: 'strict' });
      await Promise.all([writing.store.put(look, id), writing.done]);
    });
  }

  last(): Promise<Last | null> {
    return this.read(null, async (database) => (await database.get('last', 'last')) ?? null);
  }

  async putLast(last: Last): Promise<void> {
    await this.read(null, (database) => database.put('last', last, 'last'));
  }

  /** Versions of a lesson, the latest first. */
  versions(of: string): Promise<Version[]> {
    return this.read([], async (database) => {
      const all = (await database.getAllFromIndex('versions', 'of', of)) as Version[];
      return all.sort((a, b) => b.at - a.at || b.key - a.key);
    });
  }

  async putVersion(version: Omit<Version, 'key'>): Promise<Kept> {
    return guarded(async () => {
      const database = await this.open();
      const writing = database.transaction('versions', 'readwrite', { durability: 'strict' });
      await Promise.all([writing.store.add(version), writing.done]);
      return { kind: 'kept', revision: 0 };
    });
  }

  async removeVersion(key: number): Promise<void> {
    await this.read(undefined, (database) => database.delete('versions', key));
  }

  /** Forgets what was deleted long ago, with all that belongs to it. */
  async tidy(now = Date.now()): Promise<void> {
    await this.read(null, async (database) => {
      for (const lesson of await database.getAll('lessons')) {
        if (!lesson.deleted || now - lesson.deleted < DELETED_MILLISECONDS) continue;
        const work = database.transaction(['lessons', 'pictures', 'looks', 'versions'], 'readwrite');
        const versions = work.objectStore('versions');
        for (const key of await versions.index('of').getAllKeys(lesson.id)) await versions.delete(key);
        await work.objectStore('pictures').delete(lesson.id);
        await work.objectStore('looks').delete(lesson.id);
        await work.objectStore('lessons').delete(lesson.id);
        await work.done;
      }
      return null;
    });
  }

  /** Lets the database go; the next call opens it again. */
  async close(): Promise<void> {
    const open = this.database;
    this.database = null;
    (await open?.catch(() => null))?.close();
  }

  /** Without a database everything reads as empty; what fails to be kept is said by `put`. */
  private async read<T, U>(empty: U, how: (database: IDBPDatabase<Shelves>) => Promise<T>): Promise<T | U> {
    try {
      return await how(await this.open());
    } catch {
      return empty;
    }
  }
}

async function guarded(write: () => Promise<Kept>): Promise<Kept> {
  try {
    return await write();
  } catch (error) {
    if (error instanceof DOMException && error.name === 'QuotaExceededError') return { kind: 'full' };
    return { kind: 'closed', message: error instanceof Error ? error.message : String(error) };
  }
}
