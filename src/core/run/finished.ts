/** The finished state of a pattern, as its creases say, however paper gets there. */
import { HALF_TURN } from '../numeric/tolerance.ts';
import { kindFolds } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';

export interface FinishedState {
  /** Fold angle per crease, radians; unassigned folds of a flat pattern fold flat, either way. */
  readonly angle: Float64Array;
  /** A crease that has no finished angle, so that the state is not known; NONE where there is none. */
  readonly open: number;
}

export function finishedState(sheet: Sheet): FinishedState {
  const flat = foldsFlat(sheet);
  let open: number = NONE;
  const angle = sheet.creaseAngle.map((value, crease) => {
    if (!kindFolds(sheet.creaseKind[crease]!)) return 0;
    if (!Number.isNaN(value)) return value;
    if (!flat) open = crease;
    return flat ? Math.PI : 0;
  });
  return { angle, open };
}

const foldsFlat = (sheet: Sheet) =>
  sheet.creaseAngle.every((angle) => Number.isNaN(angle) || Math.abs(Math.sin(angle)) < HALF_TURN);

/**
 * Angles by which to judge whether the state closes. A flat one does or does not whichever way its creases go; where
 * some may go either way the sum of all turns is open.
 */
export function closingAngles(sheet: Sheet, { angle }: FinishedState): Float64Array {
  const eitherWay = sheet.creaseAngle.some(
    (value, crease) => Number.isNaN(value) && kindFolds(sheet.creaseKind[crease]!),
  );
  return eitherWay && foldsFlat(sheet) ? new Float64Array(angle.length) : angle;
}
