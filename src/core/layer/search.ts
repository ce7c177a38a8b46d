/**
 * Search for values of yes-or-no unknowns under small conditions: propagation, learning from each contradiction, and
 * jumps back to where it began (Marques-Silva and Sakallah 1996; first point of unique implication and activities
 * that decay, Moskewicz and others 2001), all from memory. Each solution in turn by turning the last choice round and
 * never jumping back past it (Gebser and others 2007, from memory). No recursion: thousands of unknowns are usual.
 */
import { ChoiceHeap } from './choice-heap.ts';
import type { Literal } from './overlaps.ts';

/** Conditions on unknowns 0 to unknowns - 1. */
export interface SmallConditions {
  readonly unknowns: number;
  /** Three literals each, not all alike. */
  readonly mixed: Int32Array;
  /** Rows of literals whose exclusive or is false; row k runs from evenStart[k] to evenStart[k + 1]. */
  readonly even: Int32Array;
  readonly evenStart: Int32Array;
}

export class OutOfTime extends Error {
  constructor() {
    super('out of time');
  }
}

const OPEN = 2;
/** No reason: chosen, or turned round. */
const NONE = -1;
/** What a reason refers to, in its last two bits: a place of `mixed`, a row of `even`, a learnt clause, an unknown. */
const MIXED = 0;
const EVEN = 1;
const LEARNT = 2;
const SETTLED = 3;

interface Clause {
  /** At least one is true. The first two are watched. */
  readonly literals: Int32Array;
  /** Different levels when it was learnt: the fewer, the more it is worth. */
  readonly spread: number;
  /** References that it was concluded from, where they are kept. */
  readonly from: readonly number[] | null;
}

export class Search {
  readonly unknowns: number;
  /** Value of each literal: 0, 1 or OPEN. */
  readonly value: Uint8Array;
  private readonly trail: Int32Array;
  private trailSize = 0;
  private done = 0;
  private readonly levelOf: Int32Array;
  private readonly reasonOf: Int32Array;
  /** Length of the trail where each level began; the literal there is the level's choice. */
  private readonly levelStart: Int32Array;
  private levels = 0;
  /** Per unknown its mixed conditions: the two other literals, turned so that the unknown itself counts as plain. */
  readonly mixedStart: Int32Array;
  readonly mixedOthers: Int32Array;
  /** The condition that each of these belongs to; for `culprits`. */
  private readonly mixedRow: Int32Array;
  readonly evenOfStart: Int32Array;
  readonly evenOf: Int32Array;
  readonly even: Int32Array;
  readonly evenStart: Int32Array;
  private readonly clauses: (Clause | null)[] = [];
  private kept = 0;
  private mostKept = 2000;
  private readonly watchers: number[][];
  private readonly choices: ChoiceHeap;
  private readonly lastValue: Uint8Array;
  private readonly seen: Uint8Array;
  private contradiction = NONE;
  /** Learnt single literals: they hold on every level, and are put back after each step back. */
  private readonly units: Literal[] = [];
  private ticks = 0;

  /** @param tracing keeps what each conclusion came from, for `culprits` */
  constructor(
    conditions: SmallConditions,
    private readonly tracing = false,
  ) {
    const { unknowns, mixed, even, evenStart } = conditions;
    this.unknowns = unknowns;
    this.value = new Uint8Array(2 * unknowns).fill(OPEN);
    this.trail = new Int32Array(unknowns);
    this.levelStart = new Int32Array(unknowns + 1);
    this.levelOf = new Int32Array(unknowns);
    this.reasonOf = new Int32Array(unknowns).fill(NONE);
    this.lastValue = new Uint8Array(unknowns).fill(1);
    this.seen = new Uint8Array(unknowns);
    this.choices = new ChoiceHeap(unknowns);
    this.watchers = Array.from({ length: 2 * unknowns }, () => []);
    this.even = even;
    this.evenStart = evenStart;
    [this.mixedStart, this.mixedOthers, this.mixedRow] = othersOf(unknowns, mixed, tracing);
    [this.evenOfStart, this.evenOf] = rowsOf(unknowns, even, evenStart);
    this.settleSingles();
  }

  /**
   * Stops at each solution with true, and `value` holds it until the next is asked for; now and then with false, so
   * that the caller can look at the clock.
   */
  *solutions(): Generator<boolean, void> {
    let floor = 0;
    let found = false;
    let restarts = 0;
    let untilRestart = RESTART;
    for (;;) {
      if ((++this.ticks & 63) === 0) yield false;
      const conflict = this.contradiction === NONE ? this.propagate() : this.contradiction;
      if (conflict !== NONE) {
        if (this.levels === 0) {
          this.contradiction = conflict;
          return;
        }
        if (this.levels > floor) this.learn(conflict, floor);
        else floor = this.turnLast();
        untilRestart--;
        continue;
      }
      if (!found && untilRestart <= 0) {
        untilRestart = RESTART * luby(++restarts);
        this.undo(0);
        this.forget();
        continue;
      }
      const next = this.nextChoice();
      if (next >= 0) {
        this.levelStart[this.levels++] = this.trailSize;
        this.put(2 * next + 1 - this.lastValue[next]!, NONE);
        continue;
      }
      found = true;
      yield true;
      if (this.levels === 0) return;
      floor = this.turnLast();
      if (this.kept > this.mostKept) this.forget();
    }
  }

  /** Draws the conclusions that need no choice; false where they contradict each other. */
  settle(): boolean {
    return this.contradiction === NONE && this.propagate() === NONE;
  }

  /** Takes a literal for true, with all that follows from it; false where that is a contradiction. */
  assume(literal: Literal): boolean {
    this.levelStart[this.levels++] = this.trailSize;
    this.put(literal, NONE);
    return this.propagate() === NONE;
  }

  /** Takes back the last assumption. */
  retract(): void {
    this.undo(this.levels - 1);
  }

  /** Mixed conditions and even rows that together allow no solution, after a search that found none. Needs tracing. */
  culprits(): { mixed: number[]; even: number[] } {
    const mixed = new Set<number>();
    const even = new Set<number>();
    const known = new Set<number>();
    const waiting = [this.contradiction];
    while (waiting.length > 0) {
      const reference = waiting.pop()!;
      if (reference === NONE || known.has(reference)) continue;
      known.add(reference);
      const index = reference >> 2;
      const kind = reference & 3;
      if (kind === MIXED) mixed.add(this.mixedRow[index]!);
      else if (kind === EVEN) even.add(index);
      else if (kind === LEARNT) waiting.push(...this.clauses[index]!.from!);
      else waiting.push(this.reasonOf[index]!);
      if (kind !== SETTLED)
        for (const unknown of this.unknownsOf(reference))
          if (this.value[2 * unknown] !== OPEN && this.levelOf[unknown] === 0)
            waiting.push(4 * unknown + SETTLED);
    }
    return { mixed: [...mixed], even: [...even] };
  }

  /** Rows of one literal settle it; an empty row that asks for an odd number of nothing does not occur. */
  private settleSingles(): void {
    for (let row = 0; row + 1 < this.evenStart.length; row++) {
      const start = this.evenStart[row]!;
      if (this.evenStart[row + 1]! - start !== 1) continue;
      if (!this.put(this.even[start]! ^ 1, 4 * row + EVEN)) {
        this.contradiction = 4 * row + EVEN;
        return;
      }
    }
  }

  /** Makes a literal true; false where it is false already. */
  private put(literal: Literal, reason: number): boolean {
    const known = this.value[literal]!;
    if (known !== OPEN) return known === 1;
    this.value[literal] = 1;
    this.value[literal ^ 1] = 0;
    const unknown = literal >> 1;
    this.levelOf[unknown] = this.levels;
    this.reasonOf[unknown] = reason;
    this.trail[this.trailSize++] = literal;
    return true;
  }

  /** Draws all conclusions; a reference to what is broken, or NONE. */
  private propagate(): number {
    const { value, trail, mixedStart, mixedOthers } = this;
    while (this.done < this.trailSize) {
      const literal = trail[this.done++]!;
      const unknown = literal >> 1;
      const own = 1 - (literal & 1);
      const end = mixedStart[unknown + 1]!;
      for (let k = mixedStart[unknown]!; k < end; k++) {
        const p = mixedOthers[2 * k]!;
        const q = mixedOthers[2 * k + 1]!;
        if (value[p] === own) {
          if (value[q] === own) return 4 * k + MIXED;
          if (value[q] === OPEN) this.put(q ^ own, 4 * k + MIXED);
        } else if (value[p] === OPEN && value[q] === own) this.put(p ^ own, 4 * k + MIXED);
      }
      const broken = this.propagateEven(unknown);
      if (broken !== NONE) return broken;
      const clause = this.propagateLearnt(literal ^ 1);
      if (clause !== NONE) return clause;
    }
    return NONE;
  }

  private propagateEven(unknown: number): number {
    const { value, even, evenStart, evenOf } = this;
    for (let k = this.evenOfStart[unknown]!; k < this.evenOfStart[unknown + 1]!; k++) {
      const row = evenOf[k]!;
      let open = NONE;
      let parity = 0;
      let j = evenStart[row]!;
      const end = evenStart[row + 1]!;
      for (; j < end; j++) {
        const known = value[even[j]!]!;
        if (known !== OPEN) parity ^= known;
        else if (open !== NONE) break;
        else open = even[j]!;
      }
      if (j < end) continue;
      if (open !== NONE) this.put(open ^ 1 ^ parity, 4 * row + EVEN);
      else if (parity === 1) return 4 * row + EVEN;
    }
    return NONE;
  }

  private propagateLearnt(falseLiteral: Literal): number {
    const { value } = this;
    const list = this.watchers[falseLiteral]!;
    let keep = 0;
    let broken = NONE;
    for (let k = 0; k < list.length; k++) {
      const index = list[k]!;
      const clause = this.clauses[index];
      if (!clause) continue;
      if (broken !== NONE) {
        list[keep++] = index;
        continue;
      }
      const { literals } = clause;
      if (literals[0] === falseLiteral) {
        literals[0] = literals[1]!;
        literals[1] = falseLiteral;
      }
      const first = literals[0]!;
      if (value[first] !== 1) {
        let j = 2;
        while (j < literals.length && value[literals[j]!] === 0) j++;
        if (j < literals.length) {
          const other = literals[j]!;
          literals[1] = other;
          literals[j] = falseLiteral;
          this.watchers[other]!.push(index);
          continue;
        }
        if (!this.put(first, 4 * index + LEARNT)) broken = 4 * index + LEARNT;
      }
      list[keep++] = index;
    }
    if (keep < list.length) list.length = keep;
    return broken;
  }

  /** The unknowns of what a reference stands for. */
  private unknownsOf(reference: number): number[] {
    const index = reference >> 2;
    if ((reference & 3) === MIXED) {
      const others = this.mixedOthers;
      return [ownerOf(this.mixedStart, index), others[2 * index]! >> 1, others[2 * index + 1]! >> 1];
    }
    const literals =
      (reference & 3) === EVEN
        ? this.even.subarray(this.evenStart[index]!, this.evenStart[index + 1]!)
        : this.clauses[index]!.literals;
    return Array.from(literals, (literal) => literal >> 1);
  }

  /** Learns from a contradiction, goes back as far as what was learnt says (not below `floor`), and concludes from it. */
  private learn(conflict: number, floor: number): void {
    const { seen, value, levelOf, reasonOf, trail } = this;
    const level = this.levels;
    const literals: Literal[] = [0];
    const from: number[] = [];
    const touched: number[] = [];
    let reference = conflict;
    let open = 0;
    let at = this.trailSize - 1;
    for (;;) {
      if (this.tracing) from.push(reference);
      for (const unknown of this.unknownsOf(reference)) {
        if (seen[unknown] === 1) continue;
        if (levelOf[unknown] === 0) {
          if (this.tracing) from.push(4 * unknown + SETTLED);
          continue;
        }
        seen[unknown] = 1;
        touched.push(unknown);
        this.choices.bump(unknown);
        if (levelOf[unknown] === level) open++;
        else literals.push(2 * unknown + value[2 * unknown]!);
      }
      while (seen[trail[at]! >> 1] === 0) at--;
      const literal = trail[at--]!;
      if (--open === 0) {
        literals[0] = literal ^ 1;
        break;
      }
      reference = reasonOf[literal >> 1]!;
    }
    this.shorten(literals, from);
    for (const unknown of touched) seen[unknown] = 0;
    this.choices.decay();
    this.conclude(literals, from, floor);
  }

  /** Leaves out what follows from the rest of a learnt clause by one reason. */
  private shorten(literals: Literal[], from: number[]): void {
    let keep = 1;
    for (let k = 1; k < literals.length; k++) {
      const reason = this.reasonOf[literals[k]! >> 1]!;
      const needs = reason === NONE ? [] : this.unknownsOf(reason);
      const follows =
        reason !== NONE && needs.every((unknown) => this.seen[unknown] === 1 || this.levelOf[unknown] === 0);
      if (!follows) literals[keep++] = literals[k]!;
      else if (this.tracing) {
        from.push(reason);
        for (const unknown of needs) if (this.levelOf[unknown] === 0) from.push(4 * unknown + SETTLED);
      }
    }
    literals.length = keep;
  }

  private conclude(literals: Literal[], from: readonly number[], floor: number): void {
    const { levelOf } = this;
    let back = 0;
    for (let k = 1; k < literals.length; k++) {
      const level = levelOf[literals[k]! >> 1]!;
      if (level <= back) continue;
      back = level;
      [literals[1], literals[k]] = [literals[k]!, literals[1]!];
    }
    const spread = new Set(literals.map((literal) => levelOf[literal >> 1]!)).size;
    this.undo(Math.max(back, floor));
    const index = this.clauses.length;
    this.clauses.push({ literals: Int32Array.from(literals), spread, from: this.tracing ? from : null });
    if (literals.length === 1) this.units.push(literals[0]!);
    else {
      this.watchers[literals[0]!]!.push(index);
      this.watchers[literals[1]!]!.push(index);
      this.kept++;
    }
    this.put(literals[0]!, 4 * index + LEARNT);
  }

  /** Turns the last choice round; the level that it now belongs to. */
  private turnLast(): number {
    for (let level = this.levels - 1; level >= 0; level--) {
      const choice = this.trail[this.levelStart[level]!]!;
      this.undo(level);
      for (const unit of this.units) this.put(unit, NONE);
      if (this.put(choice ^ 1, NONE)) return level;
      // a learnt single literal says that the other side is empty: one more level back
    }
    this.contradiction = CLOSED;
    return 0;
  }

  private undo(level: number): void {
    if (this.levels <= level) return;
    const size = this.levelStart[level]!;
    for (let k = this.trailSize - 1; k >= size; k--) {
      const literal = this.trail[k]!;
      const unknown = literal >> 1;
      this.lastValue[unknown] = 1 - (literal & 1);
      this.value[literal] = OPEN;
      this.value[literal ^ 1] = OPEN;
      this.choices.add(unknown);
    }
    this.trailSize = size;
    this.done = size;
    this.levels = level;
  }

  private nextChoice(): number {
    for (;;) {
      const unknown = this.choices.take();
      if (unknown < 0 || this.value[2 * unknown] === OPEN) return unknown;
    }
  }

  /** Drops the half of the learnt clauses that spread over most levels, but for those that are reasons now. */
  private forget(): void {
    if (this.tracing || this.kept <= this.mostKept) return;
    const inUse = new Set<number>();
    for (let k = 0; k < this.trailSize; k++) {
      const reason = this.reasonOf[this.trail[k]! >> 1]!;
      if (reason !== NONE && (reason & 3) === LEARNT) inUse.add(reason >> 2);
    }
    const candidates = this.clauses.flatMap((clause, index) =>
      clause && clause.literals.length > 2 && clause.spread > 2 && !inUse.has(index) ? [index] : [],
    );
    candidates.sort((a, b) => this.clauses[b]!.spread - this.clauses[a]!.spread || a - b);
    for (const index of candidates.slice(0, candidates.length >> 1)) this.clauses[index] = null;
    this.kept -= candidates.length >> 1;
    this.mostKept += 500;
  }
}

/** Contradictions before the first new start from the top. */
const RESTART = 64;
/** Stands for "everything has been seen". */
const CLOSED = -2;

/** 1, 1, 2, 1, 1, 2, 4, ... (Luby, Sinclair and Zuckerman 1993). */
function luby(k: number): number {
  let size = 1;
  while (size < k + 1) size = 2 * size + 1;
  let at = k;
  while (size - 1 !== at) {
    size = (size - 1) >> 1;
    at %= size;
  }
  return (size + 1) >> 1;
}

function othersOf(
  unknowns: number,
  mixed: Int32Array,
  withRows: boolean,
): [Int32Array, Int32Array, Int32Array] {
  const start = new Int32Array(unknowns + 1);
  for (const literal of mixed) start[(literal >> 1) + 1]!++;
  for (let k = 0; k < unknowns; k++) start[k + 1]! += start[k]!;
  const fill = start.slice();
  const others = new Int32Array(2 * mixed.length);
  const rows = new Int32Array(withRows ? mixed.length : 0);
  for (let row = 0; row < mixed.length; row += 3)
    for (let k = 0; k < 3; k++) {
      const own = mixed[row + k]!;
      const place = fill[own >> 1]!++;
      others[2 * place] = mixed[row + ((k + 1) % 3)]! ^ (own & 1);
      others[2 * place + 1] = mixed[row + ((k + 2) % 3)]! ^ (own & 1);
      if (withRows) rows[place] = row / 3;
    }
  return [start, others, rows];
}

function rowsOf(unknowns: number, even: Int32Array, evenStart: Int32Array): [Int32Array, Int32Array] {
  const start = new Int32Array(unknowns + 1);
  for (const literal of even) start[(literal >> 1) + 1]!++;
  for (let k = 0; k < unknowns; k++) start[k + 1]! += start[k]!;
  const fill = start.slice();
  const rows = new Int32Array(even.length);
  for (let row = 0; row + 1 < evenStart.length; row++)
    for (let k = evenStart[row]!; k < evenStart[row + 1]!; k++) rows[fill[even[k]! >> 1]!++] = row;
  return [start, rows];
}

/** The unknown that an occurrence belongs to, by halving. */
function ownerOf(start: Int32Array, occurrence: number): number {
  let low = 0;
  let high = start.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (start[middle]! <= occurrence) low = middle;
    else high = middle - 1;
  }
  return low;
}
