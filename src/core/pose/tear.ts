/**
 * How wide paper would tear if it were forced: one crease that stops short is set half-way to its target, the others
 * adapt so that corners close as well as they can, and the widest gape between panels is measured.
 */

import { sumOfSquares } from '../numeric/arrays.ts';
import { SparseCholesky } from '../numeric/cholesky.ts';
import { CLOSED, MISS } from '../numeric/tolerance.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { ClosureSystem, closureOfPose } from './closure.ts';
import { angleBounds, foldingCreases } from './moving.ts';
import { placePanels, widestGap } from './place.ts';
import type { Stage } from './track.ts';

export interface Tear {
  /** Widest gape, sheet units. */
  readonly gap: number;
  /** The crease that was forced, or NONE. */
  readonly crease: number;
  /** Corners that do not close then, worst first, with the rotation left over in radians. */
  readonly corners: readonly { readonly vertex: number; readonly rotation: number }[];
}

export const noTear: Tear = { gap: 0, crease: NONE, corners: [] };

/** Creases tried one by one; few on large sheets, where each trial is dear. */
const trials = (creases: number) => Math.max(2, Math.min(16, Math.floor(6000 / creases)));

/** The widest tear over a spread of the creases that stop short of their targets. */
export function forcedTear(sheet: Sheet, pose: Float64Array, stage: Stage, free: boolean): Tear {
  const short = [...stage.target.keys()]
    .filter((e) => Math.abs(stage.target[e]! - pose[e]!) > MISS)
    .sort((a, b) => Math.abs(stage.target[b]! - pose[b]!) - Math.abs(stage.target[a]! - pose[a]!));
  const count = Math.min(short.length, trials(pose.length));
  let worst = noTear;
  for (let k = 0; k < count; k++) {
    const tear = forceOne(sheet, pose, stage, short[Math.floor((k * short.length) / count)]!, free);
    if (tear.gap > worst.gap) worst = tear;
  }
  return worst;
}

function forceOne(sheet: Sheet, pose: Float64Array, stage: Stage, crease: number, free: boolean): Tear {
  const forced = pose.slice();
  for (let e = 0; e < stage.target.length; e++) {
    const miss = stage.target[e]! - pose[e]!;
    if (Math.abs(miss) > MISS) forced[e]! += miss / 2;
  }
  const moving = foldingCreases(sheet);
  moving[crease] = 0;
  closeAsWellAsCan(sheet, forced, moving, free);
  const { gap } = widestGap(sheet, placePanels(sheet, forced, 0));
  const corners = closureOfPose(sheet, forced)
    .loops.filter((loop) => loop.vertex !== NONE && loop.rotation > CLOSED)
    .map(({ vertex, rotation }) => ({ vertex, rotation }))
    .sort((a, b) => b.rotation - a.rotation);
  return { gap, crease, corners: mostOpen(corners) };
}

/** Of corners, worst first, those that are open by a tenth of the worst or more. */
export function mostOpen<Corner extends { readonly rotation: number }>(corners: readonly Corner[]): Corner[] {
  return corners.filter(({ rotation }) => 10 * rotation >= corners[0]!.rotation);
}

/** Damped least squares on closure (Levenberg and Marquardt), in place. */
function closeAsWellAsCan(sheet: Sheet, angle: Float64Array, moving: Uint8Array, free: boolean): void {
  const system = new ClosureSystem(sheet, moving);
  const matrix = new SparseCholesky(system.pattern);
  const step = new Float64Array(system.size);
  const before = new Float64Array(angle.length);
  let damping = 1e-2;
  system.evaluate(angle);
  let square = sumOfSquares(system.residual);
  for (let k = 0; k < 60 && damping < 1e6; k++) {
    matrix.clear();
    for (let u = 0; u < system.size; u++) matrix.addDiagonal(u, damping);
    system.addNormalMatrix(matrix, 1, system.residual, 0);
    if (!matrix.factor()) return;
    step.fill(0);
    system.addTransposed(step, system.residual);
    matrix.solve(step);
    before.set(angle);
    for (let u = 0; u < system.size; u++) {
      const e = system.creaseOf[u]!;
      const [lower, upper] = angleBounds(sheet.creaseKind[e]!, free);
      angle[e] = Math.min(upper, Math.max(lower, angle[e]! - step[u]!));
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
