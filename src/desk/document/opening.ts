/** Opens lessons: samples, kept ones, files of any kind, an empty square. */
import { square } from '../../core/draw/outline.ts';
import type { Finding } from '../../core/finding/finding.ts';
import { type Lesson, lessonFormat, lessonVersion } from '../../core/lesson/lesson.ts';
import { plainSides } from '../../core/lesson/plain-sides.ts';
import type { LineMapping } from '../../core/storage/drawing/mapping.ts';
import { bytesOf, textOf } from '../../core/storage/text.ts';
import type { KeptLesson, Look, ShelfOfLessons } from '../../keep/kept.ts';
import { sentenceOf } from '../../words/findings.ts';
import { words } from '../../words/words.ts';
import type { FileReply, Reply, SolverWork } from '../../worker/work.ts';
import type { Around, ScreenPlace } from '../around.ts';
import type { StepLooks } from '../play/step-looks.ts';
import { type LessonEntry, nothingAsked, type Store } from '../store.ts';
import type { Edits } from './edits.ts';
import { type Home, type Homes, newHome } from './homes.ts';
import { lookKey } from './kept-looks.ts';
import type { LastOnTable } from './last.ts';
import type { Reading } from './reading.ts';
import { statesRead } from './undo-states.ts';

/** Of a new sheet, mm; the pattern is in mm as well. */
const NEW_SIZE = 150;
/**
 * A database that does not answer for this long at the start is gone on without. After the browser was killed it may have
 * much to put in order, and nothing is worse than a sample in the place of one's own lesson.
 */
const PATIENCE_MILLISECONDS = 15_000;

interface Parts {
  readonly store: Store;
  readonly edits: Edits;
  readonly homes: Homes;
  readonly last: LastOnTable;
  readonly stepLooks: StepLooks;
  readonly shelf: ShelfOfLessons;
  readonly reading: Reading;
  readonly solver: SolverWork;
  readonly screen: ScreenPlace;
  readonly around: Pick<Around, 'clock' | 'fetchFile'>;
}

export class Opening {
  constructor(private readonly parts: Parts) {}

  /** Puts on the table what lay there last, or the first sample. */
  async begin(): Promise<void> {
    const { store, shelf, last: lastOnTable } = this.parts;
    void shelf.tidy();
    const samples = this.fetchSamples();
    // that they are missing is said where they are wanted
    samples.catch(() => {});
    const last = await this.inTime(lastOnTable.find());
    if (last?.id && (await this.openKept(last.id))) {
      await samples.catch(() => {});
      return;
    }
    const why = last?.id ? store.look.notice?.text : undefined;
    try {
      const lessons = await samples;
      const entry = lessons.find((one) => one.file === last?.sample) ?? lessons[0];
      if (!entry || store.document.lesson) return;
      const look = last?.sample === entry.file ? await this.inTime(shelf.look(lookKey(last)!)) : null;
      await this.openSample(entry, look?.place ?? 0);
      if (look) this.lookAsLeft(look);
      // never in silence
      if (why) store.say(words.lastNotOpened(why));
    } catch {
      store.say(words.lessonMissing);
    }
  }

  async openSample({ file }: LessonEntry, place = 0): Promise<void> {
    try {
      const bytes = await this.parts.around.fetchFile(`lessons/${file}`);
      await this.openBytes(file, bytes, newHome({ sample: file }), place);
    } catch {
      this.parts.store.say(words.lessonMissing);
    }
  }

  /** Opens a lesson of the shelf as it was left. @returns whether it is on the table now */
  async openKept(id: string): Promise<boolean> {
    const { shelf, store, homes } = this.parts;
    const kept = await this.inTime(shelf.get(id));
    if (!kept || kept.deleted) return false;
    if (kept.damage) {
      store.say(words.damagedCannotOpen(kept.title || words.damagedTitle, words.damaged[kept.damage]));
      return false;
    }
    const { undo = [], redo = [] } = kept;
    // had before the lesson is shown, so that undo is there with it and not a moment later
    const reading = undo.length + redo.length > 0 ? import('./read-text.ts').catch(() => null) : null;
    const look = await this.inTime(shelf.look(id));
    const states = await this.inTime(shelf.states(id, [...undo, ...redo]));
    const reader = await reading;
    const answer = await this.parts.reading.open(`${kept.title}.json`, bytesOf(kept.text));
    // a text that cannot be read leaves the lesson on the table as it is
    if (answer.kind !== 'ready') return this.receive(answer, newHome());
    store.put({ run: { bend: look?.bend ?? false, free: look?.free ?? false } });
    const same = homes.current?.id === id ? homes.current : null;
    if (same) Object.assign(same, { revision: kept.revision, known: kept.revision, states: null });
    const home = same ?? newHome({ id, revision: kept.revision, copy: kept.copy ?? false });
    this.receive(answer, home, look?.place ?? 0);
    // the states to go back to are those of the lesson as it is looked at
    if (look) this.lookAsLeft(look);
    if (states && reader) this.undoAsLeft(home, kept, states, reader.lessonIn);
    return true;
  }

  /**
   * Opens a file of any kind. A bad one leaves everything as it is and says why.
   * @param home where the lesson is kept; left out for one that has no place yet
   * @param place where the slider is to stand
   * @returns whether a lesson was put on the table
   */
  async openBytes(name: string, bytes: Uint8Array, home: Home = newHome(), place = 0): Promise<boolean> {
    return this.receive(await this.parts.reading.open(name, bytes), home, place);
  }

  /** An empty square, ready to be drawn on. */
  newLesson = async (): Promise<boolean> => {
    const lesson: Lesson = {
      format: lessonFormat,
      version: lessonVersion,
      title: await this.freeTitle(),
      place: '',
      credit: { maker: '', status: '' },
      sheet: { size: NEW_SIZE, sideUp: 'b', sides: plainSides(words.names.sides) },
      pattern: { outline: square(NEW_SIZE), lines: [] },
      steps: [],
    };
    return this.receive(await this.parts.solver.rebuild(lesson), newHome());
  };

  /** "New lesson", or with a number where the shelf has one of that name. */
  private async freeTitle(): Promise<string> {
    const kept = (await this.inTime(this.parts.shelf.list())) ?? [];
    const taken = new Set(kept.map(({ title }) => title));
    for (let number = 1; ; number++) {
      const title = words.newTitle(number);
      if (!taken.has(title)) return title;
    }
  }

  /** Says which sheet of a drawing is meant, from 1, or that all its lines are. */
  async takeSheet(region: number | 'all'): Promise<void> {
    const { store, reading } = this.parts;
    const { title } = (store.opening.which ?? store.opening.asked)!;
    store.put({ opening: { which: null } });
    this.receive(await reading.takeSheet(title, region), newHome());
  }

  /** Says which of the sheets or pages that are asked about is meant. */
  async take(number: number): Promise<void> {
    const { store, reading } = this.parts;
    const { which } = store.opening;
    if (which?.of !== 'page') return this.takeSheet(number);
    store.put({ opening: { which: null } });
    this.receive(await reading.takePage(which.title, number), newHome());
  }

  /** Folds the drawing under these answers; they stay where it makes no sheet. */
  async takeMapping(mapping: LineMapping): Promise<void> {
    const { store, reading } = this.parts;
    const { asked } = store.opening;
    if (!asked) return;
    store.put({ opening: { whyNot: null } });
    const answer = await reading.map(asked.title, mapping);
    if (answer.kind === 'refused') store.put({ opening: { whyNot: refusal(answer.findings) } });
    else this.receive(answer, newHome());
  }

  /** Leaves the file that is being read or asked about. */
  leave = (): void => {
    this.parts.reading.cancel();
    this.parts.store.put({ opening: nothingAsked });
  };

  /** Moves the corners of the drawing so that it closes. */
  async trueUp(): Promise<void> {
    const { store, solver, homes } = this.parts;
    const { lesson } = store.document;
    if (lesson) this.receive(await solver.trueUp(lesson), homes.of(lesson));
  }

  /** The list of sample lessons. Throws where it cannot be had. */
  private async fetchSamples(): Promise<readonly LessonEntry[]> {
    const bytes = await this.parts.around.fetchFile('lessons/index.json');
    const samples = JSON.parse(textOf(bytes)) as LessonEntry[];
    this.parts.store.put({ shelf: { samples } });
    return samples;
  }

  private receive(answer: Reply | FileReply, home: Home, place = 0): boolean {
    const { store, homes, edits } = this.parts;
    switch (answer.kind) {
      case 'ready':
        homes.put(answer.ready.lesson, home);
        home.picture = answer.ready.pictures?.findLast((one) => one !== null) ?? null;
        edits.open(answer.ready, place);
        return true;
      case 'asks-which':
        store.put({ opening: { ...nothingAsked, which: answer.asked }, look: { notice: null } });
        break;
      case 'asks-mapping':
        store.put({ opening: { ...nothingAsked, asked: answer.asked }, look: { notice: null } });
        break;
      case 'refused':
        store.say(refusal(answer.findings));
        break;
      case 'broke':
        store.say(words.broke(answer.message));
    }
    return false;
  }

  /** After a restart undo goes on. */
  private undoAsLeft(
    home: Home,
    kept: KeptLesson,
    found: ReadonlyMap<number, string>,
    read: (text: string) => Lesson | null,
  ): void {
    const { store, homes, edits } = this.parts;
    const { lesson, canUndo, canRedo } = store.document;
    if (!lesson || canUndo || canRedo) return;
    const { states, ...around } = statesRead(kept, found, lesson, read);
    for (const state of [...around.undo, ...around.redo]) homes.put(state, home);
    home.states = states;
    edits.putStatesAround(around);
  }

  private lookAsLeft({ turned = false, eye = null, view = 'model' }: Look): void {
    const { store, screen, stepLooks } = this.parts;
    store.put({ look: { turned, view } });
    screen.now?.turnOver(store.isTurned, false);
    stepLooks.standAsLeft(eye);
  }

  private inTime<T>(reading: Promise<T>): Promise<T | null> {
    const { clock } = this.parts.around;
    return Promise.race([
      reading,
      new Promise<null>((resolve) => clock.later(() => resolve(null), PATIENCE_MILLISECONDS)),
    ]);
  }
}

function refusal(findings: readonly Finding[]): string {
  const worst = findings.find((one) => one.severity === 'error') ?? findings[0];
  return worst ? sentenceOf(worst) : words.refusedPlain;
}
