/**
 * The one way by which a lesson changes. An edit goes into the history, into the state, to what is computed from it, and
 * to the shelf; so do undo and redo.
 */
import type { EyePlace } from '../../core/lesson/eye.ts';
import type { Lesson, Step } from '../../core/lesson/lesson.ts';
import { stillPointOf } from '../../core/run/stages.ts';
import { words } from '../../words/words.ts';
import type { ReadyLesson } from '../../worker/protocol.ts';
import type { Around, ScreenPlace } from '../around.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Looks } from '../run/looks.ts';
import type { Pictures } from '../run/pictures.ts';
import type { Rebuild } from '../run/rebuild.ts';
import type { Tracks } from '../run/tracks.ts';
import type { Store } from '../store.ts';
import type { History, Settings, StatesAround } from './history.ts';
import type { Keeping } from './keeping.ts';
import type { Table } from './table.ts';

interface Parts {
  readonly store: Store;
  readonly history: History;
  readonly table: Table;
  readonly keeping: Keeping;
  readonly playhead: Playhead;
  readonly tracks: Tracks;
  readonly looks: Looks;
  readonly rebuild: Rebuild;
  readonly pictures: Pictures;
  readonly screen: ScreenPlace;
  readonly around: Pick<Around, 'clock' | 'motionReduced'>;
}

export class Edits {
  constructor(private readonly parts: Parts) {}

  /**
   * Makes a change of the lesson that can be taken back.
   * @param flowing several at short notice with the same word are one edit: a colour being dragged, a text being typed
   */
  lesson(what: string, change: (lesson: Lesson) => Lesson, flowing = false): void {
    const { lesson } = this.parts.store.document;
    const after = lesson && change(lesson);
    if (after && after !== lesson) this.make(what, { lesson: after }, flowing);
  }

  /** Makes a change that can be taken back. */
  make(what: string, change: Partial<Settings>, flowing = false): void {
    const before = this.settings;
    if (!before) return;
    const after = { ...before, ...change };
    this.parts.history.add({ what, before, after, at: this.parts.around.clock.now() }, flowing);
    this.put(after, before);
  }

  undo = (): void => {
    const edit = this.parts.history.back();
    if (edit) this.put(edit.before, edit.after);
    else this.sayEnd(words.undoEnds);
  };

  redo = (): void => {
    const edit = this.parts.history.forth();
    if (edit) this.put(edit.after, edit.before);
    else this.sayEnd(words.redoEnds);
  };

  /** Puts a lesson that was opened on the table. What was done to the one before stays with that one. */
  open(ready: ReadyLesson, place = 0): void {
    const { history, table, keeping, store } = this.parts;
    history.clear();
    store.put({ look: { allFindings: false } });
    table.show(ready, place);
    keeping.onTable(ready.lesson);
    this.tell();
    void this.parts.rebuild.getReady();
  }

  /** After a restart undo goes on where it was. */
  putStatesAround(states: StatesAround): void {
    const { history } = this.parts;
    const now = this.settings;
    if (now) history.putStatesAround(states, now);
    this.tell();
  }

  /** Everything that an edit may change, as it is now. */
  get settings(): Settings | null {
    const { store, screen } = this.parts;
    const { lesson } = store.document;
    const { bend, free } = store.run;
    return lesson && { lesson, turned: store.look.turned, bend, free, eye: screen.now?.eye ?? null };
  }

  private sayEnd(text: string): void {
    if (this.parts.store.document.lesson) this.parts.store.say(text, 'plain');
  }

  private put(settings: Settings, before: Settings): void {
    const { lesson, turned, bend, free } = settings;
    this.parts.store.put({ document: { lesson }, look: { turned }, run: { bend, free } });
    this.tell();
    if (lesson !== before.lesson) this.parts.keeping.onTable(lesson);
    this.look(settings, before);
    this.compute(settings, before);
  }

  private tell(): void {
    const { store, history } = this.parts;
    const { canUndo, canRedo } = history;
    store.put({ document: { canUndo, canRedo } });
  }

  /** Turns and moves the view to where it belongs. */
  private look(settings: Settings, before: Settings): void {
    const { screen, store, around } = this.parts;
    const ease = !around.motionReduced();
    if (settings.turned !== before.turned) screen.now?.turnOver(store.isTurned, ease);
    if (settings.eye && settings.eye !== before.eye) screen.now?.flyTo(settings.eye as EyePlace, ease);
  }

  /** Has anew what depends on what was changed. */
  private compute(settings: Settings, before: Settings): void {
    const { store, tracks, looks, playhead, pictures } = this.parts;
    const [now, then] = [settings.lesson, before.lesson];
    const told = now.steps !== then.steps || now.precreases !== then.precreases;
    // a tear is stated in mm, so a failed motion is told anew when the sheet's size changes
    const restate =
      now.sheet.size !== then.sheet.size && store.run.steps.some((step) => step.status === 'fails');
    if (now.pattern !== then.pattern || told) void this.rebuild(now, then);
    else if (settings.bend !== before.bend || settings.free !== before.free || restate)
      void tracks.compute(playhead.place);
    else if (paperGivesOtherwise(now, then)) looks.askAgain(0);
    else if (now.still !== then.still) this.keepStill();
    const sides = now.sheet.sideUp !== then.sheet.sideUp || now.sheet.sides !== then.sheet.sides;
    if (sides || turnsOtherwise(now.steps, then.steps)) pictures.takeAllSoon();
  }

  /** A pattern that makes no sheet takes the edit back, and with it what was done before that was known. */
  private async rebuild(now: Lesson, then: Lesson): Promise<void> {
    const { store, rebuild } = this.parts;
    const refused = await rebuild.lessonChanged(now, then);
    if (refused === null) return;
    const stands = () => store.document.lesson?.pattern === now.pattern && now.pattern !== then.pattern;
    do this.undo();
    while (stands() && store.document.canUndo);
    store.say(refused);
  }

  private keepStill(): void {
    const { store, playhead, tracks } = this.parts;
    const { lesson, sheet } = store.document;
    if (!lesson || !sheet) return;
    store.put({ look: { verdict: null } });
    tracks.keepStill(stillPointOf(lesson, sheet));
    playhead.refresh();
  }
}

/** How far paper gives is a matter of mm. */
const paperGivesOtherwise = ({ sheet: now }: Lesson, { sheet: then }: Lesson): boolean =>
  now.size !== then.size || now.thickness !== then.thickness || now.lidSize !== then.lidSize;

/** How far steps turn the model round is seen in their pictures, and in nothing that is computed. */
const turnsOtherwise = (now: readonly Step[], then: readonly Step[]): boolean =>
  now !== then && now.some(({ turn }, k) => turn !== then[k]?.turn);
