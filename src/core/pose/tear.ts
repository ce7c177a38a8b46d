/**
 * How wide paper would tear if it were forced: the crease that is furthest from its target is set half-way to it,
 * the others adapt so that corners close as well as they can, and the widest gape between panels is measured.
 */
import { SparseCholesky } from '../numeric/cholesky.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';
import { foldingCreases } from './moving.ts';
import { placePanels, widestGap } from './place.ts';
import type { Stage } from './track.ts';

/** Widest gape in sheet units, and the vertex where. */
export function forcedTear(
  sheet: Sheet,
  pose: Float64Array,
  stage: Stage,
): { gap: number; vertex: number } {
  let worst = -1;
  let most = 0;
  for (let e = 0; e < stage.target.length; e++) {
    const miss = Math.abs(stage.target[e]! - pose[e]!);
    if (miss > most) {
      most = miss;
      worst = e;
    }
  }
  if (worst < 0) return { gap: 0, vertex: -1 };
  const forced = pose.slice();
  forced[worst]! += (stage.target[worst]! - forced[worst]!) / 2;
  const moving = foldingCreases(sheet);
  moving[worst] = 0;
  closeAsWellAsCan(sheet, forced, moving);
  return widestGap(sheet, placePanels(sheet, forced, 0));
}

/** Damped least squares on closure (Levenberg and Marquardt), in place. */
function closeAsWellAsCan(sheet: Sheet, angle: Float64Array, moving: Uint8Array): void {
  const system = new ClosureSystem(sheet, moving);
  const matrix = new SparseCholesky(system.pattern);
  const pinned = new Uint8Array(system.size);
  const step = new Float64Array(system.size);
  const before = new Float64Array(angle.length);
  let damping = 1e-2;
  system.evaluate(angle);
  let square = sumOfSquares(system.residual);
  for (let k = 0; k < 60 && damping < 1e6; k++) {
    matrix.clear();
    for (let u = 0; u < system.size; u++) matrix.addDiagonal(u, damping);
    system.addNormalMatrix(matrix, 1, system.residual, 0, pinned);
    if (!matrix.factor()) return;
    step.fill(0);
    system.addTransposed(step, system.residual);
    matrix.solve(step);
    before.set(angle);
    for (let u = 0; u < system.size; u++) {
      const e = system.creaseOf[u]!;
      angle[e] = Math.min(Math.PI, Math.max(-Math.PI, angle[e]! - step[u]!));
    }
    system.evaluate(angle);
    const now = sumOfSquares(system.residual);
    if (now < square) {
      const done = square - now < 1e-9 * square;
      square = now;
      damping = Math.max(1e-9, damping / 3);
      if (done) return;
    } else {
      angle.set(before);
      system.evaluate(angle);
      damping *= 4;
    }
  }
}

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
