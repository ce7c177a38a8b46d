/**
 * What lies under the pointer on the folded model: the nearest panel along the ray, and the crease and vertex of
 * it that are within reach. Geometry only, so that it is the same with any way of drawing.
 */
import { flatPoint, type Leaf } from '../core/layer/leaves.ts';
import type { Placement } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LeafMesh } from './leaf-mesh.ts';
import { distanceToCrease, ringVertices } from './ring.ts';
import { panelNormal, placed } from './stack.ts';

export type Point = readonly [number, number, number];

export interface Pick {
  readonly panel: number;
  /** Place on the flat sheet. */
  readonly flat: readonly [number, number];
  readonly distance: number;
  /** 1: the side that faced up at the start looks at the eye; -1: the other. */
  readonly side: 1 | -1;
  /** Crease within reach of the pointer, or null. */
  readonly crease: number | null;
  readonly vertex: number | null;
}

/** The model as it is drawn. */
export interface PickedModel {
  readonly sheet: Sheet;
  readonly leaves: readonly Leaf[];
  readonly mesh: LeafMesh;
  readonly placement: Placement;
  /** How far each leaf is held off its panel's plane along the panel's normal, sheet units. */
  readonly off: (leaf: number) => number;
  /** May this panel be picked? Paper that is seen through is passed by. */
  readonly solid: (panel: number) => boolean;
  /** Is this place of the model still there? What the slice took away is not. */
  readonly there: (place: Point) => boolean;
}

/**
 * @param direction unit length
 * @param reach how near a crease must be, as an angle at the eye (radians)
 */
export function pickModel(model: PickedModel, eye: Point, direction: Point, reach: number): Pick | null {
  const { sheet, leaves, mesh, placement } = model;
  let best: Pick | null = null;
  leaves.forEach(({ panel, rings }, leaf) => {
    if (!model.solid(panel)) return;
    const normal = panelNormal(placement, panel);
    const slope = normal[0] * direction[0] + normal[1] * direction[1] + normal[2] * direction[2];
    if (Math.abs(slope) < 1e-9) return;
    const off = model.off(leaf);
    const corner = placed(placement, panel, rings[0]![0]!, rings[0]![1]!);
    const distance =
      (off +
        normal[0] * (corner[0] - eye[0]) +
        normal[1] * (corner[1] - eye[1]) +
        normal[2] * (corner[2] - eye[2])) /
      slope;
    if (distance <= 0 || (best && distance >= best.distance)) return;
    const at: Point = [
      eye[0] + distance * direction[0],
      eye[1] + distance * direction[1],
      eye[2] + distance * direction[2],
    ];
    const flat = flatPoint(placement, panel, at);
    if (inTriangles(mesh, leaf, flat) && model.there(at))
      best = { panel, distance, flat, side: slope < 0 ? 1 : -1, crease: null, vertex: null };
  });
  const found = best as Pick | null;
  return found && { ...found, ...nearestOfPanel(sheet, found.panel, found.flat, reach * found.distance) };
}

function inTriangles(mesh: LeafMesh, leaf: number, [x, y]: readonly [number, number]): boolean {
  for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
    let inside = true;
    for (let k = 0; k < 3 && inside; k++) {
      const a = mesh.triangles[3 * t + k]!;
      const b = mesh.triangles[3 * t + ((k + 1) % 3)]!;
      const [ax, ay] = [mesh.flat[2 * a]!, mesh.flat[2 * a + 1]!];
      inside = (mesh.flat[2 * b]! - ax) * (y - ay) - (mesh.flat[2 * b + 1]! - ay) * (x - ax) >= -1e-7;
    }
    if (inside) return true;
  }
  return false;
}

function nearestOfPanel(sheet: Sheet, panel: number, [x, y]: readonly [number, number], reach: number) {
  let crease: number | null = null;
  let creaseAt = reach;
  let vertex: number | null = null;
  let vertexAt = reach;
  for (const ring of sheet.panelRings[panel]!) {
    let h = ring;
    do {
      const d = distanceToCrease(sheet, h >> 1, x, y);
      if (d < creaseAt) {
        creaseAt = d;
        crease = h >> 1;
      }
      h = sheet.halfEdgeNext[h]!;
    } while (h !== ring);
    for (const v of ringVertices(sheet, ring)) {
      const d = Math.hypot(sheet.vertexX[v]! - x, sheet.vertexY[v]! - y);
      if (d < vertexAt) {
        vertexAt = d;
        vertex = v;
      }
    }
  }
  return { crease, vertex };
}
