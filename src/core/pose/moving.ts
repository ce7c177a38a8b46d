/** Which creases may move, and between which angles. */
import { KIND, kindFolds, kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';

/** 1 for every crease that has paper on both sides and a kind that folds. */
export function foldingCreases(sheet: Sheet): Uint8Array {
  return Uint8Array.from(sheet.creaseKind, (kind, e) =>
    kindJoinsPanels(kind) &&
    kindFolds(kind) &&
    sheet.halfEdgePanel[2 * e] !== NONE &&
    sheet.halfEdgePanel[2 * e + 1] !== NONE &&
    sheet.halfEdgePanel[2 * e] !== sheet.halfEdgePanel[2 * e + 1]
      ? 1
      : 0,
  );
}

/** Lowest and highest fold angle of a crease, radians: its kind bounds the sign unless `free`. */
export function angleBounds(kind: number, free: boolean): readonly [number, number] {
  if (free || kind === KIND.unassigned) return [-Math.PI, Math.PI];
  if (kind === KIND.valley) return [0, Math.PI];
  if (kind === KIND.mountain) return [-Math.PI, 0];
  return [0, 0];
}

/** The range of a crease that starts at an angle; a start beyond it, from an earlier step, may stay where it is. */
export function rangeFrom(start: number, kind: number, free: boolean): readonly [number, number] {
  const [lower, upper] = angleBounds(kind, free);
  return [Math.min(lower, start), Math.max(upper, start)];
}
