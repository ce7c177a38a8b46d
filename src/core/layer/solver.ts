/**
 * States of a set of yes-or-no unknowns under the conditions of layer orders: one, how many, each in turn. Equal and
 * opposite unknowns are merged first, what is left falls into parts; each part is searched by itself, and counts
 * multiply.
 *
 * Why an own search and no library for satisfiability: the conditions are of two kinds, "not all three alike" and
 * "an even number of these", and both propagate as they stand, in a third of the memory that their clauses take;
 * most sheets are settled by merging alone, which a library would have to be told in clauses; and a library gives
 * states one by one only by forbidding each in turn. `npm run bench` compares both on the same conditions.
 */
import type { ConditionTable } from './condition-table.ts';
import { Counter } from './counter.ts';
import { type Merged, mergeConditions } from './merge.ts';
import type { Literal } from './overlaps.ts';
import { OutOfTime, Search, type SmallConditions } from './search.ts';

interface Count {
  /** Number of states, or of those counted before time ran out. */
  readonly states: bigint;
  readonly exact: boolean;
}

export class StateSearch {
  private readonly merged: Merged | null;
  private found: readonly Uint8Array[] | null | undefined;

  /** @param asked further rows of literals, up to four, whose exclusive or is false */
  constructor(
    unknowns: number,
    table: ConditionTable,
    asked: readonly (readonly Literal[])[] = [],
    tick?: () => void,
  ) {
    this.merged = mergeConditions(unknowns, table, asked, tick);
  }

  /**
   * One state, a value per unknown; null where there is none.
   * @throws OutOfTime
   */
  first(timeIsUp: () => boolean): Uint8Array | null {
    const parts = this.firstOfParts(timeIsUp);
    return parts && this.whole(parts, new Uint8Array(this.merged!.free.length).fill(1));
  }

  /** Counts all states; where time is up, those counted until then. */
  count(timeIsUp: () => boolean): Count {
    if (!this.merged) return { states: 0n, exact: true };
    try {
      if (!this.firstOfParts(timeIsUp)) return { states: 0n, exact: true };
    } catch (error) {
      if (error instanceof OutOfTime) return { states: 0n, exact: false };
      throw error;
    }
    let states = 1n << BigInt(this.merged.free.length);
    let exact = true;
    for (const { conditions } of this.merged.parts) {
      const own = countPart(conditions, timeIsUp);
      states *= own.states;
      exact &&= own.exact;
    }
    return { states, exact };
  }

  /**
   * Every state once. The parts are known to have states each before any two are put together.
   * @throws OutOfTime
   */
  *states(timeIsUp: () => boolean): Generator<Uint8Array, void> {
    const found = this.firstOfParts(timeIsUp);
    if (!found) return;
    const { parts, free } = this.merged!;
    const wheels = [
      ...parts.map(
        ({ conditions }) =>
          () =>
            valuesOf(new Search(conditions), timeIsUp),
      ),
      ...Array.from(free, () => () => [Uint8Array.of(1), Uint8Array.of(0)][Symbol.iterator]()),
    ];
    const turning = wheels.map((start) => start());
    const shown = turning.map((wheel) => wheel.next().value as Uint8Array);
    for (;;) {
      yield this.whole(
        shown.slice(0, parts.length),
        Uint8Array.from(shown.slice(parts.length), (value) => value[0]!),
      );
      // as the wheels of a counter: the last goes on, at its end it starts anew and the one before goes on
      let k = wheels.length - 1;
      for (; k >= 0; k--) {
        const next = turning[k]!.next();
        if (!next.done) {
          shown[k] = next.value;
          break;
        }
        turning[k] = wheels[k]!();
        shown[k] = turning[k]!.next().value as Uint8Array;
      }
      if (k < 0) return;
    }
  }

  private firstOfParts(timeIsUp: () => boolean): readonly Uint8Array[] | null {
    if (this.found !== undefined) return this.found;
    if (!this.merged) return null;
    const found: Uint8Array[] = [];
    for (const { conditions } of this.merged.parts) {
      const next = valuesOf(new Search(conditions), timeIsUp).next();
      if (next.done) {
        this.found = null;
        return null;
      }
      found.push(next.value);
    }
    this.found = found;
    return found;
  }

  private whole(parts: readonly Uint8Array[], free: Uint8Array): Uint8Array {
    const { parts: all, free: freeClasses, literal } = this.merged!;
    const value = new Uint8Array(literal.length + 1);
    value[literal.length] = 1;
    for (const [k, { classes }] of all.entries())
      for (const [j, own] of classes.entries()) value[own] = parts[k]![j]!;
    for (const [k, own] of freeClasses.entries()) value[own] = free[k]!;
    return Uint8Array.from(literal, (own) => value[own >> 1]! ^ (own & 1));
  }
}

function* valuesOf(search: Search, timeIsUp: () => boolean): Generator<Uint8Array, void> {
  for (const found of search.solutions())
    if (found) yield Uint8Array.from({ length: search.unknowns }, (_, k) => search.value[2 * k]!);
    else if (timeIsUp()) throw new OutOfTime();
}

/**
 * Counts by visiting each state and by components, in turns that grow, until one of them is done: the first learns from
 * contradictions and is the better where states are rare, the second does not mind how many there are.
 */
function countPart(conditions: SmallConditions, timeIsUp: () => boolean): Count {
  const walk = new Search(conditions).solutions();
  let counter: Counter | null = null;
  let visited = 0n;
  for (let turn = FIRST_TURN; ; turn *= 2) {
    for (let step = 1; step <= turn; step++) {
      const next = walk.next();
      if (next.done) return { states: visited, exact: true };
      if (next.value) visited++;
      if (step % BREATH === 0 && timeIsUp()) return atLeast(visited, counter);
    }
    counter ??= new Counter(new Search(conditions));
    for (let step = 0; step < COUNTER_SHARE * turn; step += BREATH) {
      if (counter.run(BREATH)) return { states: counter.result!, exact: true };
      if (timeIsUp()) return atLeast(visited, counter);
    }
  }
}

/** Steps of the first turn: states visited, or choices made. */
const FIRST_TURN = 4096;
/** Choices of the counter for each state visited: it is the better bet after a few thousand. */
const COUNTER_SHARE = 4;
/** Steps between two looks at the clock. */
const BREATH = 256;

/** Where time is up at least one state is known from the search for the first. */
function atLeast(visited: bigint, counter: Counter | null): Count {
  const counted = counter?.atLeast() ?? 0n;
  const most = visited > counted ? visited : counted;
  return { states: most > 0n ? most : 1n, exact: false };
}
