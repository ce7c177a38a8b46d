import type { Point } from '../numeric/vector.ts';
import { meshOfPanel } from './panel-mesh.ts';
import type { Sheet } from './sheet.ts';

/** A flat point well inside a panel: the middle of the largest triangle that it is cut into. */
export function insidePoint(sheet: Sheet, panel: number): Point {
  const { corners, triangles } = meshOfPanel(sheet, panel);
  let best: { area: number; at: Point } = { area: -1, at: [0, 0] };
  for (let k = 0; k < triangles.length; k += 3) {
    const [a, b, c] = [0, 1, 2].map((i): Point => {
      const v = corners[triangles[k + i]!]!;
      return [sheet.vertexX[v]!, sheet.vertexY[v]!];
    }) as [Point, Point, Point];
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (area > best.area) best = { area, at: [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3] };
  }
  return best.at;
}
