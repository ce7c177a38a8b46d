/** Small measures on the flat sheet that drawing and pointing share. */
import type { Sheet } from './sheet.ts';
import { halfEdgeOrigin, panelRing } from './walk.ts';

/** Corners of one ring, in order. */
export function ringVertices(sheet: Sheet, halfEdge: number): number[] {
  return panelRing(sheet, halfEdge).map((h) => halfEdgeOrigin(sheet, h));
}

/** Distance on the flat sheet from a point to a crease, sheet units. */
export function distanceToCrease(sheet: Sheet, crease: number, x: number, y: number): number {
  const a = sheet.creaseFrom[crease]!;
  const b = sheet.creaseTo[crease]!;
  const ax = sheet.vertexX[a]!;
  const ay = sheet.vertexY[a]!;
  const dx = sheet.vertexX[b]! - ax;
  const dy = sheet.vertexY[b]! - ay;
  const along = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(ax + along * dx - x, ay + along * dy - y);
}
