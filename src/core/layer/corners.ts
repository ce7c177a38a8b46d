/** Corners whose paper has gone through itself, whatever the layers. */
import { ARRIVED } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import type { LayerConflict } from './conflict.ts';

/**
 * Going round each of these corners the panels do meet again, but the fold turns multiply to -1, a whole turn: no motion
 * of paper leads there (see pose/closure.ts), and no order of layers exists. Corners with an unassigned crease are left
 * out, since that may go the other way.
 */
export function cornersGoneThrough(
  sheet: Sheet,
  angle: Float64Array,
): { readonly vertex: number; readonly creases: readonly number[] }[] {
  return closureOfPose(sheet, angle)
    .loops.filter(
      ({ vertex, rotation, creases }) =>
        vertex !== NONE &&
        Math.abs(rotation - 2 * Math.PI) < ARRIVED &&
        creases.every((crease) => sheet.creaseKind[crease] !== KIND.unassigned),
    )
    .map(({ vertex, creases }) => ({ vertex, creases: [...new Set(creases)].sort((a, b) => a - b) }));
}

/** The same as what stands in the way of every layer order; null where no corner is such. */
export function cornerConflict(sheet: Sheet, angle: Float64Array): LayerConflict | null {
  const corners = cornersGoneThrough(sheet, angle);
  if (corners.length === 0) return null;
  const creases = [...new Set(corners.flatMap((corner) => corner.creases))].sort((a, b) => a - b);
  const vertices = corners.map(({ vertex }) => vertex);
  const panels = creases.flatMap((crease) =>
    [2 * crease, 2 * crease + 1].map((h) => sheet.halfEdgePanel[h]!).filter((panel) => panel !== NONE),
  );
  return {
    panels: [...new Set(panels)].sort((a, b) => a - b),
    creases,
    why: { how: 'corners', corners: vertices, creases },
  };
}
