/**
 * The browser's own database of lessons. A lesson is kept as the text of its file, so that a kept one opens the way a
 * file does, whatever version wrote it. Nothing is overwritten unseen: who writes takes the next turn, and a turn can be
 * taken by one writer only.
 */
import { type DBSchema, type IDBPDatabase, openDB, unwrap } from 'idb';
import { keptLessonIn, lastIn, lookIn, pictureIn, titleAndPlace, versionIn } from './entries.ts';
import type {
  Kept,
  KeptLesson,
  Last,
  Look,
  ShelfOfLessons,
  StateChanges,
  Turn,
  Version,
  WhyClosed,
} from './kept.ts';

interface Shelves extends DBSchema {
  lessons: { key: string; value: KeptLesson };
  pictures: { key: string; value: string };
  looks: { key: string; value: Look };
  versions: { key: number; value: Omit<Version, 'key'> & { key?: number }; indexes: { of: string } };
  last: { key: string; value: Last };
  turns: {
    key: [string, number, string];
    value: { of: string; revision: number; writer: string };
    indexes: { turn: [string, number] };
  };
  states: { key: [string, number]; value: string };
}

/** Deleted lessons can be had back for this long. */
const DELETED_MILLISECONDS = 3_600_000;

/** A turn is remembered for so many more: only a tab that slept through all of them could write over another's work. */
const TURNS_REMEMBERED = 200;

const NAME = 'creaseway';

const VERSION = 2;

/** A database that does not answer for this long is told as closed. */
const PATIENCE_MILLISECONDS = 10_000;

/** Why nothing can be kept. */
class Closed extends Error {
  constructor(readonly why: WhyClosed) {
    super(why);
  }
}

function makeShelves(database: IDBPDatabase<Shelves>, from: number): void {
  if (from < 1) {
    database.createObjectStore('lessons', { keyPath: 'id' });
    database.createObjectStore('pictures');
    database.createObjectStore('looks');
    database.createObjectStore('last');
    database.createObjectStore('versions', { keyPath: 'key', autoIncrement: true }).createIndex('of', 'of');
  }
  database
    .createObjectStore('turns', { keyPath: ['of', 'revision', 'writer'] })
    .createIndex('turn', ['of', 'revision'], { unique: true });
  database.createObjectStore('states');
}

export class Shelf implements ShelfOfLessons {
  private database: Promise<IDBPDatabase<Shelves>> | null = null;
  /** The same once it is open, so that a writing need not wait. */
  private ready: IDBPDatabase<Shelves> | null = null;
  /** Another tab with an older page has to let go first. */
  private isBlocked = false;

  constructor(private readonly name = NAME) {}

  /** Opens the database, or the one that the browser closed anew. */
  private open(): Promise<IDBPDatabase<Shelves>> {
    if (this.isBlocked) return Promise.reject(new Closed('blocked'));
    this.database ??= new Promise((resolve, reject) => {
      const waits = setTimeout(() => {
        this.forget();
        reject(new Closed('closed'));
      }, PATIENCE_MILLISECONDS);
      const opening = openDB<Shelves>(this.name, VERSION, {
        upgrade: makeShelves,
        // it goes on waiting, and is there once the other tab is closed
        blocked: () => {
          this.isBlocked = true;
          reject(new Closed('blocked'));
        },
        // a newer page wants to change the shelves: let go, and open again when something is to be kept
        blocking: () => {
          void opening.then((database) => database.close());
          this.forget();
        },
        terminated: () => this.forget(),
      });
      opening
        .catch((error: unknown) => {
          if (!(error instanceof DOMException && error.name === 'VersionError')) throw error;
          // what a later page keeps can be looked at
          return openDB<Shelves>(this.name);
        })
        .then(
          (database) => {
            this.ready = database;
            this.database = Promise.resolve(database);
            resolve(database);
          },
          (error: unknown) => {
            this.forget();
            reject(error);
          },
        )
        .finally(() => {
          clearTimeout(waits);
          this.isBlocked = false;
        });
    });
    return this.database;
  }

  private forget(): void {
    this.database = null;
    this.ready = null;
  }

  /**
   * Writes a lesson unless someone else did since. All that is written leaves the page at once, without an answer being
   * waited for: it is kept even if the page dies the next moment, and so are writings that began before the answer of
   * earlier ones. The disk itself is not waited for; `putLook` does that.
   */
  put(
    lesson: Omit<KeptLesson, 'revision' | 'title' | 'place'>,
    { writer, known, revision }: Turn,
    states: StateChanges = { come: [], gone: [] },
  ): Promise<Kept> {
    const of = lesson.id;
    return this.atOnce(revision, ['lessons', 'turns', 'states'], (store) => {
      const turns = store('turns');
      // earlier turns of one's own that were not answered yet are taken again: where another writer had one of them,
      // this writing fails as well
      for (let turn = known + 1; turn <= revision; turn++) turns.put({ of, revision: turn, writer });
      if (revision % (TURNS_REMEMBERED / 4) === 0)
        turns.delete(IDBKeyRange.bound([of], [of, revision - TURNS_REMEMBERED]));
      const told = titleAndPlace(lesson.text) ?? { title: '', place: '' };
      store('lessons').put({ ...lesson, ...told, revision });
      const kept = store('states');
      if (states.gone === 'all') kept.delete(allOf(of));
      else for (const key of states.gone) kept.delete([of, key]);
      for (const { key, text } of states.come) kept.put(text, [of, key]);
    });
  }

  /** Changes one kept lesson, whoever wrote it last. */
  async change(id: string, how: (lesson: KeptLesson) => KeptLesson): Promise<Kept> {
    return guarded(async () => {
      const database = await this.writable();
      const writing = database.transaction(['lessons', 'turns'], 'readwrite', { durability: 'strict' });
      const lessons = writing.objectStore('lessons');
      const before = await lessons.get(id);
      const revision = (before ? keptLessonIn(before).revision : 0) + 1;
      // as it lies there: what cannot be read of it stays too
      const after = before && how(before);
      if (after) {
        await writing.objectStore('turns').put({ of: id, revision, writer: `change ${Math.random()}` });
        await lessons.put({ ...after, ...titleAndPlace(after.text), revision });
      }
      await writing.done;
      return { kind: 'kept', revision };
    });
  }

  /** States of a lesson by their keys; those that are not there are left out. */
  states(of: string, keys: readonly number[]): Promise<Map<number, string>> {
    return this.read(new Map<number, string>(), async (database) => {
      const store = database.transaction('states').store;
      const found = await Promise.all(keys.map(async (key) => [key, await store.get([of, key])] as const));
      return new Map(found.filter((one): one is [number, string] => typeof one[1] === 'string'));
    });
  }

  get(id: string): Promise<KeptLesson | null> {
    return this.read(null, async (database) => {
      const found = await database.get('lessons', id);
      return found ? keptLessonIn(found) : null;
    });
  }

  /** All that are not deleted, the one changed last first. */
  list(): Promise<KeptLesson[]> {
    return this.read([], async (database) => {
      const all = (await database.getAll('lessons')).map(keptLessonIn);
      return all.filter((one) => !one.deleted).sort((a, b) => b.changed - a.changed);
    });
  }

  picture(id: string): Promise<string | null> {
    return this.read(null, async (database) => pictureIn(await database.get('pictures', id)));
  }

  /** Keeps what is no loss if it cannot be kept. */
  async putPicture(id: string, picture: string): Promise<void> {
    await this.read(null, (database) => database.put('pictures', picture, id));
  }

  look(id: string): Promise<Look | null> {
    return this.read(null, async (database) => lookIn(await database.get('looks', id)));
  }

  /** Waits for the disk, and with it for everything that was written before. */
  async putLook(id: string, look: Look): Promise<void> {
    await this.read(null, async (database) => {
      const writing = database.transaction('looks', 'readwrite', { durability: 'strict' });
      await Promise.all([writing.store.put(look, id), writing.done]);
    });
  }

  last(): Promise<Last | null> {
    return this.read(null, async (database) => lastIn(await database.get('last', 'last')));
  }

  async putLast(last: Last): Promise<void> {
    await this.read(null, (database) => database.put('last', last, 'last'));
  }

  /** Versions of a lesson, the latest first. */
  versions(of: string): Promise<Version[]> {
    return this.read([], async (database) => {
      const found = await database.getAllFromIndex('versions', 'of', of);
      const all = found.map(versionIn).filter((one) => one !== null);
      return all.sort((a, b) => b.at - a.at || b.key - a.key);
    });
  }

  async putVersion(version: Omit<Version, 'key'>): Promise<Kept> {
    return guarded(async () => {
      const database = await this.writable();
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
      for (const lesson of (await database.getAll('lessons')).map(keptLessonIn)) {
        if (!lesson.deleted || now - lesson.deleted < DELETED_MILLISECONDS) continue;
        const belongings = ['lessons', 'pictures', 'looks', 'versions', 'turns', 'states'] as const;
        const work = database.transaction(belongings, 'readwrite');
        const versions = work.objectStore('versions');
        for (const key of await versions.index('of').getAllKeys(lesson.id)) await versions.delete(key);
        await work.objectStore('pictures').delete(lesson.id);
        await work.objectStore('looks').delete(lesson.id);
        await work.objectStore('states').delete(allOf(lesson.id));
        await work.objectStore('turns').delete(allOf(lesson.id));
        await work.objectStore('lessons').delete(lesson.id);
        await work.done;
      }
      return null;
    });
  }

  /** Lets the database go; the next call opens it again. */
  async close(): Promise<void> {
    const open = this.database;
    this.forget();
    (await open?.catch(() => null))?.close();
  }

  /** The database, if it is one that this page may write to. */
  private async writable(): Promise<IDBPDatabase<Shelves>> {
    const database = this.ready ?? (await this.open());
    if (database.version > VERSION) throw new Closed('newer');
    return database;
  }

  /** Sends a whole writing off in one go; no request of it waits for another's answer. */
  private atOnce(revision: number, names: StoreName[], write: (store: OpenStore) => void): Promise<Kept> {
    return guarded(async () => {
      const database = unwrap(
        this.ready && this.ready.version <= VERSION ? this.ready : await this.writable(),
      );
      const writing = database.transaction(names, 'readwrite', { durability: 'relaxed' });
      const ended = new Promise<void>((resolve, reject) => {
        writing.oncomplete = () => resolve();
        writing.onabort = () => reject(writing.error ?? new DOMException('The writing ended', 'AbortError'));
      });
      try {
        write((name) => writing.objectStore(name));
        writing.commit();
      } catch (error) {
        writing.abort();
        await ended.catch(() => {});
        throw error;
      }
      await ended;
      return { kind: 'kept', revision };
    });
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

type StoreName = 'lessons' | 'turns' | 'states';
type OpenStore = (name: StoreName) => IDBObjectStore;

/** Everything of one lesson in a store whose keys begin with its id. */
const allOf = (id: string) => IDBKeyRange.bound([id], [id, []]);

async function guarded(write: () => Promise<Kept>): Promise<Kept> {
  try {
    return await write();
  } catch (error) {
    const name = error instanceof DOMException ? error.name : '';
    if (name === 'QuotaExceededError') return { kind: 'full' };
    if (name === 'ConstraintError') return { kind: 'changed-elsewhere' };
    const kind = error instanceof Closed ? error.why : 'closed';
    return { kind, message: error instanceof Error ? error.message : String(error) };
  }
}
