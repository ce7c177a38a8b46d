import earcut from 'earcut';
import type { Sheet } from './sheet.ts';
import { halfEdgeOrigin, panelRing } from './walk.ts';

/** A panel cut into triangles: its corners as vertices of the sheet, and triangles as places in that list. */
export interface PanelMesh {
  readonly corners: readonly number[];
  /** Three entries a triangle, counter-clockwise seen from the side that faced up at the start. */
  readonly triangles: readonly number[];
}

export function meshOfPanel(sheet: Sheet, panel: number): PanelMesh {
  const corners: number[] = [];
  const holes: number[] = [];
  for (const ring of sheet.panelRings[panel]!) {
    if (corners.length > 0) holes.push(corners.length);
    for (const half of panelRing(sheet, ring)) corners.push(halfEdgeOrigin(sheet, half));
  }
  const flat = corners.flatMap((vertex) => [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!]);
  const triangles = earcut(flat, holes);
  for (let i = 0; i < triangles.length; i += 3) {
    if (turnsRight(flat, triangles, i)) [triangles[i], triangles[i + 1]] = [triangles[i + 1]!, triangles[i]!];
  }
  return { corners, triangles };
}

function turnsRight(flat: readonly number[], triangles: readonly number[], i: number): boolean {
  const [a, b, c] = [2 * triangles[i]!, 2 * triangles[i + 1]!, 2 * triangles[i + 2]!];
  const cross =
    (flat[b]! - flat[a]!) * (flat[c + 1]! - flat[a + 1]!) -
    (flat[b + 1]! - flat[a + 1]!) * (flat[c]! - flat[a]!);
  return cross < 0;
}
