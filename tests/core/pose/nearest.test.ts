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

/** Solves from a closing pose thrown off by `start`, toward goals off it by `far`, radians; wide ranges. */
function solved(sheet: Sheet, seed: number, far: number, start: number) {
  const folds = foldingCreases(sheet);
  const driven = folds.indexOf(1);
  const { end } = fold(sheet, { [driven]: sheet.creaseAngle[driven]! < 0 ? -50 : 50 }, { free: true });
  const random = seededRandom(seed * 7919);
  const solver = new PoseSolver(sheet, folds);
  const { creaseOf, size } = solver.system;
  const goal = Float64Array.from(creaseOf, (e) => end[e]! + far * (2 * random() - 1));
  const weight = Float64Array.from(creaseOf, () => 0.5 + random());
  const wide = new Float64Array(size).fill(4);
  const pose = end.map((angle, e) => (folds[e] ? angle + start * (2 * random() - 1) : angle));
  const result = solver.solve(pose, { goal, weight, lower: wide.map((value) => -value), upper: wide });
  const pull = Array.from(creaseOf, (e, u) => weight[u]! * (pose[e]! - goal[u]!));
  return { ...result, off: offRows(closureMatrix(sheet, pose)!, pull) };
}

describe.each(Object.entries(sheets))('%s', (_, sheet) => {
  it.each([
    [0.1, 0],
    [0.6, 0],
    [1.5, 0],
    [0.6, 0.3],
  ])(
    'goals up to %f rad off, from poses up to %f rad off, seeds 1-12: it closes and is the nearest nearby',
    (far, start) => {
      for (let seed = 1; seed <= 12; seed++) {
        const { closure, settled, off } = solved(sheet, seed, far, start);
        expect(closure, `seed ${seed}`).toBeLessThan(1e-13);
        expect(settled, `seed ${seed}`).toBe(true);
        expect(off, `seed ${seed}`).toBeLessThan(1e-6);
      }
    },
  );
});

// no source: that it comes to rest at all from so far off, where there are several nearest poses, is not proven
it('from further off than any step of a motion it always closes, settles in 19 of 20, and is the nearest then', () => {
  let [rests, all] = [0, 0];
  for (const [name, sheet] of Object.entries(sheets))
    for (const [far, start] of [
      [0.6, 1],
      [3, 0],
      [3, 0.3],
      [3, 1],
    ] as const)
      for (let seed = 1; seed <= 20; seed++) {
        const { closure, settled, off } = solved(sheet, seed, far, start);
        const what = `${name}, ${far} off from ${start} off, seed ${seed}`;
        expect(closure, what).toBeLessThan(1e-13);
        all++;
        if (!settled) continue;
        rests++;
        expect(off, what).toBeLessThan(1e-6);
      }
  expect(rests / all).toBeGreaterThanOrEqual(0.95);
});
