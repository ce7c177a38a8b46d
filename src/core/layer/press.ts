/**
 * Paper a hair open. Panels that lie nearly on each other, as after folds of 179 degrees, run into each other at the
 * slightest slant although a hand presses them flat without a thought: whether they can be stacked is asked of the pose
 * pressed flat.
 */
import { ARRIVED, CLOSED, PRESSED } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { foldingCreases } from '../pose/moving.ts';
import { PoseSolver } from '../pose/solve.ts';
import { KIND } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';

/**
 * The nearest pose in which every crease that is folded nearly flat, or hardly folded, is so altogether; the others give
 * way as far as they must to close. Null where no crease is a hair open, or where none near by closes.
 * @param angle fold angle per crease, radians; a pose that closes
 */
export function pressedFlat(sheet: Sheet, angle: Float64Array): Float64Array | null {
  const folding = foldingCreases(sheet);
  const level = angle.map((a) => Math.PI * Math.round(a / Math.PI));
  const isLevel = (e: number) => Math.abs(angle[e]! - level[e]!) < PRESSED;
  const pressed = angle.map((a, e) => (folding[e] && isLevel(e) ? level[e]! : a));
  if (pressed.every((a, e) => Math.abs(a - angle[e]!) < ARRIVED)) return null;
  if (closureOfPose(sheet, pressed).largest < CLOSED) return pressed;
  const solver = new PoseSolver(
    sheet,
    folding.map((moves, e) => (moves && !isLevel(e) ? 1 : 0)),
  );
  const lower = new Float64Array(solver.size).fill(-Math.PI);
  const upper = new Float64Array(solver.size).fill(Math.PI);
  const closure = solver.close(pressed, { lower, upper });
  const near = pressed.every((a, e) => Math.abs(a - angle[e]!) < PRESSED);
  return closure < CLOSED && near ? pressed : null;
}

/**
 * The sheet with its unassigned creases named after the way they are folded, so that the way counts; those for which
 * `isKnown` says no may still go either way.
 */
export function namedAsFolded(
  sheet: Sheet,
  angle: Float64Array,
  isKnown: (crease: number) => boolean,
): Sheet {
  const creaseKind = sheet.creaseKind.map((kind, e) =>
    kind !== KIND.unassigned || angle[e] === 0 || !isKnown(e)
      ? kind
      : angle[e]! > 0
        ? KIND.valley
        : KIND.mountain,
  );
  return { ...sheet, creaseKind };
}
