/** Conditions on literals in rows of plain numbers, equal ones once: there are hundreds of thousands on large sheets. */
import { nextPower } from '../numeric/plane.ts';
import type { Literal } from './overlaps.ts';

/** A list of rows of whole numbers that grows; of rows equal in their first `key` numbers the first is kept. */
export class RowSet {
  rows: Int32Array;
  count = 0;
  private table = new Int32Array(256).fill(-1);

  constructor(
    private readonly width: number,
    private readonly key: number,
  ) {
    this.rows = new Int32Array(64 * width);
  }

  /** Where the next row is to be written, before `keep`. */
  next(): number {
    if ((this.count + 1) * this.width > this.rows.length) this.grow();
    return this.count * this.width;
  }

  /** Keeps the row just written, unless there is one like it. */
  keep(): void {
    const { width, key, rows, table } = this;
    const start = this.count * width;
    const mask = table.length - 1;
    let slot = this.hashAt(start) & mask;
    for (; table[slot] !== -1; slot = (slot + 1) & mask) {
      const other = table[slot]! * width;
      let k = 0;
      while (k < key && rows[other + k] === rows[start + k]) k++;
      if (k === key) return;
    }
    table[slot] = this.count++;
  }

  private hashAt(start: number): number {
    let h = 0;
    for (let k = 0; k < this.key; k++) h = Math.imul(h ^ this.rows[start + k]!, 0x9e3779b1) ^ (h >>> 15);
    return h ^ (h >>> 13);
  }

  private grow(): void {
    const rows = new Int32Array(2 * this.rows.length);
    rows.set(this.rows);
    this.rows = rows;
    this.table = new Int32Array(nextPower((2 * rows.length) / this.width)).fill(-1);
    const mask = this.table.length - 1;
    for (let row = 0; row < this.count; row++) {
      let slot = this.hashAt(row * this.width) & mask;
      while (this.table[slot] !== -1) slot = (slot + 1) & mask;
      this.table[slot] = row;
    }
  }
}

/** Where a row has fewer literals than four. */
export const NO_LITERAL = -1;
export const MIXED_WIDTH = 3;
export const EVEN_WIDTH = 6;

/** Paper that crosses whatever the layers. */
interface Crossing {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
}

/** Gives each condition "these three literals are not all alike"; some may come again. */
export type EachMixed = (visit: (a: Literal, b: Literal, c: Literal) => void) => void;

export class ConditionTable {
  private readonly evenSet = new RowSet(EVEN_WIDTH, 4);
  readonly never: Crossing[] = [];

  /** @param eachMixed there are too many of these to keep them: most are settled as soon as they are seen */
  constructor(readonly eachMixed: EachMixed = () => {}) {}

  /** The mixed conditions in rows, each once. */
  mixed(): { rows: Int32Array; count: number } {
    const set = new RowSet(MIXED_WIDTH, MIXED_WIDTH);
    this.eachMixed((a, b, c) => {
      const at = set.next();
      set.rows[at] = a;
      set.rows[at + 1] = b;
      set.rows[at + 2] = c;
      set.keep();
    });
    return { rows: set.rows, count: set.count };
  }

  get evenCount(): number {
    return this.evenSet.count;
  }

  /** Four literals each, or NO_LITERAL, whose exclusive or is false; then up to two creases that ask for it, or NONE. */
  get even(): Int32Array {
    return this.evenSet.rows;
  }

  addEven(a: Literal, b: Literal, c: Literal, d: Literal, crease: number, other: number): void {
    const at = this.evenSet.next();
    const { rows } = this.evenSet;
    rows[at] = a;
    rows[at + 1] = b;
    rows[at + 2] = c;
    rows[at + 3] = d;
    rows[at + 4] = crease;
    rows[at + 5] = other;
    this.evenSet.keep();
  }

  addTrue(literal: Literal, crease: number, other: number): void {
    this.addEven(literal ^ 1, NO_LITERAL, NO_LITERAL, NO_LITERAL, crease, other);
  }
}
