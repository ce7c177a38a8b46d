/** Whether all that a DXF file draws lies at one height. */
import { LEVEL } from '../../numeric/tolerance.ts';
import type { Space } from '../../numeric/vector.ts';
import { unreadable } from '../refusal.ts';
import type { DxfRecord } from './groups.ts';

/** An entity that leaves the plane, by more than any before it. */
interface Leaving {
  readonly by: number;
  readonly record: DxfRecord;
  readonly height: number;
}

/**
 * Gathers the heights of a drawing. What counts as dust hangs on its size, known at the end only; so those entities
 * are kept that rise further than all before them: the first above any measure is among them.
 */
export class DxfHeights {
  private readonly low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  private readonly high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  /** Height at which the drawing begins. */
  private base: number | null = null;
  private readonly steep: Leaving[] = [];
  private readonly aside: Leaving[] = [];

  add(record: DxfRecord, points: readonly Space[]): void {
    const first = points[0];
    if (!first) return;
    const height = first[2];
    this.base ??= height;
    let rise = 0;
    for (const point of points) {
      this.widen(point);
      rise = Math.max(rise, Math.abs(point[2] - height));
    }
    note(this.steep, { by: rise, record, height });
    note(this.aside, { by: Math.abs(height - this.base), record, height });
  }

  /** Throws a Refusal that names the first entity off the plane, heights that are dust beside the drawing excepted. */
  check(): void {
    const size = Math.max(0, this.high[0]! - this.low[0]!, this.high[1]! - this.low[1]!);
    const beyond = ({ by }: Leaving) => by > LEVEL * size;
    const steep = this.steep.find(beyond)?.record;
    if (steep) throw unreadable({ how: 'dxf-off-plane', type: steep.type, line: steep.line });
    const aside = this.aside.find(beyond);
    if (!aside) return;
    const { type, line } = aside.record;
    throw unreadable({ how: 'dxf-height', type, line, height: aside.height, others: this.base! });
  }

  private widen(point: Space): void {
    for (const axis of [0, 1] as const) {
      this.low[axis] = Math.min(this.low[axis]!, point[axis]);
      this.high[axis] = Math.max(this.high[axis]!, point[axis]);
    }
  }
}

function note(list: Leaving[], one: Leaving): void {
  if (one.by > (list.at(-1)?.by ?? 0)) list.push(one);
}
