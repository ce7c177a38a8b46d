/** The sheet as plain triangles, panel by panel: flat, the same in every pose. */
import { meshOfPanel } from '../core/sheet/panel-mesh.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

interface PanelMesh {
  /** Two flat coordinates per corner, sheet units. */
  readonly flat: Float32Array;
  readonly panelOfCorner: Float32Array;
  /** Three corners per triangle, counter-clockwise on the flat sheet. */
  readonly triangles: Uint32Array;
  readonly panelOfTriangle: Int32Array;
  /** First triangle of each panel, and one past the last at the end. */
  readonly firstTriangle: Int32Array;
}

/** Builds the arrays. Panels may be of any shape and have holes. */
export function panelMesh(sheet: Sheet): PanelMesh {
  const flat: number[] = [];
  const panelOfCorner: number[] = [];
  const triangles: number[] = [];
  const panelOfTriangle: number[] = [];
  const firstTriangle = new Int32Array(sheet.panelRings.length + 1);
  sheet.panelRings.forEach((_, panel) => {
    const base = flat.length / 2;
    const own = meshOfPanel(sheet, panel);
    for (const vertex of own.corners) {
      flat.push(sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
      panelOfCorner.push(panel);
    }
    firstTriangle[panel] = triangles.length / 3;
    for (const at of own.triangles) triangles.push(base + at);
    for (let t = 0; t < own.triangles.length; t += 3) panelOfTriangle.push(panel);
  });
  firstTriangle[sheet.panelRings.length] = triangles.length / 3;
  return {
    flat: Float32Array.from(flat),
    panelOfCorner: Float32Array.from(panelOfCorner),
    triangles: Uint32Array.from(triangles),
    panelOfTriangle: Int32Array.from(panelOfTriangle),
    firstTriangle,
  };
}
