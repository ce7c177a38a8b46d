/** The search and the counter against tables of all assignments, on random small conditions; seeds printed on failure. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Counter } from '../../../src/core/layer/counter.ts';
import { Search, type SmallConditions } from '../../../src/core/layer/search.ts';

interface Rows {
  readonly unknowns: number;
  readonly mixed: readonly (readonly number[])[];
  readonly even: readonly (readonly number[])[];
}

const small = ({ unknowns, mixed, even }: Rows): SmallConditions => ({
  unknowns,
  mixed: Int32Array.from(mixed.flat()),
  even: Int32Array.from(even.flat()),
  evenStart: Int32Array.from([0, ...even.map((_, k) => even.slice(0, k + 1).flat().length)]),
});

/** Assignments, as numbers of bits, that meet all conditions. */
function byTable({ unknowns, mixed, even }: Rows): Set<number> {
  const found = new Set<number>();
  for (let bits = 0; bits < 1 << unknowns; bits++) {
    const is = (literal: number) => ((bits >> (literal >> 1)) & 1) ^ (literal & 1);
    const ones = (row: readonly number[]) => row.reduce((sum, literal) => sum + is(literal), 0);
    if (mixed.every((row) => ones(row) > 0 && ones(row) < 3) && even.every((row) => ones(row) % 2 === 0))
      found.add(bits);
  }
  return found;
}

const rows = (few: number): fc.Arbitrary<Rows> =>
  fc.integer({ min: 3, max: 11 }).chain((unknowns) => {
    const row = (size: number) =>
      fc
        .uniqueArray(fc.integer({ min: 0, max: unknowns - 1 }), { minLength: size, maxLength: size })
        .chain((own) => fc.tuple(...own.map((k) => fc.integer({ min: 2 * k, max: 2 * k + 1 }))));
    return fc.record({
      unknowns: fc.constant(unknowns),
      mixed: fc.array(row(3), { maxLength: few * unknowns }),
      even: fc.array(fc.oneof(row(1), row(2), row(3)), { maxLength: unknowns >> 1 }),
    });
  });

const bitsOf = (search: Search) =>
  Array.from({ length: search.unknowns }, (_, k) => search.value[2 * k]! << k).reduce((a, b) => a | b, 0);

const many = process.env.CREASEWAY_SOAK === '1' ? 20000 : 400;

describe('solutions of random conditions', () => {
  for (const few of [1, 2, 4])
    it(`each once, none missing; the counter agrees; up to ${few} mixed conditions an unknown`, () => {
      fc.assert(
        fc.property(rows(few), (all) => {
          const table = byTable(all);
          const search = new Search(small(all));
          const found: number[] = [];
          for (const solution of search.solutions()) if (solution) found.push(bitsOf(search));
          expect(new Set(found)).toEqual(table);
          expect(found.length).toBe(table.size);
          const counter = new Counter(new Search(small(all)));
          while (!counter.run(1)) expect(Number(counter.atLeast())).toBeLessThanOrEqual(table.size);
          expect(Number(counter.result)).toBe(table.size);
        }),
        { numRuns: many },
      );
    });

  it('what a search without success used is contradictory by itself', () => {
    let none = 0;
    fc.assert(
      fc.property(rows(5), (all) => {
        const search = new Search(small(all), true);
        for (const solution of search.solutions()) if (solution) return;
        none++;
        const used = search.culprits();
        const part = {
          unknowns: all.unknowns,
          mixed: used.mixed.map((row) => all.mixed[row]!),
          even: used.even.map((row) => all.even[row]!),
        };
        expect(byTable(part).size).toBe(0);
      }),
      { numRuns: many },
    );
    expect(none).toBeGreaterThan(many / 20);
  });
});

/** Rows of yes and no in which no three neighbours are alike: twice the Fibonacci number after that of their length (from memory). */
describe('a chain of conditions', () => {
  const chain = (unknowns: number): SmallConditions =>
    small({
      unknowns,
      mixed: Array.from({ length: unknowns - 2 }, (_, k) => [2 * k, 2 * k + 2, 2 * k + 4]),
      even: [],
    });
  const states = (unknowns: number) => {
    let [before, now] = [0n, 1n];
    for (let k = 0; k < unknowns; k++) [before, now] = [now, before + now];
    return 2n * now;
  };

  it('the Fibonacci numbers are those of the table of all assignments', () => {
    for (const unknowns of [3, 4, 7, 11]) {
      const mixed = Array.from({ length: unknowns - 2 }, (_, k) => [2 * k, 2 * k + 2, 2 * k + 4]);
      expect(Number(states(unknowns))).toBe(byTable({ unknowns, mixed, even: [] }).size);
    }
  });

  // what is left beyond a place depends on the two values before it alone, so few choices are enough for any length
  it.each([100, 3000])(
    'of %i unknowns is counted in a few choices an unknown: what was counted is remembered',
    (unknowns) => {
      const counter = new Counter(new Search(chain(unknowns)));
      expect(counter.run(16 * unknowns)).toBe(true);
      expect(counter.result).toBe(states(unknowns));
    },
  );
});
