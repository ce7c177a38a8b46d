/**
 * What lies under the pointer on the folded model: the nearest panel along the ray, and the crease and vertex of
 * it that are within reach. Geometry only, so that it is the same with any way of drawing.
 */
import { drawnPlace } from '../core/drawn/drawn-pose.ts';
import type { Aside } from '../core/layer/aside.ts';
import { flatPoint, type Leaf } from '../core/layer/leaves.ts';
import { cross, dot, minus, type Point, type Space } from '../core/numeric/vector.ts';
import { type Placement, panelNormal, placeOf } from '../core/pose/place.ts';
import { distanceToCrease, ringVertices } from '../core/sheet/near.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { LeafMesh } from './leaf-mesh.ts';

export interface Pick {
  readonly panel: number;
  /** Place on the flat sheet. */
  readonly flat: Point;
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
  /** How far grazing panels are bent aside. */
  readonly aside: Aside | null;
  /** May this panel be picked? Paper that is seen through is passed by. */
  readonly solid: (panel: number) => boolean;
  /** Is this place of the model still there? What the slice took away is not. */
  readonly there: (place: Space) => boolean;
}

/**
 * @param direction unit length
 * @param reach how near a crease must be, as an angle at the eye (radians)
 */
export function pickModel(model: PickedModel, eye: Space, direction: Space, reach: number): Pick | null {
  const { sheet, leaves, aside } = model;
  let best: Pick | null = null;
  leaves.forEach(({ panel, rings }, leaf) => {
    if (!model.solid(panel)) return;
    const off = model.off(leaf);
    const hit = aside?.has(panel)
      ? hitBent(model, leaf, off, eye, direction)
      : hitFlat(model, leaf, off, eye, direction, rings[0]!);
    if (!hit || hit.distance <= 0 || (best && hit.distance >= best.distance)) return;
    const { distance } = hit;
    const at: Space = [
      eye[0] + distance * direction[0],
      eye[1] + distance * direction[1],
      eye[2] + distance * direction[2],
    ];
    if (model.there(at)) best = { panel, ...hit, crease: null, vertex: null };
  });
  const found = best as Pick | null;
  return found && { ...found, ...nearestOfPanel(sheet, found.panel, found.flat, reach * found.distance) };
}

type Hit = { readonly distance: number; readonly flat: Point; readonly side: 1 | -1 };

/** Where a ray meets a leaf that lies in a plane. */
function hitFlat(
  { placement, leaves, mesh }: PickedModel,
  leaf: number,
  off: number,
  eye: Space,
  direction: Space,
  ring: readonly number[],
): Hit | null {
  const { panel } = leaves[leaf]!;
  const normal = panelNormal(placement, panel);
  const slope = dot(normal, direction);
  if (Math.abs(slope) < 1e-9) return null;
  const corner = placeOf(placement, panel, ring[0]!, ring[1]!);
  const distance = (off + dot(normal, minus(corner, eye))) / slope;
  const at: Space = [
    eye[0] + distance * direction[0],
    eye[1] + distance * direction[1],
    eye[2] + distance * direction[2],
  ];
  const flat = flatPoint(placement, panel, at);
  return inTriangles(mesh, leaf, flat) ? { distance, flat, side: slope < 0 ? 1 : -1 } : null;
}

/** The nearest place at which a ray meets one of the triangles of a bent leaf. */
function hitBent(
  { placement, aside, leaves, mesh }: PickedModel,
  leaf: number,
  off: number,
  eye: Space,
  direction: Space,
): Hit | null {
  const { panel } = leaves[leaf]!;
  let best: Hit | null = null;
  for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
    const flats = [0, 1, 2].map((k): [number, number] => {
      const corner = mesh.triangles[3 * t + k]!;
      return [mesh.flat[2 * corner]!, mesh.flat[2 * corner + 1]!];
    });
    const [a, b, c] = flats.map((flat) => drawnPlace(placement, aside, panel, flat, off)) as [
      Space,
      Space,
      Space,
    ];
    const normal = cross(minus(b, a), minus(c, a));
    const slope = dot(normal, direction);
    if (slope === 0) continue;
    const distance = dot(normal, minus(a, eye)) / slope;
    if (distance <= 0 || (best && distance >= best.distance)) continue;
    // as seen from the eye, on which side of each edge does the ray pass?
    const share = [
      dot(direction, cross(minus(b, eye), minus(c, eye))),
      dot(direction, cross(minus(c, eye), minus(a, eye))),
      dot(direction, cross(minus(a, eye), minus(b, eye))),
    ];
    const sum = share[0]! + share[1]! + share[2]!;
    if (share.some((part) => part / sum < -1e-7)) continue;
    const at = (axis: 0 | 1) => share.reduce((all, part, k) => all + (part / sum) * flats[k]![axis], 0);
    best = { distance, flat: [at(0), at(1)], side: slope < 0 ? 1 : -1 };
  }
  return best;
}

function inTriangles(mesh: LeafMesh, leaf: number, [x, y]: Point): boolean {
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

function nearestOfPanel(sheet: Sheet, panel: number, [x, y]: Point, reach: number) {
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
