/** Small measures on the flat sheet that drawing and pointing share. */
import { distanceToStretch } from '../numeric/plane.ts';
import type { Sheet } from './sheet.ts';
import { halfEdgeOrigin, panelRing } from './walk.ts';

/** Corners of one ring, in order. */
export function ringVertices(sheet: Sheet, halfEdge: number): number[] {
  return panelRing(sheet, halfEdge).map((h) => halfEdgeOrigin(sheet, h));
}

/** Distance on the flat sheet from a point to a crease, sheet units. */
export function distanceToCrease(sheet: Sheet, crease: number, x: number, y: number): number {
  const corner = (vertex: number) => [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!] as const;
  return distanceToStretch(corner(sheet.creaseFrom[crease]!), corner(sheet.creaseTo[crease]!), [x, y]);
}
