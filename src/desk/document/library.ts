/** What can be done with kept lessons, and the panels that list them. Deleting can be taken back. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import { bytesOf } from '../../core/storage/text.ts';
import type { Kept, KeptLesson, ShelfOfLessons, Version } from '../../keep/kept.ts';
import { words } from '../../words/words.ts';
import type { Around, End } from '../around.ts';
import type { ShelfPanelName, Store } from '../store.ts';
import type { Edits } from './edits.ts';
import type { Homes } from './homes.ts';
import type { Keeping } from './keeping.ts';
import type { Opening } from './opening.ts';
import type { ShelfNews } from './shelf-news.ts';

interface Parts {
  readonly store: Store;
  readonly edits: Edits;
  readonly homes: Homes;
  readonly keeping: Keeping;
  readonly opening: Opening;
  readonly news: ShelfNews;
  readonly shelf: ShelfOfLessons;
  readonly around: Pick<Around, 'newId' | 'askToPersist' | 'handOver'>;
}

export class Library {
  constructor(private readonly parts: Parts) {}

  begin(): End {
    return this.parts.news.subscribe(() => void this.read());
  }

  /** Opens a panel, or closes the one that is open. */
  show(shown: ShelfPanelName | null): void {
    this.parts.store.put({ shelf: { shown, deleted: null } });
    void this.read();
  }

  async open({ id }: KeptLesson): Promise<void> {
    if (this.isOnTable(id) || (await this.parts.opening.openKept(id))) this.show(null);
  }

  async rename({ id }: KeptLesson, name: string): Promise<void> {
    const title = name.trim();
    const { edits, shelf, news } = this.parts;
    if (!title) return;
    if (this.isOnTable(id)) edits.lesson('title', (lesson) => ({ ...lesson, title }));
    else this.tellOf(await shelf.change(id, (one) => ({ ...one, text: retitled(one.text, title) })));
    news.tell();
  }

  async duplicate(lesson: KeptLesson): Promise<void> {
    const { shelf, news, around } = this.parts;
    const id = around.newId();
    const text = retitled(lesson.text, words.copyOf(lesson.title));
    const turn = { writer: id, known: 0, revision: 1 };
    this.tellOf(await shelf.put({ id, text, changed: Date.now() }, turn));
    const picture = await shelf.picture(lesson.id);
    if (picture) await shelf.putPicture(id, picture);
    news.tell();
    around.askToPersist();
  }

  /** Hands over the text of a damaged lesson as it lies there. */
  saveRemains({ title, text }: KeptLesson): void {
    this.parts.around.handOver(`${title || words.damagedTitle}.txt`, bytesOf(text), 'text/plain');
  }

  async remove(lesson: KeptLesson): Promise<void> {
    const { shelf, keeping, store, news } = this.parts;
    const kept = await shelf.change(lesson.id, (one) => ({ ...one, deleted: Date.now() }));
    if (kept.kind !== 'kept') return this.tellOf(kept);
    keeping.unhome(lesson.id);
    store.put({ shelf: { deleted: lesson } });
    news.tell();
  }

  /** Takes a deletion back. */
  async haveBack({ id }: KeptLesson): Promise<void> {
    const { shelf, store, news } = this.parts;
    store.put({ shelf: { deleted: null } });
    this.tellOf(await shelf.change(id, ({ deleted: _gone, ...one }) => one));
    news.tell();
  }

  /** Keeps the lesson on the table as it is under a name. */
  async keepVersion(name: string): Promise<void> {
    const { store, keeping, shelf, news, around } = this.parts;
    const { lesson } = store.document;
    if (!lesson) return;
    const of = await keeping.placeNow(lesson);
    const picture = store.run.steps.findLast((one) => one.picture)?.picture ?? null;
    this.tellOf(await shelf.putVersion({ of, name, at: Date.now(), text: JSON.stringify(lesson), picture }));
    news.tell();
    around.askToPersist();
  }

  /** Makes the lesson what it was: an edit like others. */
  async goBackTo({ name, text }: Version): Promise<void> {
    const { store, edits } = this.parts;
    const { lessonIn } = await import('./read-text.ts');
    const lesson = lessonIn(text);
    if (!lesson) {
      store.say(words.refusedPlain);
      return;
    }
    edits.lesson('version', () => lesson);
    this.show(null);
    store.say(words.wentBack(name), 'plain');
  }

  async removeVersion({ key }: Version): Promise<void> {
    await this.parts.shelf.removeVersion(key);
    this.parts.news.tell();
  }

  /** Reads anew what the open panel lists. */
  private async read(): Promise<void> {
    const { store, shelf, homes } = this.parts;
    const { shown } = store.shelf;
    if (shown === 'library') {
      const lessons = await shelf.list();
      const found = await Promise.all(lessons.map(async ({ id }) => [id, await shelf.picture(id)] as const));
      const pictures = new Map(found.filter((one): one is [string, string] => one[1] !== null));
      store.put({ shelf: { lessons, pictures } });
    }
    const id = homes.current?.id;
    if (shown === 'versions') store.put({ shelf: { versions: id ? await shelf.versions(id) : [] } });
  }

  /** Id of the lesson on the table; null while it has no place on the shelf. */
  get idOnTable(): string | null {
    return this.parts.homes.current?.id ?? null;
  }

  private isOnTable(id: string): boolean {
    return this.idOnTable === id;
  }

  private tellOf(kept: Kept): void {
    if (kept.kind === 'kept' || kept.kind === 'changed-elsewhere') return;
    this.parts.store.say(words.notKept[kept.kind]);
  }
}

function retitled(text: string, title: string): string {
  return JSON.stringify({ ...(JSON.parse(text) as Lesson), title });
}
