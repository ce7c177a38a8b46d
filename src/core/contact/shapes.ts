/**
 * The panels of a sheet as contact needs them, flat and in one pose. Corners are kept per panel, ring after ring;
 * corners that are one point of the paper in every pose carry the same point number (a cut parts them, a crease does
 * not). Panels are used whole where that is exact (any shape, with holes); triangles only where areas are cut.
 */
import { Groups } from '../numeric/plane.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { meshOfPanel } from '../sheet/panel-mesh.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';

export interface PanelShapes {
  readonly panels: number;
  /** First corner of each panel, and one past the last at the end. */
  readonly first: Int32Array;
  /** Flat coordinates, two a corner. */
  readonly flat: Float64Array;
  /** The corner that follows round the same ring. */
  readonly next: Int32Array;
  /** Point of the paper at each corner. */
  readonly point: Int32Array;
  /** Length that a wedge at a corner is straight for: a quarter of the shorter line there. */
  readonly reach: Float64Array;
  /** Triangles of each panel, three corner numbers each, counter-clockwise on the flat sheet. */
  readonly triangles: readonly Int32Array[];
  /** Panels across a crease of each panel. */
  readonly beside: readonly (readonly number[])[];
  /** Panels that have a point of the paper in common with each panel. */
  readonly around: readonly (readonly number[])[];
  /** Per panel: corners at which a slit within it begins, or runs on; one a line. The slit runs to the next corner. */
  readonly slits: readonly (readonly number[])[];
  /** 1 where paper ends at the line that runs from a corner to the next: a raw edge or a cut. */
  readonly raw: Uint8Array;
  /** Longest way across each panel. */
  readonly extent: Float64Array;
}

const known = new WeakMap<Sheet, PanelShapes>();

/** Computed once for a sheet and kept. */
export function shapesOf(sheet: Sheet): PanelShapes {
  let shapes = known.get(sheet);
  if (!shapes) {
    shapes = makeShapes(sheet);
    known.set(sheet, shapes);
  }
  return shapes;
}

function makeShapes(sheet: Sheet): PanelShapes {
  const panels = sheet.panelRings.length;
  const first = new Int32Array(panels + 1);
  const cornerOf = new Int32Array(sheet.halfEdgeNext.length).fill(NONE);
  const vertex: number[] = [];
  const next: number[] = [];
  const raw: number[] = [];
  sheet.panelRings.forEach((rings, panel) => {
    first[panel] = vertex.length;
    for (const ring of rings) {
      const start = vertex.length;
      for (const h of panelRing(sheet, ring)) {
        cornerOf[h] = vertex.length;
        vertex.push(halfEdgeOrigin(sheet, h));
        raw.push(kindJoinsPanels(sheet.creaseKind[h >> 1]!) ? 0 : 1);
        next.push(vertex.length);
      }
      next[vertex.length - 1] = start;
    }
  });
  first[panels] = vertex.length;
  const flat = Float64Array.from(vertex.flatMap((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!]));
  const points = new Groups(vertex.length);
  const beside: Set<number>[] = sheet.panelRings.map(() => new Set());
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const [p, q] = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
    if (p === NONE || q === NONE || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
    const [a, b] = [cornerOf[2 * e]!, cornerOf[2 * e + 1]!];
    points.join(a, next[b]!);
    points.join(next[a]!, b);
    beside[p]!.add(q);
    beside[q]!.add(p);
  }
  const point = Int32Array.from(vertex, (_, corner) => points.find(corner));
  return {
    panels,
    first,
    flat,
    next: Int32Array.from(next),
    point,
    around: aroundOf(first, point),
    raw: Uint8Array.from(raw),
    slits: slitsOf(sheet, cornerOf),
    extent: extentOf(first, flat),
    reach: reachOf(flat, next),
    triangles: sheet.panelRings.map((_, panel) =>
      Int32Array.from(meshOfPanel(sheet, panel).triangles, (corner) => first[panel]! + corner),
    ),
    beside: beside.map((set) => [...set]),
  };
}

/** Lines with one panel on both sides at which paper ends: slits, closed at both ends or open to an edge. */
function slitsOf({ panelRings, halfEdgePanel, creaseKind }: Sheet, cornerOf: Int32Array): number[][] {
  const slits: number[][] = panelRings.map(() => []);
  for (let e = 0; e < creaseKind.length; e++) {
    const panel = halfEdgePanel[2 * e]!;
    if (panel !== NONE && panel === halfEdgePanel[2 * e + 1] && !kindJoinsPanels(creaseKind[e]!))
      slits[panel]!.push(cornerOf[2 * e]!);
  }
  return slits;
}

function aroundOf(first: Int32Array, point: Int32Array): number[][] {
  const at = new Map<number, Set<number>>();
  const panels = first.length - 1;
  for (let panel = 0; panel < panels; panel++)
    for (let c = first[panel]!; c < first[panel + 1]!; c++) {
      const own = at.get(point[c]!);
      if (own) own.add(panel);
      else at.set(point[c]!, new Set([panel]));
    }
  const around: Set<number>[] = Array.from({ length: panels }, () => new Set());
  for (const own of at.values()) for (const a of own) for (const b of own) if (a !== b) around[a]!.add(b);
  return around.map((set) => [...set]);
}

/** Diagonal of the box of each panel: no two of its points are further apart. */
function extentOf(first: Int32Array, flat: Float64Array): Float64Array {
  return Float64Array.from({ length: first.length - 1 }, (_, panel) => {
    const own = flat.subarray(2 * first[panel]!, 2 * first[panel + 1]!);
    const along = (axis: number) => own.filter((__, k) => k % 2 === axis);
    const wide = (values: Float64Array) => Math.max(...values) - Math.min(...values);
    return Math.hypot(wide(along(0)), wide(along(1)));
  });
}

function reachOf(flat: Float64Array, next: readonly number[]): Float64Array {
  const reach = new Float64Array(next.length).fill(Number.POSITIVE_INFINITY);
  next.forEach((b, a) => {
    const length = Math.hypot(flat[2 * b]! - flat[2 * a]!, flat[2 * b + 1]! - flat[2 * a + 1]!);
    reach[a] = Math.min(reach[a]!, length / 4);
    reach[b] = Math.min(reach[b]!, length / 4);
  });
  return reach;
}

/** Do two panels hinge on a common crease? Then they never cross: they meet in its line alone, or lie on each other. */
export function shareCrease(shapes: PanelShapes, a: number, b: number): boolean {
  return shapes.beside[a]!.includes(b);
}

/** Have two panels a point of the paper in common? */
export function sharePoint(shapes: PanelShapes, a: number, b: number): boolean {
  return shapes.around[a]!.includes(b);
}

/** All panels in one pose. */
export interface PosedPanels {
  readonly shapes: PanelShapes;
  readonly placement: Placement;
  /** Three numbers a corner. */
  readonly corner: Float64Array;
  /** Unit normal of each panel, on the side that faced up at the start, three numbers each. */
  readonly normal: Float64Array;
  /** Distance of each panel's plane from the origin along its normal. */
  readonly offset: Float64Array;
}

export function posePanels(shapes: PanelShapes, placement: Placement): PosedPanels {
  const { panels, first, flat } = shapes;
  const corner = new Float64Array((3 * flat.length) / 2);
  const normal = new Float64Array(3 * panels);
  const offset = new Float64Array(panels);
  const q = placement.rotation;
  for (let panel = 0; panel < panels; panel++) {
    const [x, y, z, w] = [q[4 * panel]!, q[4 * panel + 1]!, q[4 * panel + 2]!, q[4 * panel + 3]!];
    normal[3 * panel] = 2 * (x * z + w * y);
    normal[3 * panel + 1] = 2 * (y * z - w * x);
    normal[3 * panel + 2] = 1 - 2 * (x * x + y * y);
    for (let c = first[panel]!; c < first[panel + 1]!; c++)
      placePoint(corner, 3 * c, placement, panel, flat[2 * c]!, flat[2 * c + 1]!);
    for (let k = 0; k < 3; k++)
      offset[panel]! += normal[3 * panel + k]! * placement.translation[3 * panel + k]!;
  }
  return { shapes, placement, corner, normal, offset };
}

/** Height of a corner (of any panel) over the plane of a panel. */
export function heightOver({ corner, normal, offset }: PosedPanels, panel: number, c: number): number {
  return (
    normal[3 * panel]! * corner[3 * c]! +
    normal[3 * panel + 1]! * corner[3 * c + 1]! +
    normal[3 * panel + 2]! * corner[3 * c + 2]! -
    offset[panel]!
  );
}

/** Where a place in space lies as a panel sees it: flat x and y, and the height over its side up at the start. */
export function seenFrom(
  posed: Pick<PosedPanels, 'placement'>,
  panel: number,
  x: number,
  y: number,
  z: number,
): [number, number, number] {
  seeFrom(scratch, 0, posed, panel, x, y, z);
  return [scratch[0]!, scratch[1]!, scratch[2]!];
}

const scratch = new Float64Array(3);

/** The same into out[o..o+2], where a tuple for each place would cost more than the reckoning. */
export function seeFrom(
  out: Float64Array,
  o: number,
  { placement }: Pick<PosedPanels, 'placement'>,
  panel: number,
  x: number,
  y: number,
  z: number,
): void {
  const { rotation: q, translation: t } = placement;
  const [dx, dy, dz] = [x - t[3 * panel]!, y - t[3 * panel + 1]!, z - t[3 * panel + 2]!];
  const [qx, qy, qz, qw] = [-q[4 * panel]!, -q[4 * panel + 1]!, -q[4 * panel + 2]!, q[4 * panel + 3]!];
  const tx = 2 * (qy * dz - qz * dy);
  const ty = 2 * (qz * dx - qx * dz);
  const tz = 2 * (qx * dy - qy * dx);
  out[o] = dx + qw * tx + qy * tz - qz * ty;
  out[o + 1] = dy + qw * ty + qz * tx - qx * tz;
  out[o + 2] = dz + qw * tz + qx * ty - qy * tx;
}

/** The place in space at a height over a flat point of a panel; undoes `seenFrom`. */
export function placeOver(
  { placement, normal }: PosedPanels,
  panel: number,
  x: number,
  y: number,
  height: number,
): [number, number, number] {
  placePoint(scratch, 0, placement, panel, x, y);
  return [
    scratch[0]! + height * normal[3 * panel]!,
    scratch[1]! + height * normal[3 * panel + 1]!,
    scratch[2]! + height * normal[3 * panel + 2]!,
  ];
}
