/** Finds lines of a net near a point or along a straight line, without looking at all of them. */

import Flatbush from 'flatbush';
import { ROUNDING } from '../numeric/tolerance.ts';
import type { Net } from '../sheet/rings.ts';

/** Nets with fewer lines are looked through from end to end. */
const FEW = 24;

export class LineIndex {
  private readonly boxes: Flatbush | null = null;
  private readonly everyLine: readonly number[] = [];
  /** Length of the pieces in which a straight line is followed. */
  private readonly stride: number = 0;

  constructor({ x, y, from, to }: Net) {
    const count = from.length;
    if (count < FEW) {
      this.everyLine = Array.from({ length: count }, (_, e) => e);
      return;
    }
    const boxes = new Flatbush(count);
    for (let e = 0; e < count; e++) {
      const [ax, ay, bx, by] = [x[from[e]!]!, y[from[e]!]!, x[to[e]!]!, y[to[e]!]!];
      boxes.add(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by));
    }
    boxes.finish();
    this.boxes = boxes;
    this.stride = (boxes.maxX - boxes.minX + boxes.maxY - boxes.minY) / Math.sqrt(count);
  }

  /** Lines whose boxes meet a box; others may be among them. */
  inBox(minX: number, minY: number, maxX: number, maxY: number): readonly number[] {
    return this.boxes ? this.boxes.search(minX, minY, maxX, maxY) : this.everyLine;
  }

  /**
   * Lines near a straight line through (x, y) in the unit direction (dx, dy), from parameter `start` on, in pieces:
   * all lines that come within `reach` up to `end` have been given by then. Lines may come again, and others with them.
   */
  *along(
    x: number,
    y: number,
    dx: number,
    dy: number,
    start: number,
    reach: number,
  ): Generator<{ lines: readonly number[]; end: number }> {
    const { boxes } = this;
    if (!boxes) {
      yield { lines: this.everyLine, end: Number.POSITIVE_INFINITY };
      return;
    }
    const [low, high] = inside(boxes, x, y, dx, dy, reach);
    for (let t = Math.max(low, start); t <= high; t += this.stride) {
      const [px, py] = [x + t * dx, y + t * dy];
      const [qx, qy] = [px + this.stride * dx, py + this.stride * dy];
      const lines = boxes.search(
        Math.min(px, qx) - reach,
        Math.min(py, qy) - reach,
        Math.max(px, qx) + reach,
        Math.max(py, qy) + reach,
      );
      yield { lines, end: t + this.stride };
    }
  }
}

/** Parameters between which a straight line runs within the box round everything. */
function inside(
  boxes: Flatbush,
  x: number,
  y: number,
  dx: number,
  dy: number,
  reach: number,
): [number, number] {
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const [at, d, min, max] of [
    [x, dx, boxes.minX - 2 * reach, boxes.maxX + 2 * reach],
    [y, dy, boxes.minY - 2 * reach, boxes.maxY + 2 * reach],
  ] as const) {
    if (Math.abs(d) < ROUNDING) {
      if (at < min || at > max) return [0, -1];
      continue;
    }
    const [p, q] = [(min - at) / d, (max - at) / d];
    low = Math.max(low, Math.min(p, q));
    high = Math.min(high, Math.max(p, q));
  }
  return [low, high];
}

const indices = new WeakMap<Net, LineIndex>();

/** The index of a net, made when it is first asked for. */
export function lineIndexOf(net: Net): LineIndex {
  let index = indices.get(net);
  if (!index) {
    index = new LineIndex(net);
    indices.set(net, index);
  }
  return index;
}
