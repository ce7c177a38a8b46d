/**
 * Keeps what is on the table: every edit is sent to the shelf the moment it is made, in order, without waiting for those
 * before it. A sample, or a lesson that another tab holds, is never written to: the first change makes a copy of one's own.
 */
import type { Lesson } from '../../core/lesson/lesson.ts';
import type { Kept, ShelfOfLessons, WhyClosed } from '../../keep/kept.ts';
import { words } from '../../words/words.ts';
import type { Around, End } from '../around.ts';
import type { Store } from '../store.ts';
import type { History } from './history.ts';
import { type Home, type Homes, rehome } from './homes.ts';
import type { LastOnTable } from './last.ts';
import type { ShelfNews } from './shelf-news.ts';
import { keptText, statesToKeep } from './undo-states.ts';

/** A full or closed database is tried again after this long. */
const AGAIN_MILLISECONDS = 4000;

interface Parts {
  readonly store: Store;
  readonly history: History;
  readonly homes: Homes;
  readonly last: LastOnTable;
  readonly news: ShelfNews;
  readonly shelf: ShelfOfLessons;
  readonly around: Pick<Around, 'clock' | 'hold' | 'newId'>;
  /** Reads a lesson again that another tab has let go of. */
  readonly reopen: (id: string) => Promise<unknown>;
  readonly saveAsFile: () => Promise<void>;
}

export class Keeping {
  /** What could not be kept, if anything: the page asks before it is left. */
  unkept: 'full' | WhyClosed | null = null;
  /** Tells this tab's writings from those of others. */
  private readonly writer: string;
  private again: End = () => {};
  /** Lessons whose newest state could not be kept: all of them are tried again. */
  private readonly late = new Set<Home>();

  constructor(private readonly parts: Parts) {
    this.writer = parts.around.newId();
  }

  /** A lesson was put on the table, or changed there. */
  onTable(lesson: Lesson): void {
    const { homes, last } = this.parts;
    const home = homes.of(lesson);
    if (home === homes.current) {
      this.keep(home, lesson);
      return;
    }
    const left = homes.current;
    homes.current = home;
    if (left) this.letGo(left);
    if (home.id) {
      this.takeHold(home);
      last.remember(home);
    } else if (home.sample) last.remember(home);
    else this.keep(home, lesson);
  }

  /** Gives the lesson on the table its place on the shelf now. @returns its id there */
  async placeNow(lesson: Lesson): Promise<string> {
    const home = this.parts.homes.of(lesson);
    if (!home.id) this.keep(home, lesson);
    while (!home.id) await new Promise<void>((resolve) => this.parts.around.clock.later(resolve, 10));
    return home.id;
  }

  /** The lesson on the table is kept no longer where it was: its place was taken off the shelf. */
  unhome(id: string): void {
    const { current } = this.parts.homes;
    if (current?.id === id) rehome(current, null);
  }

  /** A lesson that is on the table no longer may be changed by another tab, once all of it is written. */
  private letGo(home: Home): void {
    if (home === this.parts.homes.current || home.settling || home.underWay > 0) return;
    home.hold?.release();
    home.hold = null;
    home.held = null;
  }

  private takeHold(home: Home): void {
    const { id } = home;
    const { around, homes, store } = this.parts;
    if (!id || home.hold) return;
    const mine = around.hold(id, () => {
      if (home.hold !== mine) return;
      home.held = true;
      if (homes.current === home) void this.readAgain(home);
    });
    home.hold = mine;
    void mine.known.then((held) => {
      if (home.hold !== mine) return;
      home.held ??= held;
      if (!home.held && homes.current === home) store.say(words.openElsewhere, 'plain', { stays: true });
    });
  }

  /** The other tab has let go: what it wrote last is shown here. */
  private async readAgain(home: Home): Promise<void> {
    const { store, shelf, homes, reopen } = this.parts;
    store.put({ look: { notice: null } });
    const kept = home.id ? await shelf.get(home.id) : null;
    if (kept && homes.current === home && kept.revision !== home.revision) await reopen(kept.id);
  }

  private keep(home: Home, lesson: Lesson): void {
    home.pending = lesson;
    if (home.settling) return;
    if (!home.id && home.sample) this.settleIn(home, this.parts.around.newId());
    else if (home.id && home.held === false) this.becomeCopy(home, words.copyElsewhere);
    if (home.id && home.held) this.send(home, lesson);
    else void this.settle(home);
  }

  /** Waits until it is known where the lesson may be written. */
  private async settle(home: Home): Promise<void> {
    home.settling = true;
    if (home.id) {
      this.takeHold(home);
      await home.hold!.known;
    } else await this.comeBack(home);
    home.settling = false;
    const { shelf, news } = this.parts;
    if (home.id && home.picture) void shelf.putPicture(home.id, home.picture).then(() => news.hear());
    home.picture = null;
    if (home.pending) this.keep(home, home.pending);
    this.letGo(home);
  }

  /** A lesson that had no place on the shelf gets one; the same file opened again comes back to its own. */
  private async comeBack(home: Home): Promise<void> {
    const { shelf, homes, last, around } = this.parts;
    const text = keptText(home.pending!);
    const before = (await shelf.list()).find((one) => one.text === text);
    if (!before) return this.settleIn(home, around.newId());
    Object.assign(home, { id: before.id, revision: before.revision, known: before.revision });
    if (keptText(home.pending!) === text) home.pending = null;
    this.takeHold(home);
    if (home === homes.current) last.remember(home);
  }

  /** Takes a new place, where nobody else can write. */
  private settleIn(home: Home, id: string): void {
    rehome(home, id);
    this.takeHold(home);
    home.held = true;
    if (home === this.parts.homes.current) this.parts.last.remember(home);
  }

  private becomeCopy(home: Home, why: string): void {
    this.settleIn(home, this.parts.around.newId());
    home.copy = true;
    this.parts.store.say(why, 'plain', { stays: true });
  }

  private send(home: Home, lesson: Lesson): void {
    const { shelf, history, homes } = this.parts;
    const id = home.id!;
    const revision = ++home.revision;
    const around = home === homes.current ? history.statesAround() : { undo: [], redo: [] };
    const { undo, redo, changes, after } = statesToKeep(around, home.states);
    home.states = after;
    home.underWay++;
    const text = keptText(lesson);
    const own = { id, text, changed: Date.now(), undo, redo, ...(home.copy && { copy: true }) };
    const turn = { writer: this.writer, known: home.known, revision };
    void shelf.put(own, turn, changes).then((kept) => {
      home.underWay--;
      // what went to a place that was left since is written again at the new one
      if (home.id === id) this.hear(home, lesson, kept);
      this.letGo(home);
    });
  }

  private hear(home: Home, lesson: Lesson, kept: Kept): void {
    const { store, news } = this.parts;
    if (kept.kind === 'kept') {
      home.known = Math.max(home.known, kept.revision);
      if (home.pending === lesson) home.pending = null;
      this.late.delete(home);
      if (this.unkept && this.late.size === 0) {
        this.unkept = null;
        store.say(words.keptAgain, 'plain');
      }
      news.tell();
      return;
    }
    home.pending ??= lesson;
    home.states = null;
    if (kept.kind === 'changed-elsewhere') {
      this.becomeCopy(home, words.copyChanged);
      this.send(home, home.pending);
    } else this.cannotKeep(home, kept.kind);
  }

  private cannotKeep(home: Home, why: 'full' | WhyClosed): void {
    const { store, around, saveAsFile } = this.parts;
    if (this.unkept !== why) {
      const action = { label: words.saveAsFile, run: () => void saveAsFile() };
      store.say(words.notKept[why], 'trouble', { action });
    }
    this.unkept = why;
    this.late.add(home);
    this.again();
    this.again = around.clock.later(() => {
      for (const one of [...this.late]) if (one.pending) this.keep(one, one.pending);
    }, AGAIN_MILLISECONDS);
  }
}
