import type { Loop } from '../sheet/loops.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { angleBounds, foldingCreases } from './moving.ts';
import { PoseSolver } from './solve.ts';

/**
 * Keeps what is needed to correct many poses of one sheet. The pose given should lie near a closing one, as a blend
 * of two neighbours on a track does.
 */
export class PoseCorrector {
  private readonly solver: PoseSolver;
  private readonly bounds: { lower: Float64Array; upper: Float64Array };

  /**
   * @param moving 1 for creases that may give; all that fold where left out
   * @param loops the walks that must close; all of the sheet where left out
   */
  constructor(sheet: Sheet, moving = foldingCreases(sheet), loops?: readonly Loop[]) {
    this.solver = new PoseSolver(sheet, moving, loops);
    this.bounds = {
      lower: new Float64Array(this.solver.size).fill(-Math.PI),
      upper: new Float64Array(this.solver.size).fill(Math.PI),
    };
  }

  /** The nearest closing pose by least change of angles, and the closure reached, radians. */
  correct(near: Float64Array): { angle: Float64Array; closure: number } {
    const angle = near.slice();
    const closure = this.solver.close(angle, this.bounds);
    return { angle, closure };
  }
}

const known = new WeakMap<Sheet, PoseCorrector>();

/** The corrector of all creases of a sheet, set up once. */
function correctorOf(sheet: Sheet): PoseCorrector {
  let corrector = known.get(sheet);
  if (!corrector) known.set(sheet, (corrector = new PoseCorrector(sheet)));
  return corrector;
}

/** One correction. */
export function correctPose(sheet: Sheet, near: Float64Array): { angle: Float64Array; closure: number } {
  return correctorOf(sheet).correct(near);
}

/** The same within the range of each kind, from a pose within it. */
export function correctInRange(sheet: Sheet, near: Float64Array): { angle: Float64Array; closure: number } {
  const solver = new PoseSolver(sheet, foldingCreases(sheet));
  const ranges = Array.from(solver.system.creaseOf, (crease) =>
    angleBounds(sheet.creaseKind[crease]!, false),
  );
  const angle = near.slice();
  const closure = solver.close(angle, {
    lower: Float64Array.from(ranges, ([lower]) => lower),
    upper: Float64Array.from(ranges, ([, upper]) => upper),
  });
  return { angle, closure };
}
