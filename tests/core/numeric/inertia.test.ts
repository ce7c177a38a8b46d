/** Signs of eigenvalues against a general library for matrices (ml-matrix), on random sparse symmetric ones. */
import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { expect, test } from 'vitest';
import { negativeEigenvalues } from '../../../src/core/numeric/inertia.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

test('as many negative eigenvalues as the library finds, seeds 1 to 60', () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = seededRandom(seed * 7919);
    const size = 2 + Math.floor(random() * 14);
    const [row, column, entries]: [number[], number[], number[]] = [[], [], []];
    const whole = Matrix.zeros(size, size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j < i; j++)
        if (random() < 0.3) {
          const value = 2 * random() - 1;
          row.push(i);
          column.push(j);
          entries.push(value);
          whole.set(i, j, value);
          whole.set(j, i, value);
        }
    const diagonal = Float64Array.from({ length: size }, () => 3 * random() - 1.5);
    diagonal.forEach((value, k) => whole.set(k, k, value));
    const pattern = { size, row: Int32Array.from(row), column: Int32Array.from(column) };
    const expected = new EigenvalueDecomposition(whole).realEigenvalues.filter((value) => value < 0).length;
    expect(negativeEigenvalues(pattern, diagonal, Float64Array.from(entries)), `seed ${seed}`).toBe(expected);
  }
});
