/** After an edit of the lesson: what depends on it is computed anew, what does not is kept. */
import type { Lesson, Step } from '../../core/lesson/lesson.ts';
import type { sheetOfLesson } from '../../core/lesson/sheet-of-lesson.ts';
import { stagesOf } from '../../core/run/stages.ts';
import { cornerInPattern } from '../../core/sheet/frame.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { sentenceOf } from '../../words/findings.ts';
import { words } from '../../words/words.ts';
import type { SolverWork } from '../../worker/work.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';
import type { Looks } from './looks.ts';
import type { Tracks } from './tracks.ts';

/** Patterns up to this many lines are built at once, so that a stroke shows the moment it is drawn. */
const AT_ONCE = 600;

export class Rebuild {
  /** Builds a small sheet at once; fetched once a lesson is on the table, and until then the worker builds them all. */
  private build: typeof sheetOfLesson | null = null;

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly tracks: Tracks,
    private readonly looks: Looks,
    private readonly solver: SolverWork,
  ) {}

  /** Fetches what an edit of the pattern will want. */
  async getReady(): Promise<void> {
    this.build ??= (await import('../../core/lesson/sheet-of-lesson.ts')).sheetOfLesson;
  }

  /** @returns why the edit cannot stand, if its pattern makes no sheet; null else */
  async lessonChanged(now: Lesson, then: Lesson): Promise<string | null> {
    this.store.put({ document: { checked: false } });
    if (now.pattern !== then.pattern) return this.redraw(now, then);
    if (foldsOtherwise(now.steps, then.steps)) return this.restage(now, then);
    const changed = now.steps.findIndex((step, k) => step.orders !== then.steps[k]!.orders);
    if (changed >= 0) this.looks.askAgain(changed);
    return this.findAgain(now, null);
  }

  private redraw(now: Lesson, then: Lesson): Promise<string | null> {
    const small = now.pattern.lines.length <= AT_ONCE;
    const { sheet } = (small && this.build?.(now)) || { sheet: null };
    if (!sheet) return this.findAgain(now, then);
    this.store.put({ document: { sheet }, look: this.lookOn(sheet) });
    return this.restage(now, then);
  }

  /** Numbers of the old sheet mean nothing on the new one; what is picked stays so where it lies. */
  private lookOn(sheet: Sheet) {
    const { picked } = this.store.look;
    const before = this.store.document.sheet;
    const places = new Set(before ? picked.map((crease) => placeOf(before, crease)) : []);
    const stays = [...sheet.creaseKind.keys()].filter((crease) => places.has(placeOf(sheet, crease)));
    return { picked: stays, selection: null, hover: null, marks: null };
  }

  private restage(now: Lesson, then: Lesson): Promise<string | null> {
    const { sheet } = this.store.document;
    if (!sheet) return Promise.resolve(null);
    this.store.put({ document: { stages: stagesOf(now, sheet) } });
    void this.tracks.compute(this.playhead.place, then.steps);
    return this.findAgain(now, null);
  }

  /** Findings are looked for in the worker. @param then where the sheet comes from there, too */
  private async findAgain(now: Lesson, then: Lesson | null): Promise<string | null> {
    const { store } = this;
    const answer = await this.solver.rebuild(now);
    const { lesson } = store.document;
    if (lesson?.pattern !== now.pattern || lesson.steps !== now.steps) return null;
    if (answer.kind === 'refused') {
      const [first] = answer.findings;
      return first ? sentenceOf(first) : words.refusedPlain;
    }
    if (answer.kind === 'broke') store.say(words.broke(answer.message));
    if (answer.kind !== 'ready') return null;
    const { sheet, stages, findings } = answer.ready;
    store.put({ document: { findings, checked: true, trueUp: null } });
    if (!then) return null;
    store.put({ document: { sheet, stages }, look: this.lookOn(sheet) });
    void this.tracks.compute(this.playhead.place, then.steps);
    return null;
  }
}

/** The ends of a crease in pattern units, in one order. */
const placeOf = (sheet: Sheet, crease: number): string =>
  [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!]
    .map((vertex) => cornerInPattern(sheet, vertex).join())
    .sort()
    .join(' ');

const foldsOtherwise = (now: readonly Step[], then: readonly Step[]) =>
  now.length !== then.length ||
  now.some((step, k) => {
    const { drives, through, kind, off } = then[k]!;
    return step.drives !== drives || step.through !== through || step.kind !== kind || step.off !== off;
  });
