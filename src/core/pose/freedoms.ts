/**
 * Freedoms of a pose: how many independent small motions closure leaves, to first order. That is the number of
 * moving creases less the rank of the closure derivatives, and equals the number of eigenvalues of J'J below a
 * small threshold, counted by the inertia of the shifted sparse matrix.
 */
import { negativeEigenvalues } from '../numeric/inertia.ts';
import { SINGULAR } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';
import { foldingCreases } from './moving.ts';

/**
 * @param angle a pose that closes, fold angle per crease, radians
 * @param moving creases that may move; all that fold where left out
 */
export function countFreedoms(sheet: Sheet, angle: Float64Array, moving = foldingCreases(sheet)): number {
  const system = new ClosureSystem(sheet, moving);
  system.evaluate(angle);
  const { pattern, size } = system;
  const diagonal = new Float64Array(size).fill(-SINGULAR * SINGULAR);
  const entries = new Float64Array(pattern.row.length);
  system.addNormalMatrix(
    {
      addDiagonal: (u, value) => {
        diagonal[u]! += value;
      },
      addEntry: (k, value) => {
        entries[k]! += value;
      },
    },
    1,
    system.residual,
    0,
  );
  return negativeEigenvalues(pattern, diagonal, entries);
}
