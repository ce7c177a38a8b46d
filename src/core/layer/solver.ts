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
}

/** The states of some conditions: one, how many, each in turn. */
export class StateSearch {
  private readonly merged: Merged;
  private readonly search: Search | null;
  private found: Uint8Array | null | undefined;

  constructor(
    private readonly unknowns: number,
    conditions: readonly Condition[],
  ) {
    this.merged = new Merged(unknowns);
    const rest = simplify(this.merged, conditions);
    this.search = rest && new Search(this.merged, unknowns, rest);
  }

  /** One state, a value per unknown; null where there is none. */
  first(): Uint8Array | null {
    if (this.found === undefined) this.found = this.states().next().value ?? null;
    return this.found;
  }

  /** Counts all states; stops when `outOfTime` says so and then gives what was counted as "at least". */
  count(outOfTime: () => boolean): Count {
    return this.search?.count(outOfTime) ?? { states: 0n, exact: true };
  }

  /** Every state once. The parts are known to have states each before any two are put together. */
  *states(): Generator<Uint8Array, void> {
    const { search, merged, unknowns } = this;
    if (!search) return;
    const value = new Uint8Array(unknowns + 1);
    value[unknowns] = 1;
    const whole = () =>
      Uint8Array.from({ length: unknowns }, (_, k) => {
        const literal = merged.find(2 * k);
        return value[literal >> 1]! ^ (literal & 1);
      });
    const walks: Generator<Uint8Array, void>[] = [];
    const put = (k: number, next: IteratorResult<Uint8Array, void>): boolean => {
      if (next.done) return false;
      for (const [j, unknown] of search.parts[k]!.entries()) value[unknown] = next.value[j]!;
      return true;
    };
    for (const [k, part] of search.parts.entries()) {
      walks.push(search.walk(part));
      if (!put(k, walks[k]!.next())) return;
    }
    for (;;) {
      yield whole();
      // as the wheels of a counter: the last part goes on, at its end it starts anew and the one before goes on
      let k = walks.length - 1;
      while (k >= 0 && !put(k, walks[k]!.next())) {
        walks[k] = search.walk(search.parts[k]!);
        put(k, walks[k]!.next());
        k--;
      }
      if (k < 0) return;
    }
  }
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
  /** Unknowns that hang together by conditions, in an order in which each hangs together with earlier ones. */
  readonly parts: readonly (readonly number[])[];
  private readonly watchers: number[][];

  constructor(
    merged: Merged,
    private readonly unknowns: number,
    private readonly conditions: readonly Small[],
  ) {
    this.watchers = Array.from({ length: unknowns + 1 }, () => []);
    conditions.forEach(({ of }, c) => {
      for (const literal of of) this.watchers[literal >> 1]!.push(c);
    });
    const roots = new Set<number>();
    for (let k = 0; k < unknowns; k++) roots.add(merged.find(2 * k) >> 1);
    roots.delete(unknowns);
    this.parts = this.partsOf([...roots]);
  }

  count(outOfTime: () => boolean): Count {
    let states = 1n;
    let exact = true;
    for (const part of this.parts) {
      let own = 0;
      for (const _ of this.walk(part)) {
        own++;
        if ((own & 255) === 0 && outOfTime()) {
          exact = false;
          break;
        }
      }
      states *= BigInt(own);
      if (own === 0) return { states: 0n, exact: true };
    }
    return { states, exact };
  }

  private partsOf(roots: readonly number[]): number[][] {
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

  /** Every state of a part, as values in its order; what is yielded is overwritten by the next. */
  *walk(part: readonly number[]): Generator<Uint8Array, void> {
    const value = new Uint8Array(this.unknowns + 1).fill(OPEN);
    value[this.unknowns] = 1;
    const trail: number[] = [];
    const state = new Uint8Array(part.length);
    /** Decisions taken: place in the part, value, length of the trail before. */
    const decisions: { at: number; value: number; mark: number }[] = [];
    let at = 0;
    for (;;) {
      while (at < part.length && value[part[at]!] !== OPEN) at++;
      if (at < part.length) {
        decisions.push({ at, value: 1, mark: trail.length });
        if (this.assign(value, trail, part[at]!, 1)) continue;
      } else {
        part.forEach((unknown, k) => {
          state[k] = value[unknown]!;
        });
        yield state;
      }
      // back to the last decision that has another side
      for (;;) {
        const last = decisions.pop();
        if (!last) return;
        while (trail.length > last.mark) value[trail.pop()!] = OPEN;
        if (last.value === 0) continue;
        decisions.push({ at: last.at, value: 0, mark: last.mark });
        at = last.at;
        if (this.assign(value, trail, part[at]!, 0)) break;
      }
    }
  }

  private assign(values: Uint8Array, trail: number[], unknown: number, value: number): boolean {
    let done = trail.length;
    const put = (k: number, v: number): boolean => {
      if (values[k] !== OPEN) return values[k] === v;
      values[k] = v;
      trail.push(k);
      return true;
    };
    if (!put(unknown, value)) return false;
    while (done < trail.length)
      for (const c of this.watchers[trail[done++]!]!)
        if (!propagate(values, this.conditions[c]!, put)) return false;
    return true;
  }
}

function propagate(
  values: Uint8Array,
  { mixed, of }: Small,
  put: (unknown: number, value: number) => boolean,
): boolean {
  let open = -1;
  let opens = 0;
  let ones = 0;
  for (const literal of of) {
    const value = values[literal >> 1]!;
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
