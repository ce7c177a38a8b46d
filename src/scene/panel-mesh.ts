/** The sheet as plain triangles, panel by panel: flat, the same in every pose. */
import earcut from 'earcut';
import type { Sheet } from '../core/sheet/sheet.ts';
import { ringVertices } from './ring.ts';

export interface PanelMesh {
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
  sheet.panelRings.forEach((rings, panel) => {
    const base = flat.length / 2;
    const own: number[] = [];
    const holes: number[] = [];
    rings.forEach((ring, which) => {
      if (which > 0) holes.push(own.length / 2);
      for (const vertex of ringVertices(sheet, ring))
        own.push(sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
    });
    for (const value of own) flat.push(value);
    for (let k = 0; k < own.length / 2; k++) panelOfCorner.push(panel);
    firstTriangle[panel] = triangles.length / 3;
    const cut = earcut(own, holes.length > 0 ? holes : undefined, 2);
    for (let k = 0; k < cut.length; k += 3) {
      const [a, b, c] = [cut[k]!, cut[k + 1]!, cut[k + 2]!];
      const turn =
        (own[2 * b]! - own[2 * a]!) * (own[2 * c + 1]! - own[2 * a + 1]!) -
        (own[2 * b + 1]! - own[2 * a + 1]!) * (own[2 * c]! - own[2 * a]!);
      if (turn > 0) triangles.push(base + a, base + b, base + c);
      else triangles.push(base + a, base + c, base + b);
      panelOfTriangle.push(panel);
    }
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
