/**
 * States of a set of yes-or-no unknowns under the conditions of layer orders: found by propagation and search,
 * counted exactly as products over independent parts. Equal and opposite unknowns are merged first. Conditions here
 * are few kinds and small, so an own search is simpler than a general solver and needs no translation of the
 * exclusive ors; see tests for the comparison.
 */
import type { Literal } from './overlaps.ts';
import type { Condition } from './strands.ts';

export interface Count {
  /** Number of states, or of those counted before time ran out. */
  readonly states: bigint;
  readonly exact: boolean;
  /** One state, a value per unknown; null where there is none. */
  readonly first: Uint8Array | null;
}

/** Counts all states; stops when `outOfTime` says so and then gives what was counted as "at least". */
export function countStates(
  unknowns: number,
  conditions: readonly Condition[],
  outOfTime: () => boolean,
): Count {
  const merged = new Merged(unknowns);
  const rest = simplify(merged, conditions);
  if (!rest) return { states: 0n, exact: true, first: null };
  const search = new Search(merged, unknowns, rest, outOfTime);
  return search.count();
}

/** Is there any state? */
export function hasState(unknowns: number, conditions: readonly Condition[]): boolean {
  const merged = new Merged(unknowns);
  const rest = simplify(merged, conditions);
  return rest !== null && new Search(merged, unknowns, rest, () => false).findAny();
}

/** Unknowns merged to classes of equal or opposite ones; class of "true" is unknown number `size`. */
class Merged {
  private readonly parent: Int32Array;
  /** 1: opposite to the parent. */
  private readonly flip: Uint8Array;
  readonly truth: Literal;

  constructor(readonly size: number) {
    this.parent = Int32Array.from({ length: size + 1 }, (_, k) => k);
    this.flip = new Uint8Array(size + 1);
    this.truth = 2 * size;
  }

  /** The literal that stands for a literal's class. */
  find(literal: Literal): Literal {
    let k = literal >> 1;
    let flip = literal & 1;
    while (this.parent[k] !== k) {
      flip ^= this.flip[k]!;
      k = this.parent[k]!;
    }
    return 2 * k + flip;
  }

  /** Makes two literals equal; false when they are opposite. */
  join(a: Literal, b: Literal): boolean {
    const [p, q] = [this.find(a), this.find(b)];
    if (p >> 1 === q >> 1) return p === q;
    // the class of "true" stays a root
    const [root, child] = p >> 1 === this.size ? [p, q] : [q, p];
    this.parent[child >> 1] = root >> 1;
    this.flip[child >> 1] = (root & 1) ^ (child & 1);
    return true;
  }
}

interface Small {
  readonly mixed: boolean;
  readonly of: readonly Literal[];
}

/** Merges until nothing changes; null where the conditions contradict each other. What is left is small conditions. */
function simplify(merged: Merged, conditions: readonly Condition[]): Small[] | null {
  let left: Small[] = [];
  for (const condition of conditions) {
    if (condition.kind === 'never') return null;
    if (condition.kind === 'true') {
      if (!merged.join(condition.of[0], merged.truth)) return null;
    } else left.push({ mixed: condition.kind === 'mixed', of: condition.of });
  }
  for (let changed = true; changed; ) {
    changed = false;
    const kept = new Map<string, Small>();
    for (const one of left) {
      const reduced = one.mixed ? reduceMixed(merged, one.of) : reduceEven(merged, one.of);
      if (reduced === false) return null;
      if (reduced === true) changed = true;
      else if (reduced) kept.set(`${one.mixed}${[...reduced.of].sort((a, b) => a - b).join()}`, reduced);
    }
    left = [...kept.values()];
  }
  return left;
}

/** false: contradiction; true: used up by a merge; null: always holds; else what is left of it. */
type Reduced = boolean | null | Small;

function reduceEven(merged: Merged, literals: readonly Literal[]): Reduced {
  const odd = new Set<number>();
  let parity = 0;
  for (const literal of literals) {
    const found = merged.find(literal);
    parity ^= found & 1;
    const unknown = found >> 1;
    if (unknown === merged.size) parity ^= 1;
    else if (!odd.delete(unknown)) odd.add(unknown);
  }
  const left = [...odd];
  if (left.length === 0) return parity === 0 ? null : false;
  if (left.length === 1) return merged.join(2 * left[0]! + parity, merged.truth ^ 1);
  if (left.length === 2) return merged.join(2 * left[0]! + parity, 2 * left[1]!);
  return { mixed: false, of: left.map((unknown, k) => 2 * unknown + (k === 0 ? parity : 0)) };
}

function reduceMixed(merged: Merged, literals: readonly Literal[]): Reduced {
  const found = literals.map((literal) => merged.find(literal));
  for (let i = 0; i < 3; i++)
    for (let j = i + 1; j < 3; j++) {
      if (found[i]! === (found[j]! ^ 1)) return null;
      if (found[i] === found[j]) {
        // two alike: the third is the other way
        const third = found[3 - i - j]!;
        return third === found[i] ? false : merged.join(third, found[i]! ^ 1);
      }
    }
  return { mixed: true, of: found };
}

const OPEN = 2;

class Search {
  private readonly value: Uint8Array;
  private readonly trail: number[] = [];
  private readonly watchers: number[][];

  constructor(
    private readonly merged: Merged,
    private readonly unknowns: number,
    private readonly conditions: readonly Small[],
    private readonly outOfTime: () => boolean,
  ) {
    this.value = new Uint8Array(unknowns + 1).fill(OPEN);
    this.value[unknowns] = 1;
    this.watchers = Array.from({ length: unknowns + 1 }, () => []);
    conditions.forEach(({ of }, c) => {
      for (const literal of of) this.watchers[literal >> 1]!.push(c);
    });
  }

  count(): Count {
    const roots = new Set<number>();
    for (let k = 0; k < this.unknowns; k++) {
      const root = this.merged.find(2 * k) >> 1;
      if (root !== this.unknowns) roots.add(root);
    }
    let states = 1n;
    let exact = true;
    for (const part of this.parts([...roots])) {
      const counted = this.countPart(part);
      exact &&= counted.exact;
      if (counted.first) for (const [k, unknown] of part.entries()) this.value[unknown] = counted.first[k]!;
      states *= counted.states;
      if (counted.states === 0n) return { states: 0n, exact, first: null };
    }
    return { states, exact, first: this.assignment() };
  }

  findAny(): boolean {
    const roots = new Set<number>();
    for (const { of } of this.conditions) for (const literal of of) roots.add(literal >> 1);
    for (const part of this.parts([...roots])) {
      const mark = this.trail.length;
      if (!this.solve(part)) return false;
      this.trail.length = mark;
    }
    return true;
  }

  private solve(part: readonly number[]): boolean {
    const next = this.choose(part);
    if (next < 0) return true;
    for (const value of [1, 0]) {
      const mark = this.trail.length;
      if (this.assign(next, value) && this.solve(part)) return true;
      this.undo(mark);
    }
    return false;
  }

  private assignment(): Uint8Array {
    return Uint8Array.from({ length: this.unknowns }, (_, k) => {
      const literal = this.merged.find(2 * k);
      const value = this.value[literal >> 1]!;
      return (value === OPEN ? 0 : value) ^ (literal & 1);
    });
  }

  /** Unknowns that hang together by conditions. */
  private parts(roots: readonly number[]): number[][] {
    const seen = new Set<number>();
    const parts: number[][] = [];
    for (const root of roots) {
      if (seen.has(root)) continue;
      seen.add(root);
      const part = [root];
      for (let k = 0; k < part.length; k++)
        for (const c of this.watchers[part[k]!]!)
          for (const literal of this.conditions[c]!.of) {
            if (seen.has(literal >> 1)) continue;
            seen.add(literal >> 1);
            part.push(literal >> 1);
          }
      parts.push(part);
    }
    return parts;
  }

  private countPart(part: readonly number[]): { states: bigint; exact: boolean; first: number[] | null } {
    let states = 0;
    let exact = true;
    let first: number[] | null = null;
    let ticks = 0;
    const visit = (): void => {
      if ((++ticks & 255) === 0 && this.outOfTime()) exact = false;
      if (!exact && first) return;
      const next = this.choose(part);
      if (next < 0) {
        states++;
        first ??= part.map((unknown) => this.value[unknown]!);
        return;
      }
      for (const value of [1, 0]) {
        const mark = this.trail.length;
        if (this.assign(next, value)) visit();
        this.undo(mark);
      }
    };
    visit();
    return { states: BigInt(states), exact, first };
  }

  /** The next open unknown; those of a part stand in an order in which each hangs together with earlier ones. */
  private choose(part: readonly number[]): number {
    for (const unknown of part) if (this.value[unknown] === OPEN) return unknown;
    return -1;
  }

  private assign(unknown: number, value: number): boolean {
    const queue: number[] = [];
    const put = (k: number, v: number): boolean => {
      if (this.value[k] !== OPEN) return this.value[k] === v;
      this.value[k] = v;
      this.trail.push(k);
      queue.push(k);
      return true;
    };
    if (!put(unknown, value)) return false;
    while (queue.length > 0) {
      const k = queue.pop()!;
      for (const c of this.watchers[k]!) if (!this.propagate(this.conditions[c]!, put)) return false;
    }
    return true;
  }

  private propagate({ mixed, of }: Small, put: (unknown: number, value: number) => boolean): boolean {
    let open = -1;
    let opens = 0;
    let ones = 0;
    for (const literal of of) {
      const value = this.value[literal >> 1]!;
      if (value === OPEN) {
        open = literal;
        if (++opens > 1) return true;
      } else ones += value ^ (literal & 1);
    }
    if (mixed) {
      if (opens === 0) return ones > 0 && ones < of.length;
      if (ones === 0) return put(open >> 1, 1 ^ (open & 1));
      if (ones === of.length - 1) return put(open >> 1, open & 1);
      return true;
    }
    if (opens === 0) return (ones & 1) === 0;
    return put(open >> 1, (ones & 1) ^ (open & 1));
  }

  private undo(mark: number): void {
    while (this.trail.length > mark) this.value[this.trail.pop()!] = OPEN;
  }
}
