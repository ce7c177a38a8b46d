import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { SparseCholesky } from '../../../src/core/numeric/cholesky.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

function randomPattern(size: number, density: number, random: () => number) {
  const row: number[] = [];
  const column: number[] = [];
  for (let i = 0; i < size; i++)
    for (let j = 0; j < i; j++)
      if (random() < density) {
        row.push(i);
        column.push(j);
      }
  return { size, row: Int32Array.from(row), column: Int32Array.from(column) };
}

describe('sparse Cholesky', () => {
  for (const [size, density] of [
    [1, 0],
    [2, 1],
    [7, 0.4],
    [30, 0.1],
    [60, 0.05],
    [60, 0.6],
    [120, 0.03],
  ] as const)
    it(`solves like the dense decomposition of ml-matrix: ${size} unknowns, density ${density}, seeds 1-8`, () => {
      for (let seed = 1; seed <= 8; seed++) {
        const random = seededRandom(seed * 7919 + size);
        const pattern = randomPattern(size, density, random);
        const sparse = new SparseCholesky(pattern);
        const dense = Matrix.zeros(size, size);
        for (let k = 0; k < pattern.row.length; k++) {
          const value = random() - 0.5;
          sparse.addEntry(k, value);
          dense.set(pattern.row[k]!, pattern.column[k]!, value);
          dense.set(pattern.column[k]!, pattern.row[k]!, value);
        }
        for (let i = 0; i < size; i++) {
          const value = 1 + size * density * 0.5 + random();
          sparse.addDiagonal(i, value);
          dense.set(i, i, value);
        }
        const right = Float64Array.from({ length: size }, () => random() - 0.5);
        const reference = new CholeskyDecomposition(dense);
        const definite = reference.isPositiveDefinite();
        expect(sparse.factor()).toBe(definite);
        if (!definite) continue;
        const expected = reference.solve(Matrix.columnVector(Array.from(right))).to1DArray();
        sparse.solve(right);
        for (let i = 0; i < size; i++) expect(right[i]).toBeCloseTo(expected[i]!, 9);
      }
    });

  it('refuses a matrix that is not positive definite', () => {
    const sparse = new SparseCholesky({ size: 2, row: Int32Array.of(1), column: Int32Array.of(0) });
    sparse.addDiagonal(0, 1);
    sparse.addDiagonal(1, 1);
    sparse.addEntry(0, 2);
    expect(sparse.factor()).toBe(false);
  });
});
