/** Shelves that fail when a test says so, and tabs that hold lessons against each other, all in one process. */
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { bytesOf } from '../../src/core/storage/text.ts';
import type { Around } from '../../src/desk/around.ts';
import { Desk } from '../../src/desk/desk.ts';
import type { Hold, Kept, KeptLesson } from '../../src/keep/kept.ts';
import { Shelf } from '../../src/keep/shelf.ts';
import { eventually, HandClock, workingAround } from './desk.ts';

/** The real shelf, whose writings fail while `fails` names a reason. It remembers what was asked to be written. */
export class FailingShelf extends Shelf {
  fails: (id: string) => 'full' | 'closed' | null = () => null;
  /** Writings wait for this, where it is set. */
  waits: Promise<void> | null = null;
  readonly asked: { readonly id: string; readonly title: string }[] = [];

  override async put(...what: Parameters<Shelf['put']>): Promise<Kept> {
    const [{ id, text }] = what;
    this.asked.push({ id, title: JSON.parse(text).title });
    if (this.waits) await this.waits;
    const why = this.fails(id);
    if (why === 'full') return { kind: 'full' };
    return why ? { kind: 'closed', message: 'switched off' } : super.put(...what);
  }
}

/** Locks as a browser gives them: one tab at a time has one of a name, the others wait in turn. */
export class Locks {
  private readonly waiting = new Map<string, { readonly later: (() => void) | null }[]>();

  readonly hold = (id: string, later: () => void): Hold => {
    const queue = this.waiting.get(id) ?? [];
    this.waiting.set(id, queue);
    const mine = { later: queue.length > 0 ? later : null };
    queue.push(mine);
    return {
      known: Promise.resolve(queue[0] === mine),
      release: () => {
        const at = queue.indexOf(mine);
        if (at < 0) return;
        queue.splice(at, 1);
        if (at === 0) queue[0]?.later?.();
      },
    };
  };
}

/** A tab of a browser: a desk with a clock of its own on a shelf that others may have, too. */
export function tab(name: string, locks = new Locks(), changes: Partial<Around> = {}) {
  const clock = new HandClock();
  const shelf = new FailingShelf(name);
  const around = workingAround(name, () => Promise.reject(new Error('nothing is served')));
  const desk = new Desk({ ...around, clock, shelf, hold: locks.hold, ...changes });
  desk.begin();
  return { desk, clock, shelf };
}

/** Opens a lesson's file as if it were dropped on the page. */
export const dropFile = (desk: Desk, lesson: Lesson): Promise<boolean> =>
  desk.opening.openBytes('dropped.json', bytesOf(JSON.stringify(lesson)));

/** Waits until the shelf has lessons of these titles, in any order. */
export const shelfHas = (shelf: Shelf, ...titles: string[]) =>
  eventually(async () => {
    const kept = (await shelf.list()).map(({ title }) => title).sort();
    if (kept.join() !== titles.toSorted().join()) throw new Error(`the shelf has ${kept.join()}`);
  });

/** The lesson of a title on a shelf. */
export const keptAs = async (shelf: Shelf, title: string): Promise<KeptLesson> =>
  (await shelf.list()).find((one) => one.title === title)!;
