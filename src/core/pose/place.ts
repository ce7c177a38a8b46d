/**
 * From fold angles to where every panel is: walk from the panel that stays still across the creases, turning at
 * each by its fold angle. Panels stay rigid by construction; where a pose does not close, the paper gapes at the
 * creases that the walk did not cross.
 */
import { multiply, normalise, setFoldTurn, turn } from '../numeric/rotation.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin, panelRing } from '../sheet/walk.ts';

/** Flat point (x, y) of panel p stands at rotation[4p..] turned (x, y, 0), plus translation[3p..]. Sheet units. */
export interface Placement {
  readonly rotation: Float64Array;
  readonly translation: Float64Array;
}

/** Order in which panels are placed: each by the half-edge (of the new panel) that it is entered across. */
export interface PanelWalk {
  readonly panels: Int32Array;
  readonly entered: Int32Array;
}

/** Breadth first from `still`, so that errors of rounding stay small. Panels of other pieces of paper start anew. */
export function walkPanels(sheet: Sheet, still: number): PanelWalk {
  const count = sheet.panelRings.length;
  const panels = new Int32Array(count);
  const entered = new Int32Array(count).fill(NONE);
  const seen = new Uint8Array(count);
  let end = 0;
  let read = 0;
  const start = (panel: number) => {
    seen[panel] = 1;
    panels[end++] = panel;
  };
  for (let seed = NONE; seed < count; seed++) {
    const panel = seed === NONE ? still : seed;
    if (panel < 0 || panel >= count || seen[panel]) continue;
    start(panel);
    while (read < end) {
      for (const ring of sheet.panelRings[panels[read++]!]!) {
        for (const h of panelRing(sheet, ring)) {
          const beyond = sheet.halfEdgePanel[h ^ 1]!;
          if (beyond === NONE || seen[beyond] || !kindJoinsPanels(sheet.creaseKind[h >> 1]!)) continue;
          entered[beyond] = h ^ 1;
          start(beyond);
        }
      }
    }
  }
  return { panels, entered };
}

/**
 * Places every panel.
 * @param angle fold angle per crease, radians, valley positive
 * @param still panel that keeps its place on the table
 */
export function placePanels(
  sheet: Sheet,
  angle: Float64Array,
  still: number,
  walk: PanelWalk = walkPanels(sheet, still),
): Placement {
  const count = sheet.panelRings.length;
  const rotation = new Float64Array(4 * count);
  const translation = new Float64Array(3 * count);
  const step = new Float64Array(4);
  const moved = new Float64Array(3);
  for (let k = 0; k < count; k++) {
    const panel = walk.panels[k]!;
    const h = walk.entered[panel]!;
    if (h === NONE) {
      rotation[4 * panel + 3] = 1;
      continue;
    }
    const from = sheet.halfEdgePanel[h ^ 1]!;
    const { x, y, dx, dy } = halfEdgeLine(sheet, h);
    setFoldTurn(step, 0, dx, dy, angle[h >> 1]!);
    multiply(rotation, 4 * panel, rotation, 4 * from, step, 0);
    normalise(rotation, 4 * panel);
    turn(moved, 0, rotation, 4 * from, x, y, 0);
    for (let a = 0; a < 3; a++) translation[3 * panel + a] = moved[a]! + translation[3 * from + a]!;
    turn(moved, 0, rotation, 4 * panel, x, y, 0);
    for (let a = 0; a < 3; a++) translation[3 * panel + a]! -= moved[a]!;
  }
  return { rotation, translation };
}

/** Where a half-edge starts on the flat sheet and its direction, length 1. */
export function halfEdgeLine(sheet: Sheet, h: number): { x: number; y: number; dx: number; dy: number } {
  const a = halfEdgeOrigin(sheet, h);
  const b = halfEdgeEnd(sheet, h);
  const x = sheet.vertexX[a]!;
  const y = sheet.vertexY[a]!;
  const dx = sheet.vertexX[b]! - x;
  const dy = sheet.vertexY[b]! - y;
  const length = Math.hypot(dx, dy);
  return { x, y, dx: dx / length, dy: dy / length };
}

/** out[o..o+2] = where flat point (x, y) of a panel stands. */
export function placePoint(
  out: Float64Array,
  o: number,
  placement: Placement,
  panel: number,
  x: number,
  y: number,
): void {
  turn(out, o, placement.rotation, 4 * panel, x, y, 0);
  for (let a = 0; a < 3; a++) out[o + a]! += placement.translation[3 * panel + a]!;
}

/** Where a flat point of a panel stands. */
export function placeOf(placement: Placement, panel: number, x: number, y: number): [number, number, number] {
  const point = new Float64Array(3);
  placePoint(point, 0, placement, panel, x, y);
  return [point[0]!, point[1]!, point[2]!];
}

/** Direction in which the side of a panel that faced up at the start looks; unit length. */
export function panelNormal({ rotation }: Placement, panel: number): [number, number, number] {
  const normal = new Float64Array(3);
  turn(normal, 0, rotation, 4 * panel, 0, 0, 1);
  return [normal[0]!, normal[1]!, normal[2]!];
}

/** Position of every vertex, three numbers each, as its lowest-numbered panel has it. */
export function vertexPositions(sheet: Sheet, placement: Placement): Float64Array {
  const positions = new Float64Array(3 * sheet.vertexX.length).fill(Number.NaN);
  for (let panel = 0; panel < sheet.panelRings.length; panel++)
    for (const ring of sheet.panelRings[panel]!)
      for (const h of panelRing(sheet, ring)) {
        const v = halfEdgeOrigin(sheet, h);
        if (Number.isNaN(positions[3 * v]!))
          placePoint(positions, 3 * v, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
      }
  for (let k = 0; k < positions.length; k++) if (Number.isNaN(positions[k]!)) positions[k] = 0;
  return positions;
}

/**
 * How far the paper gapes: the largest distance, in sheet units, between two places of one vertex, over all
 * panels that meet across a joining crease there.
 */
export function widestGap(sheet: Sheet, placement: Placement): { gap: number; vertex: number } {
  const p = new Float64Array(6);
  let worst = { gap: 0, vertex: NONE };
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const left = sheet.halfEdgePanel[2 * e]!;
    const right = sheet.halfEdgePanel[2 * e + 1]!;
    if (left === NONE || right === NONE || left === right || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
    for (const vertex of [sheet.creaseFrom[e]!, sheet.creaseTo[e]!]) {
      placePoint(p, 0, placement, left, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
      placePoint(p, 3, placement, right, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
      const gap = Math.hypot(p[0]! - p[3]!, p[1]! - p[4]!, p[2]! - p[5]!);
      if (gap > worst.gap) worst = { gap, vertex };
    }
  }
  return worst;
}
