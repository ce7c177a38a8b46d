/**
 * The sheet as plain arrays to draw: triangles of each panel, and one strip per half-edge. Everything is flat
 * and never changes with the pose; the shaders place it.
 */
import earcut from 'earcut';
import { NONE, type Sheet } from '../core/sheet/sheet.ts';
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
  /** Per strip: flat x, y of start and end. */
  readonly stripEnds: Float32Array;
  readonly stripInward: Float32Array;
  readonly stripPanel: Float32Array;
  /** Panel on the other side of the crease, or -1. */
  readonly stripBeyond: Float32Array;
  readonly stripCrease: Int32Array;
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
    ...strips(sheet),
  };
}

function strips(sheet: Sheet) {
  const ends: number[] = [];
  const inward: number[] = [];
  const panels: number[] = [];
  const beyond: number[] = [];
  const creases: number[] = [];
  for (let h = 0; h < sheet.halfEdgePanel.length; h++) {
    const panel = sheet.halfEdgePanel[h]!;
    if (panel === NONE) continue;
    const e = h >> 1;
    // Both strips of a crease run the same way, so that the dashes of its two halves meet.
    const a = sheet.creaseFrom[e]!;
    const b = sheet.creaseTo[e]!;
    const dx = sheet.vertexX[b]! - sheet.vertexX[a]!;
    const dy = sheet.vertexY[b]! - sheet.vertexY[a]!;
    const length = Math.hypot(dx, dy) || 1;
    const side = (h & 1) === 0 ? 1 : -1;
    ends.push(sheet.vertexX[a]!, sheet.vertexY[a]!, sheet.vertexX[b]!, sheet.vertexY[b]!);
    inward.push((-dy / length) * side, (dx / length) * side);
    panels.push(panel);
    beyond.push(sheet.halfEdgePanel[h ^ 1]!);
    creases.push(e);
  }
  return {
    stripEnds: Float32Array.from(ends),
    stripInward: Float32Array.from(inward),
    stripPanel: Float32Array.from(panels),
    stripBeyond: Float32Array.from(beyond),
    stripCrease: Int32Array.from(creases),
  };
}
