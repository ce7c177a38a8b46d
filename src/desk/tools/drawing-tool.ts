/** The drawing tools, taken in hand and put away. What they do is fetched when they are first wanted. */
import type { Edits } from '../document/edits.ts';
import type { Store } from '../store.ts';
import type { Drawing } from './drawing.ts';
import { undrawn } from './drawing-state.ts';
import type { Picking } from './picking.ts';

export class DrawingTool {
  private fetched: Drawing | null = null;

  constructor(
    private readonly store: Store,
    private readonly edits: Edits,
    private readonly picking: Picking,
  ) {}

  /** What draws; only while the tools are in hand. */
  get hands(): Drawing {
    if (!this.fetched) throw new Error('drawing tools not in hand');
    return this.fetched;
  }

  toggle = (): Promise<void> => (this.store.drawing.on ? this.putAway() : this.begin());

  /** Once fetched, drawing begins at once: no key that is pressed after it can come before it. */
  fetch = async (): Promise<void> => {
    if (this.fetched) return;
    const [{ Drawing }, { DrawingNow }] = await Promise.all([
      import('./drawing.ts'),
      import('./drawing-now.ts'),
    ]);
    this.fetched ??= new Drawing(this.store, this.edits, this.picking, new DrawingNow(this.store));
  };

  begin = async (): Promise<void> => {
    if (!this.fetched) await this.fetch();
    if (this.store.drawing.on) return;
    const { kind, angle, extent, length, distance, count, parts, tool } = this.store.drawing;
    const kept = { kind, angle, extent, length, distance, count, parts, tool };
    this.store.put({
      drawing: { ...undrawn, ...kept, on: true },
      look: { view: 'sheet', hover: null, marks: null },
    });
  };

  /** Steps back, at last out of drawing. @returns whether there was anything */
  back(): boolean {
    if (!this.store.drawing.on) return false;
    if (!this.fetched?.back()) void this.putAway();
    return true;
  }

  private async putAway(): Promise<void> {
    this.store.put({
      drawing: { on: false, given: [], choice: null, cursor: null, stroke: null, trouble: null },
    });
  }
}
