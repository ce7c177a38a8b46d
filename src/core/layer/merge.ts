/**
 * Makes conditions few before they are searched: unknowns that must be equal or opposite become one, conditions that
 * always hold go, and what is left falls into parts that share nothing.
 */
import { type ConditionTable, EVEN_WIDTH, NO_LITERAL, RowSet } from './condition-table.ts';
import type { Literal } from './overlaps.ts';
import type { SmallConditions } from './search.ts';

// NO_LITERAL is negative: hot loops test for that, since a constant of another module can be slow to read

/** Unknowns that hang together by conditions, numbered anew so that each hangs together with earlier ones. */
interface Part {
  /** Per unknown of the part the class that it stands for. */
  readonly classes: Int32Array;
  readonly conditions: SmallConditions;
}

export interface Merged {
  readonly parts: readonly Part[];
  /** Classes that no condition holds: each may be true or false. */
  readonly free: Int32Array;
  /** Per unknown: the literal of the class that it equals; 2 * unknowns stands for "true". */
  readonly literal: Int32Array;
}

/** @param asked further rows of literals whose exclusive or is false; null where the conditions contradict each other */
export function mergeConditions(
  unknowns: number,
  table: ConditionTable,
  asked: readonly (readonly Literal[])[],
  tick: () => void = () => {},
): Merged | null {
  if (table.never.length > 0) return null;
  const classes = new Classes(unknowns);
  const even = new EvenRows(classes, table, asked);
  const mixed = new MixedRows(classes, table);
  for (;;) {
    tick();
    if (!even.reduce()) return null;
    const joined = classes.joins;
    if (!mixed.reduce()) return null;
    if (classes.joins === joined) break;
  }
  const literal = Int32Array.from({ length: unknowns }, (_, k) => classes.find(2 * k));
  return { ...partsOf(classes, eachOnce(mixed.left(), even.left())), literal };
}

/** Unknowns merged to classes of equal or opposite ones; the class of "true" is number `size` and stays its own root. */
class Classes {
  private readonly parent: Int32Array;
  /** 1: opposite to the parent. */
  private readonly flip: Uint8Array;
  readonly truth: Literal;
  joins = 0;

  constructor(readonly size: number) {
    this.parent = Int32Array.from({ length: size + 1 }, (_, k) => k);
    this.flip = new Uint8Array(size + 1);
    this.truth = 2 * size;
  }

  /** The literal that stands for a literal's class. */
  find(literal: Literal): Literal {
    const { parent, flip } = this;
    let k = literal >> 1;
    let turned = literal & 1;
    while (parent[k] !== k) {
      const up = parent[k]!;
      // halves the path on the way
      if (parent[up] !== up) {
        flip[k]! ^= flip[up]!;
        parent[k] = parent[up]!;
      }
      turned ^= flip[k]!;
      k = parent[k]!;
    }
    return 2 * k + turned;
  }

  /** Makes two literals equal; false when they are opposite. */
  join(a: Literal, b: Literal): boolean {
    const [p, q] = [this.find(a), this.find(b)];
    if (p >> 1 === q >> 1) return p === q;
    // the lower root stands for both, so that order does not hang on the order of joins; "true" before all
    const [root, child] = q >> 1 === this.size || (p >> 1 !== this.size && q < p) ? [q, p] : [p, q];
    this.parent[child >> 1] = root >> 1;
    this.flip[child >> 1] = (root & 1) ^ (child & 1);
    this.joins++;
    return true;
  }
}

/** Rows of literals with an even number of true ones, made shorter as unknowns merge. */
class EvenRows {
  private readonly literals: Int32Array;
  private count: number;

  constructor(
    private readonly classes: Classes,
    table: ConditionTable,
    asked: readonly (readonly Literal[])[],
  ) {
    this.count = table.evenCount + asked.length;
    this.literals = new Int32Array(4 * this.count);
    for (let row = 0; row < table.evenCount; row++)
      for (let k = 0; k < 4; k++) this.literals[4 * row + k] = table.even[EVEN_WIDTH * row + k]!;
    for (const [k, of] of asked.entries())
      for (let j = 0; j < 4; j++) this.literals[4 * (table.evenCount + k) + j] = of[j] ?? NO_LITERAL;
  }

  /** Merges until nothing changes; false where that leads to a contradiction. */
  reduce(): boolean {
    for (;;) {
      const joins = this.classes.joins;
      let keep = 0;
      for (let row = 0; row < this.count; row++) {
        const size = this.shorten(row);
        if (size < 0) return false;
        if (size < 3) continue;
        this.literals.copyWithin(4 * keep, 4 * row, 4 * row + 4);
        keep++;
      }
      this.count = keep;
      if (this.classes.joins === joins) return true;
    }
  }

  /** How many literals a row has left; 0 where it always holds or has been used up by a merge, -1 where it cannot hold. */
  private shorten(row: number): number {
    const { classes, literals } = this;
    const start = 4 * row;
    let size = 0;
    let parity = 0;
    for (let k = start; k < start + 4; k++) {
      if (literals[k]! < 0) continue;
      const found = classes.find(literals[k]!);
      const unknown = found >> 1;
      parity ^= found & 1;
      if (unknown === classes.size) {
        parity ^= 1;
        continue;
      }
      let j = 0;
      while (j < size && literals[start + j]! >> 1 !== unknown) j++;
      if (j === size) literals[start + size++] = 2 * unknown;
      else literals[start + j] = literals[start + --size]!;
    }
    for (let k = start + size; k < start + 4; k++) literals[k] = NO_LITERAL;
    if (size === 0) return parity === 0 ? 0 : -1;
    literals[start]! ^= parity;
    if (size > 2) return size;
    const other = size === 1 ? classes.truth ^ 1 : literals[start + 1]!;
    return classes.join(literals[start]!, other) ? 0 : -1;
  }

  /** What is left: three or four literals a row. */
  left(): Int32Array {
    return this.literals.subarray(0, 4 * this.count);
  }
}

/** Threes of literals that are not all alike, as far as they are not settled. */
class MixedRows {
  private literals = new Int32Array(3 * 256);
  private count = 0;
  private gathered = false;

  constructor(
    private readonly classes: Classes,
    private readonly table: ConditionTable,
  ) {}

  /** Merges what must be equal; false where that leads to a contradiction. The first time all threes are gone through. */
  reduce(): boolean {
    let possible = true;
    const { count, literals } = this;
    this.count = 0;
    if (this.gathered)
      for (let k = 0; k < 3 * count && possible; k += 3)
        possible = this.keep(literals[k]!, literals[k + 1]!, literals[k + 2]!);
    else
      this.table.eachMixed((a, b, c) => {
        possible &&= this.keep(a, b, c);
      });
    this.gathered = true;
    return possible;
  }

  private keep(a: Literal, b: Literal, c: Literal): boolean {
    const { classes } = this;
    const p = classes.find(a);
    const q = classes.find(b);
    if (p === (q ^ 1)) return true;
    const r = classes.find(c);
    if (p === (r ^ 1) || q === (r ^ 1)) return true;
    // two alike: the third is the other way
    if (p === q) return classes.join(r, p ^ 1);
    if (p === r) return classes.join(q, p ^ 1);
    if (q === r) return classes.join(p, q ^ 1);
    const at = 3 * this.count++;
    if (at + 3 > this.literals.length) {
      const more = new Int32Array(2 * this.literals.length);
      more.set(this.literals);
      this.literals = more;
    }
    this.literals[at] = p;
    this.literals[at + 1] = q;
    this.literals[at + 2] = r;
    return true;
  }

  /** What is left, three literals a row; rows may repeat. */
  left(): Int32Array {
    return this.literals.subarray(0, 3 * this.count);
  }
}

/** Rows of three or four literals, those of mixed conditions (the first `mixed` of them) and then the even ones. */
interface Rows {
  readonly literals: Int32Array;
  readonly count: number;
  readonly mixed: number;
}

/** Each condition once, its literals in order, as many plain as can be: turning all of a mixed one changes nothing. */
function eachOnce(mixedLeft: Int32Array, evenLeft: Int32Array): Rows {
  const mixed = new RowSet(4, 3);
  for (let k = 0; k < mixedLeft.length; k += 3) {
    const at = mixed.next();
    const { rows } = mixed;
    for (let j = 0; j < 3; j++) rows[at + j] = mixedLeft[k + j]!;
    sortRow(rows, at, 3);
    if ((rows[at]! & 1) === 1) for (let j = 0; j < 3; j++) rows[at + j]! ^= 1;
    rows[at + 3] = -1;
    mixed.keep();
  }
  const even = new RowSet(4, 4);
  for (let k = 0; k < evenLeft.length; k += 4) {
    const at = even.next();
    const { rows } = even;
    let parity = 0;
    let size = 0;
    for (let j = k; j < k + 4 && evenLeft[j]! >= 0; j++) {
      parity ^= evenLeft[j]! & 1;
      rows[at + size++] = evenLeft[j]! & ~1;
    }
    sortRow(rows, at, size);
    rows[at]! ^= parity;
    if (size === 3) rows[at + 3] = NO_LITERAL;
    even.keep();
  }
  const literals = new Int32Array(4 * (mixed.count + even.count));
  literals.set(mixed.rows.subarray(0, 4 * mixed.count));
  literals.set(even.rows.subarray(0, 4 * even.count), 4 * mixed.count);
  return { literals, count: mixed.count + even.count, mixed: mixed.count };
}

function sortRow(rows: Int32Array, start: number, size: number): void {
  for (let k = start + 1; k < start + size; k++) {
    const literal = rows[k]!;
    let at = k;
    for (; at > start && rows[at - 1]! > literal; at--) rows[at] = rows[at - 1]!;
    rows[at] = literal;
  }
}

/** Gathers the classes that hang together by conditions; "true" (class number `size`) holds nothing together. */
function partsOf(classes: Classes, rows: Rows): { parts: Part[]; free: Int32Array } {
  const { size } = classes;
  const { literals } = rows;
  const [start, rowsOf] = rowsByClass(size, literals);
  const local = new Int32Array(size + 1).fill(-1);
  const rowSeen = new Uint8Array(rows.count);
  const parts: Part[] = [];
  const free: number[] = [];
  for (let root = 0; root < size; root++) {
    if (local[root] !== -1 || classes.find(2 * root) >> 1 !== root) continue;
    if (start[root] === start[root + 1]) {
      free.push(root);
      continue;
    }
    const own = [root];
    const ownRows: number[] = [];
    local[root] = 0;
    for (let k = 0; k < own.length; k++)
      for (let at = start[own[k]!]!; at < start[own[k]! + 1]!; at++) {
        const row = rowsOf[at]!;
        if (rowSeen[row] === 1) continue;
        rowSeen[row] = 1;
        ownRows.push(row);
        for (let j = 4 * row; j < 4 * row + 4; j++) {
          const unknown = literals[j]! >> 1;
          if (unknown < 0 || unknown === size || local[unknown] !== -1) continue;
          local[unknown] = own.length;
          own.push(unknown);
        }
      }
    // "true" is one more unknown of the part
    local[size] = own.length;
    parts.push(partOf(own, ownRows, rows, local));
  }
  return { parts, free: Int32Array.from(free) };
}

function rowsByClass(size: number, literals: Int32Array): [Int32Array, Int32Array] {
  const start = new Int32Array(size + 2);
  for (let k = 0; k < literals.length; k++) if (literals[k]! >= 0) start[(literals[k]! >> 1) + 1]!++;
  for (let k = 0; k <= size; k++) start[k + 1]! += start[k]!;
  const rows = new Int32Array(start[size + 1]!);
  const fill = start.slice();
  for (let k = 0; k < literals.length; k++) if (literals[k]! >= 0) rows[fill[literals[k]! >> 1]!++] = k >> 2;
  return [start, rows];
}

function partOf(own: readonly number[], ownRows: readonly number[], rows: Rows, local: Int32Array): Part {
  const { literals } = rows;
  const mixedRows = ownRows.reduce((count, row) => count + (row < rows.mixed ? 1 : 0), 0);
  const mixed = new Int32Array(3 * mixedRows);
  const even = new Int32Array(4 * (ownRows.length - mixedRows) + 1);
  const evenStart = [0];
  let mixedSize = 0;
  let evenSize = 0;
  for (const row of ownRows) {
    for (let j = 4 * row; j < 4 * row + 4; j++) {
      if (literals[j]! < 0) continue;
      const renamed = 2 * local[literals[j]! >> 1]! + (literals[j]! & 1);
      if (row < rows.mixed) mixed[mixedSize++] = renamed;
      else even[evenSize++] = renamed;
    }
    if (row >= rows.mixed) evenStart.push(evenSize);
  }
  // an even row of one negated literal makes it true
  even[evenSize++] = 2 * own.length + 1;
  evenStart.push(evenSize);
  return {
    classes: Int32Array.from(own),
    conditions: {
      unknowns: own.length + 1,
      mixed,
      even: even.subarray(0, evenSize),
      evenStart: Int32Array.from(evenStart),
    },
  };
}
