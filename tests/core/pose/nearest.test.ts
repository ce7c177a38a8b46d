/**
 * The nearest closing pose, by the condition for it (Lagrange; Karush, Kuhn and Tucker): what is left to the goal, weighed,
 * is a combination of the rows of closure, which ml-matrix differences and decomposes; no other pose is nearer nearby.
 */
import { type Matrix, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { foldingCreases } from '../../../src/core/pose/moving.ts';
import { PoseSolver } from '../../../src/core/pose/solve.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { closureMatrix } from '../../oracles/closure.ts';
import { fold } from '../../support/fold.ts';
import { miuraSheet, vertexSheet } from '../../support/patterns.ts';

/** Part of a vector that no combination of the matrix's rows makes up, its largest entry. */
function offRows(matrix: Matrix, vector: readonly number[]): number {
  const wide = new SingularValueDecomposition(matrix, { autoTranspose: true });
  const rows = wide.diagonal.flatMap((value, k) =>
    value > 1e-6 ? [wide.rightSingularVectors.getColumn(k)] : [],
  );
  const left = rows.reduce(
    (rest, row) => {
      const share = row.reduce((sum, value, k) => sum + value * vector[k]!, 0);
      return rest.map((value, k) => value - share * row[k]!);
    },
    [...vector],
  );
  return Math.max(...left.map(Math.abs));
}

const sheets: Record<string, Sheet> = {
  'a corner of five creases': vertexSheet([50, 70, 60, 80, 100], [0, 0, 0, 0, 0]),
  'a corner of six creases': vertexSheet([40, 70, 60, 60, 55, 75], [0, 0, 0, 0, 0, 0]),
  'a Miura sheet of 3 by 3': miuraSheet(3, 3),
  'a Miura sheet of 5 by 4': miuraSheet(5, 4),
};

describe.each(Object.entries(sheets))('%s', (_, sheet) => {
  it.each([0.1, 0.6, 1.5])(
    'goals up to %f rad off, seeds 1-12: the pose found closes and is the nearest nearby',
    (far) => {
      const folds = foldingCreases(sheet);
      const driven = folds.indexOf(1);
      const finished = sheet.creaseAngle[driven]!;
      const { end } = fold(sheet, { [driven]: finished < 0 ? -50 : 50 }, { free: true });
      for (let seed = 1; seed <= 12; seed++) {
        const random = seededRandom(seed * 7919);
        const solver = new PoseSolver(sheet, folds);
        const { creaseOf, size } = solver.system;
        const goal = Float64Array.from(creaseOf, (e) => end[e]! + far * (2 * random() - 1));
        const weight = Float64Array.from(creaseOf, () => 0.5 + random());
        const wide = new Float64Array(size).fill(4);
        const pose = end.slice();
        const solved = solver.solve(pose, { goal, weight, lower: wide.map((value) => -value), upper: wide });
        expect(solved.closure, `seed ${seed}`).toBeLessThan(1e-13);
        expect(solved.settled, `seed ${seed}`).toBe(true);
        const pull = Array.from(creaseOf, (e, u) => weight[u]! * (pose[e]! - goal[u]!));
        expect(offRows(closureMatrix(sheet, pose)!, pull), `seed ${seed}`).toBeLessThan(1e-6);
      }
    },
  );
});
