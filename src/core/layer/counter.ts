/**
 * Counts solutions without visiting each: what is left open after a choice often falls into components that share
 * nothing, whose counts multiply, and the same components come up again and again, so that counts are remembered
 * (the way of exact model counters; Sang and others 2004, Thurley 2006, from memory).
 */
import { seededRandom } from '../numeric/random.ts';
import type { Search } from './search.ts';

/** Unknowns that hang together by conditions still open. */
interface Component {
  readonly unknowns: Int32Array;
  /** Fingerprint of what is open in it. */
  readonly print: Int32Array;
  /** The unknown to choose next: the one with most conditions that its value settles. */
  readonly choice: number;
}

/** A component whose count is under way. */
interface Frame {
  readonly component: Component;
  /** Sides of the choice that have been taken up: 1, then 0. */
  sides: number;
  /** States of the sides that are done. */
  total: bigint;
  /** Within a side: product of the components that are done, and those that are not. */
  product: bigint;
  waiting: Component[];
  within: boolean;
}

const OPEN = 2;

export class Counter {
  private readonly frames: Frame[] = [];
  private readonly counts: CountTable;
  private readonly marks: Fingerprints;
  private readonly reached: Int32Array;
  /** Unknowns of the component in hand. */
  private readonly own: Int32Array;
  private stamp = 0;
  private product = 1n;
  private waiting: Component[];
  /** The number of solutions, once it is known. */
  result: bigint | null = null;

  /** @param search one that nothing has been chosen in; it is used up */
  constructor(private readonly search: Search) {
    const { unknowns, mixedOthers, evenStart } = search;
    this.counts = new CountTable();
    this.marks = new Fingerprints(unknowns, mixedOthers.length / 2, evenStart.length);
    this.reached = new Int32Array(unknowns);
    this.own = new Int32Array(unknowns);
    if (!search.settle()) {
      this.result = 0n;
      this.waiting = [];
      return;
    }
    const all = Int32Array.from({ length: unknowns }, (_, k) => k);
    this.waiting = this.componentsOf(all, (free) => {
      this.product <<= BigInt(free);
    });
  }

  /** Works on for a number of choices; true when the result is known. */
  run(choices: number): boolean {
    for (let left = choices; this.result === null && left > 0; ) {
      const frame = this.frames.at(-1);
      if (!frame) this.begin();
      else if (!frame.within) {
        left--;
        this.takeSide(frame);
      } else if (frame.product === 0n || frame.waiting.length === 0) {
        frame.total += frame.product;
        frame.within = false;
        this.search.retract();
      } else {
        const known = this.open(frame.waiting.pop()!);
        if (known !== null) frame.product *= known;
      }
    }
    return this.result !== null;
  }

  /** States that have been counted for certain. */
  atLeast(): bigint {
    let bound = 0n;
    for (const { total, product, waiting, within } of this.frames.toReversed())
      bound = total + (within && waiting.length === 0 ? product * bound : 0n);
    return this.waiting.length === 0 ? this.product * bound : 0n;
  }

  private begin(): void {
    const component = this.product === 0n ? undefined : this.waiting.pop();
    if (!component) this.result = this.product;
    else {
      const known = this.open(component);
      if (known !== null) this.product *= known;
    }
  }

  /** The count of a component if it is remembered; else it is taken up. */
  private open(component: Component): bigint | null {
    const known = this.counts.get(component.print);
    if (known !== null) return known;
    this.frames.push({ component, sides: 0, total: 0n, product: 1n, waiting: [], within: false });
    return null;
  }

  private takeSide(frame: Frame): void {
    const { component } = frame;
    if (frame.sides === 2) {
      this.counts.set(component.print, frame.total);
      this.frames.pop();
      const above = this.frames.at(-1);
      if (above) above.product *= frame.total;
      else this.product *= frame.total;
      return;
    }
    const literal = 2 * component.choice + frame.sides;
    frame.sides++;
    if (!this.search.assume(literal)) {
      this.search.retract();
      return;
    }
    frame.within = true;
    frame.product = 1n;
    frame.waiting = this.componentsOf(component.unknowns, (free) => {
      frame.product <<= BigInt(free);
    });
  }

  /** Components of what is open among some unknowns, large ones first; `free` is told how many hang on nothing. */
  private componentsOf(among: Int32Array, free: (count: number) => void): Component[] {
    const { value } = this.search;
    const components: Component[] = [];
    let single = 0;
    this.stamp++;
    for (const unknown of among) {
      if (value[2 * unknown] !== OPEN || this.reached[unknown] === this.stamp) continue;
      const component = this.componentFrom(unknown);
      if (component) components.push(component);
      else single++;
    }
    if (single > 0) free(single);
    return components.sort((a, b) => b.unknowns.length - a.unknowns.length);
  }

  /** The component of an open unknown; null where nothing hangs on it. */
  private componentFrom(start: number): Component | null {
    const { value, mixedStart, mixedOthers } = this.search;
    const { reached, stamp, marks, own } = this;
    const print = new Int32Array(PRINT);
    let choice = start;
    let best = -1;
    let size = 1;
    own[0] = start;
    reached[start] = stamp;
    for (let k = 0; k < size; k++) {
      const unknown = own[k]!;
      marks.addUnknown(print, unknown);
      let weight = 0;
      for (let at = mixedStart[unknown]!; at < mixedStart[unknown + 1]!; at++) {
        const p = mixedOthers[2 * at]!;
        const q = mixedOthers[2 * at + 1]!;
        const [atP, atQ] = [value[p]!, value[q]!];
        if (atP !== OPEN && atQ !== OPEN) continue;
        if (atP === OPEN && reached[p >> 1] !== stamp) {
          reached[p >> 1] = stamp;
          own[size++] = p >> 1;
        }
        if (atQ === OPEN && reached[q >> 1] !== stamp) {
          reached[q >> 1] = stamp;
          own[size++] = q >> 1;
        }
        if (atP !== atQ) {
          weight++;
          const other = atP === OPEN ? p : q;
          // one mark for a condition: from the lower of its two open unknowns
          if (atP + atQ === OPEN + 1 && unknown < other >> 1) marks.addMixed(print, at);
        }
      }
      for (let at = this.search.evenOfStart[unknown]!; at < this.search.evenOfStart[unknown + 1]!; at++) {
        const now = this.followEven(unknown, this.search.evenOf[at]!, print, size);
        if (now < 0) continue;
        size = now;
        weight++;
      }
      if (weight > best) {
        best = weight;
        choice = unknown;
      }
    }
    return size === 1 ? null : { unknowns: own.slice(0, size), print, choice };
  }

  /** Reaches the other open unknowns of an even row: how many are reached then; -1 where there are none. */
  private followEven(unknown: number, row: number, print: Int32Array, size: number): number {
    const { value, even, evenStart } = this.search;
    const { reached, stamp, own } = this;
    let parity = 0;
    let lowest = unknown;
    let opens = 0;
    let now = size;
    for (let k = evenStart[row]!; k < evenStart[row + 1]!; k++) {
      const literal = even[k]!;
      if (value[literal] !== OPEN) {
        parity ^= value[literal]!;
        continue;
      }
      opens++;
      const other = literal >> 1;
      if (other < lowest) lowest = other;
      if (reached[other] === stamp) continue;
      reached[other] = stamp;
      own[now++] = other;
    }
    if (opens < 2) return -1;
    if (lowest === unknown && parity === 1) this.marks.addEven(print, row);
    return now;
  }
}

/** Words of 32 bits in a fingerprint: that two of a million components share one has odds of one in 10 ^ 26. */
const PRINT = 4;

/**
 * What is open in a component, in 128 bits: which unknowns, and of each condition that is partly settled which way
 * (Zobrist 1970). Which conditions are partly settled follows from which unknowns are open.
 */
class Fingerprints {
  private readonly ofUnknown: Int32Array;
  private readonly ofMixed: Int32Array;
  private readonly ofEven: Int32Array;

  constructor(unknowns: number, mixed: number, even: number) {
    const random = seededRandom(1);
    const words = (count: number) =>
      Int32Array.from({ length: PRINT * count }, () => Math.floor(random() * 2 ** 32) | 0);
    this.ofUnknown = words(unknowns);
    this.ofMixed = words(mixed);
    this.ofEven = words(even);
  }

  addUnknown(print: Int32Array, unknown: number): void {
    for (let k = 0; k < 4; k++) print[k]! ^= this.ofUnknown[4 * unknown + k]!;
  }

  addMixed(print: Int32Array, occurrence: number): void {
    for (let k = 0; k < 4; k++) print[k]! ^= this.ofMixed[4 * occurrence + k]!;
  }

  addEven(print: Int32Array, row: number): void {
    for (let k = 0; k < 4; k++) print[k]! ^= this.ofEven[4 * row + k]!;
  }
}

/** Counts by fingerprint. When it is full all are forgotten. */
class CountTable {
  private size = 1 << 12;
  private prints = new Int32Array(4 * this.size);
  private counts: (bigint | undefined)[] = new Array(this.size);
  private used = 0;

  get(print: Int32Array): bigint | null {
    return this.counts[this.slotOf(print)] ?? null;
  }

  set(print: Int32Array, count: bigint): void {
    if (2 * this.used > this.size) this.grow();
    const slot = this.slotOf(print);
    if (this.counts[slot] === undefined) this.used++;
    this.counts[slot] = count;
    this.prints.set(print, 4 * slot);
  }

  private slotOf(print: Int32Array): number {
    const { prints, counts } = this;
    const mask = this.size - 1;
    let slot = print[0]! & mask;
    while (counts[slot] !== undefined) {
      const at = 4 * slot;
      if (
        prints[at] === print[0] &&
        prints[at + 1] === print[1] &&
        prints[at + 2] === print[2] &&
        prints[at + 3] === print[3]
      )
        break;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  private grow(): void {
    const { prints, counts, size } = this;
    const full = size >= MOST_COUNTS;
    this.size = full ? size : 4 * size;
    this.prints = new Int32Array(4 * this.size);
    this.counts = new Array(this.size);
    this.used = 0;
    if (full) return;
    for (let slot = 0; slot < size; slot++)
      if (counts[slot] !== undefined) this.set(prints.subarray(4 * slot, 4 * slot + 4), counts[slot]!);
  }
}

/** Room for this many counts, half of it used: a hundred megabytes. */
const MOST_COUNTS = 1 << 22;
