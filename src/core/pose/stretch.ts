import type { Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { type Placement, vertexPositions } from './place.ts';

/** Panels of more corners than this are measured along their edges and to their first corners only. */
const MOST_CORNERS = 60;

/**
 * Largest relative change of the distance between two corners of one panel, against the flat sheet: edges and
 * diagonals. A corner stands where its first panel has it, so paper that gapes shows as stretch.
 */
export function stretchOfPose(sheet: Sheet, placement: Placement): number {
  const position = vertexPositions(sheet, placement);
  let most = 0;
  for (const rings of sheet.panelRings) {
    const corners = rings.flatMap((ring) =>
      panelRing(sheet, ring).map((half) => halfEdgeOrigin(sheet, half)),
    );
    for (let i = 0; i < corners.length; i++) {
      for (let j = i + 1; j < corners.length; j++) {
        if (i >= MOST_CORNERS && j > i + 1) break;
        const a = corners[i]!;
        const b = corners[j]!;
        const flat = Math.hypot(sheet.vertexX[a]! - sheet.vertexX[b]!, sheet.vertexY[a]! - sheet.vertexY[b]!);
        if (flat === 0) continue;
        const folded = Math.hypot(
          position[3 * a]! - position[3 * b]!,
          position[3 * a + 1]! - position[3 * b + 1]!,
          position[3 * a + 2]! - position[3 * b + 2]!,
        );
        most = Math.max(most, Math.abs(folded / flat - 1));
      }
    }
  }
  return most;
}
