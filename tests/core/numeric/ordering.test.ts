/** Orders of elimination: each unknown once, and no more fill than by the plain way to a least degree. */
import { describe, expect, it } from 'vitest';
import { eliminationOrder } from '../../../src/core/numeric/ordering.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

type Sides = readonly (readonly [number, number])[];

function neighbours(size: number, sides: Sides): Set<number>[] {
  const around = Array.from({ length: size }, () => new Set<number>());
  for (const [a, b] of sides) {
    around[a]!.add(b);
    around[b]!.add(a);
  }
  return around;
}

function orderOf(size: number, sides: Sides): number[] {
  const around = neighbours(size, sides);
  const start = Int32Array.from({ length: size + 1 }, (_, k) =>
    around.slice(0, k).reduce((sum, one) => sum + one.size, 0),
  );
  return [...eliminationOrder({ start, adjacency: Int32Array.from(around.flatMap((one) => [...one])) })];
}

/** Entries of the factor below its diagonal, by elimination on sets. */
function entries(size: number, sides: Sides, next: (around: readonly Set<number>[]) => number): number {
  const around = neighbours(size, sides);
  let count = 0;
  for (let k = 0; k < size; k++) {
    const pivot = next(around);
    const own = [...around[pivot]!];
    count += own.length;
    for (const a of own) {
      around[a]!.delete(pivot);
      for (const b of own) if (a !== b) around[a]!.add(b);
    }
    around[pivot]!.clear();
  }
  return count;
}

const inOrder = (order: readonly number[]) => {
  let at = 0;
  return () => order[at++]!;
};

/** Always one of those with fewest neighbours left (Tinney and Walker 1967), chance decides among them. */
function leastDegree(size: number, random: () => number) {
  const left = new Set(Array.from({ length: size }, (_, k) => k));
  return (around: readonly Set<number>[]) => {
    const least = Math.min(...[...left].map((k) => around[k]!.size));
    const best = [...left].filter((k) => around[k]!.size === least);
    const pivot = best[Math.floor(random() * best.length)]!;
    left.delete(pivot);
    return pivot;
  };
}

const grid = (rows: number, columns: number): Sides =>
  Array.from({ length: rows * columns }, (_, k) => k).flatMap((k): [number, number][] => [
    ...((k + 1) % columns ? [[k, k + 1] as [number, number]] : []),
    ...(k + columns < rows * columns ? [[k, k + columns] as [number, number]] : []),
  ]);

/** A graph that grows by unknowns joined to all of a set of `width` joined to each other (a k-tree; Rose 1974). */
function grown(size: number, width: number, random: () => number): Sides {
  const sides: [number, number][] = [];
  const cliques: number[][] = [Array.from({ length: width }, (_, k) => k)];
  for (let a = 0; a < width; a++) for (let b = 0; b < a; b++) sides.push([a, b]);
  for (let k = width; k < size; k++) {
    const on = cliques[Math.floor(random() * cliques.length)]!;
    for (const a of on) sides.push([a, k]);
    for (const left of on) cliques.push([...on.filter((a) => a !== left), k]);
  }
  return sides;
}

describe('order of elimination', () => {
  it('takes each unknown once, seeds 1-20', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = seededRandom(seed);
      const size = 1 + Math.floor(40 * random());
      const sides: Sides = Array.from({ length: 2 * size }, (): [number, number] => [
        Math.floor(size * random()),
        Math.floor(size * random()),
      ]).filter(([a, b]) => a !== b);
      expect(orderOf(size, sides).sort((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, k) => k));
    }
  });

  // an unknown of least degree in a k-tree has neighbours that are all joined already; degrees are told from above only
  it.each([1, 2, 3, 5])('hardly anything fills where nothing has to: trees of width %i', (width) => {
    for (let seed = 1; seed <= 10; seed++) {
      const random = seededRandom(seed);
      const sides = grown(60, width, random);
      expect(entries(60, sides, inOrder(orderOf(60, sides))), `seed ${seed}`).toBeLessThan(
        1.02 * sides.length,
      );
    }
  });

  it.each([
    [12, 12],
    [20, 20],
    [8, 40],
  ])(
    'a net of %i by %i unknowns fills no more than a tenth beyond the plain way, on an average of six',
    (rows, columns) => {
      const size = rows * columns;
      const sides = grid(rows, columns);
      const plain = [1, 2, 3, 4, 5, 6].map((seed) =>
        entries(size, sides, leastDegree(size, seededRandom(seed))),
      );
      const mean = plain.reduce((a, b) => a + b, 0) / plain.length;
      expect(entries(size, sides, inOrder(orderOf(size, sides)))).toBeLessThan(1.1 * mean);
    },
  );
});
