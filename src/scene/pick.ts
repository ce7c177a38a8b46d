/**
 * What lies under the pointer on the folded model: the nearest panel along the ray, and the crease and vertex of
 * it that are within reach. Geometry only, so that it is the same with any way of drawing.
 */
import type { Placement } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { PanelMesh } from './panel-mesh.ts';
import { distanceToCrease, ringVertices } from './ring.ts';
import { panelNormal, placed } from './stack.ts';

export type Point = readonly [number, number, number];

export interface Pick {
  readonly panel: number;
  /** Place on the flat sheet. */
  readonly flat: readonly [number, number];
  readonly distance: number;
  /** Crease within reach of the pointer, or null. */
  readonly crease: number | null;
  readonly vertex: number | null;
}

/** Layers nearer than this to each other are told apart by their levels. */
const TOGETHER = 1.5e-3;

/**
 * @param direction unit length
 * @param reach how near a crease must be, as an angle at the eye (radians)
 */
export function pickModel(
  sheet: Sheet,
  mesh: PanelMesh,
  placement: Placement,
  levels: Float32Array,
  eye: Point,
  direction: Point,
  reach: number,
): Pick | null {
  let best: { panel: number; distance: number; height: number; flat: [number, number] } | null = null;
  for (let panel = 0; panel < sheet.panelRings.length; panel++) {
    const normal = panelNormal(placement, panel);
    const slope = normal[0] * direction[0] + normal[1] * direction[1] + normal[2] * direction[2];
    if (Math.abs(slope) < 1e-9) continue;
    const corner = mesh.triangles[3 * mesh.firstTriangle[panel]!];
    if (corner === undefined) continue;
    const origin = placed(placement, panel, mesh.flat[2 * corner]!, mesh.flat[2 * corner + 1]!);
    const distance =
      (normal[0] * (origin[0] - eye[0]) +
        normal[1] * (origin[1] - eye[1]) +
        normal[2] * (origin[2] - eye[2])) /
      slope;
    if (distance <= 0) continue;
    const height = levels[panel]! * -Math.sign(slope);
    if (best && distance > best.distance + TOGETHER) continue;
    if (best && Math.abs(distance - best.distance) <= TOGETHER && height <= best.height) continue;
    const flat = flatten(placement, panel, [
      eye[0] + distance * direction[0],
      eye[1] + distance * direction[1],
      eye[2] + distance * direction[2],
    ]);
    if (inTriangles(mesh, panel, flat)) best = { panel, distance, height, flat };
  }
  if (!best) return null;
  const near = nearestOfPanel(sheet, best.panel, best.flat, reach * best.distance);
  return { panel: best.panel, flat: best.flat, distance: best.distance, ...near };
}

function flatten(placement: Placement, panel: number, p: Point): [number, number] {
  const k = 4 * panel;
  const [x, y, z, w] = [
    -placement.rotation[k]!,
    -placement.rotation[k + 1]!,
    -placement.rotation[k + 2]!,
    placement.rotation[k + 3]!,
  ];
  const vx = p[0] - placement.translation[3 * panel]!;
  const vy = p[1] - placement.translation[3 * panel + 1]!;
  const vz = p[2] - placement.translation[3 * panel + 2]!;
  const cx = y * vz - z * vy + w * vx;
  const cy = z * vx - x * vz + w * vy;
  const cz = x * vy - y * vx + w * vz;
  return [vx + 2 * (y * cz - z * cy), vy + 2 * (z * cx - x * cz)];
}

function inTriangles(mesh: PanelMesh, panel: number, [x, y]: readonly [number, number]): boolean {
  for (let t = mesh.firstTriangle[panel]!; t < mesh.firstTriangle[panel + 1]!; t++) {
    let inside = true;
    for (let k = 0; k < 3 && inside; k++) {
      const a = mesh.triangles[3 * t + k]!;
      const b = mesh.triangles[3 * t + ((k + 1) % 3)]!;
      const [ax, ay] = [mesh.flat[2 * a]!, mesh.flat[2 * a + 1]!];
      inside = (mesh.flat[2 * b]! - ax) * (y - ay) - (mesh.flat[2 * b + 1]! - ay) * (x - ax) >= -1e-9;
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
