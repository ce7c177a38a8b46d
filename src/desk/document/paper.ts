/** What the teacher says of the paper, of how freely it folds, and of how it lies. */
import { withStep } from '../../core/lesson/edit-steps.ts';
import { type Lesson, type SideLook, sheetSizes } from '../../core/lesson/lesson.ts';
import { ordersAsPoints } from '../../core/lesson/orders.ts';
import { partNames, withPartName } from '../../core/lesson/part-names.ts';
import { insidePoint } from '../../core/sheet/inside-point.ts';
import type { Store } from '../store.ts';
import type { Edits } from './edits.ts';

/** Thinner paper is taken for a slip of the finger, mm. */
const THINNEST = 0.01;

export class PaperEdits {
  constructor(
    private readonly store: Store,
    private readonly edits: Edits,
  ) {}

  turnOver = () => this.edits.make('turn over', { turned: !this.store.look.turned });
  toggleBend = () => this.edits.make('bend', { bend: !this.store.run.bend });
  toggleFree = () => this.edits.make('free', { free: !this.store.run.free });
  otherSideUp = () => this.setSideUp(this.paper?.sideUp === 'a' ? 'b' : 'a');

  swapColours = () => {
    const sides = this.paper?.sides;
    if (sides) this.change('swap colours', { sides: { a: sides.b, b: sides.a } });
  };

  /** The panel that is selected stays where it is while the others move. */
  keepSelectedStill = () => {
    const { selection } = this.store.look;
    const { sheet } = this.store.document;
    if (selection?.kind !== 'panel' || !sheet) return;
    const [x, y] = insidePoint(sheet, selection.id);
    const { frame } = sheet;
    const still = [frame.x + frame.scale * x, frame.y + frame.scale * y] as const;
    this.edits.lesson('still', (lesson) => ({ ...lesson, still }));
  };

  /** Gives a panel a name; an empty one takes it away. */
  namePanel(panel: number, name: string): void {
    const { lesson, sheet } = this.store.document;
    if (!lesson || !sheet || (partNames(lesson, sheet).get(panel) ?? '') === name.trim()) return;
    this.edits.lesson(`name ${panel}`, (one) => withPartName(one, sheet, panel, name));
  }

  /** Says which of the possible stackings is meant at the end of a step; null forgets what was said. */
  chooseStacking(step: number, choice: number | null): void {
    const { lesson, sheet } = this.store.document;
    const differences = this.store.run.steps[step]?.layers?.differences;
    if (!lesson || !sheet || !differences) return;
    const { orders: _old, ...plan } = lesson.steps[step]!;
    const orders = choice === null ? [] : ordersAsPoints(differences[choice]!, sheet);
    const chosen = orders.length > 0 ? { ...plan, orders } : plan;
    this.edits.lesson('stacking', (one) => withStep(one, step, chosen));
  }

  setSideUp(sideUp: 'a' | 'b'): void {
    this.change('side up', { sideUp });
  }

  /** Of the longer side, mm. */
  setSize = (size: number): void => {
    if (!(size >= sheetSizes.least && size <= sheetSizes.most)) return;
    const resize = ({ sheet: { sizeAssumed: _told, ...paper }, ...lesson }: Lesson): Lesson => ({
      ...lesson,
      sheet: { ...paper, size },
    });
    this.edits.lesson('size', resize, true);
  };

  setThickness = (thickness: number): void => {
    if (thickness >= THINNEST) this.change('thickness', { thickness });
  };

  setColour(side: 'a' | 'b', colour: string): void {
    this.changeSide(`colour ${side}`, side, { colour });
  }

  setName(side: 'a' | 'b', name: string): void {
    if (name.trim()) this.changeSide(`name ${side}`, side, { name: name.trim() });
  }

  private get paper(): Lesson['sheet'] | undefined {
    return this.store.document.lesson?.sheet;
  }

  private change(what: string, change: Partial<Lesson['sheet']>): void {
    this.edits.lesson(what, (lesson) => ({ ...lesson, sheet: { ...lesson.sheet, ...change } }), true);
  }

  private changeSide(what: string, side: 'a' | 'b', change: Partial<SideLook>): void {
    const sides = this.paper?.sides;
    const same =
      sides && Object.entries(change).every(([key, value]) => sides[side][key as keyof SideLook] === value);
    if (sides && !same) this.change(what, { sides: { ...sides, [side]: { ...sides[side], ...change } } });
  }
}
