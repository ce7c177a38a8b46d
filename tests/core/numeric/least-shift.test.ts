/** The shortest vector within half-spaces, against all ways to choose which conditions are met exactly. */
import { Matrix, pseudoInverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { HalfSpaces, LeastShift } from '../../../src/core/numeric/least-shift.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

const SIZE = 4;

/** The sum of `value[k]` times the vector's entry `index[k]` is to be at least `least`. */
interface HalfSpace {
  readonly index: readonly number[];
  readonly value: readonly number[];
  readonly least: number;
}

function shortest(
  list: readonly HalfSpace[],
  size: number,
  within: number,
  shifts = new LeastShift(),
): Float64Array {
  const conditions = new HalfSpaces();
  for (const [k, { index, value, least }] of list.entries()) {
    conditions.begin();
    index.forEach((at, i) => {
      conditions.entry(at, value[i]!);
    });
    conditions.end(k, least);
  }
  return shifts.find(conditions, size, within);
}

const dense = ({ index, value }: HalfSpace): number[] => {
  const row: number[] = new Array(SIZE).fill(0);
  index.forEach((at, k) => {
    row[at]! += value[k]!;
  });
  return row;
};
const lacking = (one: HalfSpace, x: ArrayLike<number>) =>
  one.least - dense(one).reduce((sum, value, k) => sum + value * x[k]!, 0);

/** Of all subsets met exactly by their shortest vector (ml-matrix), the shortest that meets the rest as well. */
function slowly(conditions: readonly HalfSpace[]): number[] | null {
  let best: number[] | null = null;
  for (let chosen = 0; chosen < 2 ** conditions.length; chosen++) {
    const met = conditions.filter((_, k) => chosen & (1 << k));
    const x =
      met.length === 0
        ? new Array(SIZE).fill(0)
        : pseudoInverse(new Matrix(met.map(dense)))
            .mmul(Matrix.columnVector(met.map(({ least }) => least)))
            .to1DArray();
    if (conditions.some((one) => lacking(one, x) > 1e-9)) continue;
    if (!best || Math.hypot(...x) < Math.hypot(...best)) best = x;
  }
  return best;
}

describe('the shortest vector that meets conditions (seed 8117)', () => {
  const random = seededRandom(8117);
  const conditionsAround = (inside: readonly number[], count: number): HalfSpace[] =>
    Array.from({ length: count }, () => {
      const index = [0, 1, 2, 3].filter(() => random() < 0.7);
      const value = index.map(() => 2 * random() - 1);
      const there = index.reduce((sum, at, k) => sum + value[k]! * inside[at]!, 0);
      return { index, value, least: there - 0.3 * random() };
    }).filter(({ index }) => index.length > 0);

  it('is that of the exhaustive search, 200 times', () => {
    for (let time = 0; time < 200; time++) {
      const inside = Array.from({ length: SIZE }, () => 2 * random() - 1);
      const conditions = conditionsAround(inside, 7);
      const right = slowly(conditions)!;
      const found = shortest(conditions, SIZE, 1e-9);
      right.forEach((value, k) => {
        expect(found[k]).toBeCloseTo(value, 4);
      });
    }
  });

  it('is the same from wherever it is sought, while the conditions change', () => {
    const shifts = new LeastShift();
    const conditions = conditionsAround([0.3, -0.2, 0.5, 0.1], 7);
    for (let time = 0; time < 100; time++) {
      const changed = conditions.map((one) => ({ ...one, least: one.least + 0.2 * random() }));
      const right = shortest(changed, SIZE, 1e-9);
      shortest(changed, SIZE, 1e-9, shifts).forEach((value, k) => {
        expect(value).toBeCloseTo(right[k]!, 6);
      });
    }
  });

  it('is nothing again where what was asked is asked no longer', () => {
    const shifts = new LeastShift();
    const asking = (least: number) => [
      { index: [0, 1], value: [1, 1], least },
      { index: [0, 1], value: [1, -1], least },
    ];
    expect([...shortest(asking(1), 2, 1e-9, shifts)].map((value) => value.toFixed(4))).toEqual([
      '1.0000',
      '0.0000',
    ]);
    expect([...shortest(asking(0), 2, 1e-9, shifts)]).toEqual([0, 0]);
    expect([...shortest(asking(-1), 2, 1e-9, shifts)]).toEqual([0, 0]);
  });

  it('is nothing where nothing is asked, and a condition said twice does no harm', () => {
    expect([...shortest([{ index: [0], value: [1], least: -1 }], 2, 1e-9)]).toEqual([0, 0]);
    const twice = { index: [0, 1], value: [1, 1], least: 1 };
    const shift = shortest([twice, { ...twice }], 2, 1e-6);
    expect([...shift].map((value) => value.toFixed(4))).toEqual(['0.5000', '0.5000']);
  });
});
