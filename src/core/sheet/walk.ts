/** Small readers of a sheet. Half-edge 2e runs from creaseFrom[e] to creaseTo[e], 2e + 1 runs back. */
import { isOn, side } from '../numeric/predicates.ts';
import { SAME_AREA, SNAP } from '../numeric/tolerance.ts';
import { kindFolds, kindJoinsPanels } from './kind.ts';
import { rotations } from './rings.ts';
import type { Sheet } from './sheet.ts';
import { NONE } from './sheet.ts';

export function vertexCount(sheet: Sheet): number {
  return sheet.vertexX.length;
}

/** All lines, raw edges and cuts included. */
export function creaseCount(sheet: Sheet): number {
  return sheet.creaseFrom.length;
}

export function panelCount(sheet: Sheet): number {
  return sheet.panelRings.length;
}

/** Vertex at which a half-edge starts. */
export function halfEdgeOrigin(sheet: Sheet, halfEdge: number): number {
  return (halfEdge & 1) === 0 ? sheet.creaseFrom[halfEdge >> 1]! : sheet.creaseTo[halfEdge >> 1]!;
}

/** Vertex at which a half-edge ends. */
export function halfEdgeEnd(sheet: Sheet, halfEdge: number): number {
  return halfEdgeOrigin(sheet, halfEdge ^ 1);
}

const rotationsOf = new WeakMap<Sheet, { start: Int32Array; outgoing: Int32Array }>();

/** Half-edges that leave a vertex, counter-clockwise. Computed once for a sheet and kept. */
export function creasesAround(sheet: Sheet, vertex: number): Int32Array {
  let all = rotationsOf.get(sheet);
  if (all === undefined) {
    all = rotations({
      x: sheet.vertexX,
      y: sheet.vertexY,
      from: sheet.creaseFrom,
      to: sheet.creaseTo,
    });
    rotationsOf.set(sheet, all);
  }
  return all.outgoing.subarray(all.start[vertex]!, all.start[vertex + 1]!);
}

/** Is there paper all round this vertex, hinged at each of its creases? */
export function isInterior(sheet: Sheet, vertex: number): boolean {
  const around = creasesAround(sheet, vertex);
  return around.length > 0 && around.every((h) => kindJoinsPanels(sheet.creaseKind[h >> 1]!));
}

/** All vertices with paper all round, in order. */
export function interiorVertices(sheet: Sheet): number[] {
  const list: number[] = [];
  for (let v = 0; v < vertexCount(sheet); v++) if (isInterior(sheet, v)) list.push(v);
  return list;
}

/** Half-edges of one boundary ring, beginning with the given one. */
export function panelRing(sheet: Sheet, halfEdge: number): number[] {
  const ring: number[] = [];
  let h = halfEdge;
  do {
    ring.push(h);
    h = sheet.halfEdgeNext[h]!;
  } while (h !== halfEdge);
  return ring;
}

/** Length of a crease in sheet units. */
export function creaseLength(sheet: Sheet, crease: number): number {
  const a = sheet.creaseFrom[crease]!;
  const b = sheet.creaseTo[crease]!;
  return Math.hypot(sheet.vertexX[b]! - sheet.vertexX[a]!, sheet.vertexY[b]! - sheet.vertexY[a]!);
}

/** Middle of a crease on the flat sheet. */
export function creaseMiddle(sheet: Sheet, crease: number): [number, number] {
  const a = sheet.creaseFrom[crease]!;
  const b = sheet.creaseTo[crease]!;
  return [(sheet.vertexX[a]! + sheet.vertexX[b]!) / 2, (sheet.vertexY[a]! + sheet.vertexY[b]!) / 2];
}

/** Direction of a half-edge, radians counter-clockwise from +x, -pi..pi. */
export function halfEdgeDirection(sheet: Sheet, halfEdge: number): number {
  const a = halfEdgeOrigin(sheet, halfEdge);
  const b = halfEdgeEnd(sheet, halfEdge);
  return Math.atan2(sheet.vertexY[b]! - sheet.vertexY[a]!, sheet.vertexX[b]! - sheet.vertexX[a]!);
}

/** Area of a panel, holes taken off, in square sheet units. */
export function panelArea(sheet: Sheet, panel: number): number {
  let twice = 0;
  for (const ring of sheet.panelRings[panel]!) {
    for (const h of panelRing(sheet, ring)) {
      const a = halfEdgeOrigin(sheet, h);
      const b = halfEdgeEnd(sheet, h);
      twice += sheet.vertexX[a]! * sheet.vertexY[b]! - sheet.vertexX[b]! * sheet.vertexY[a]!;
    }
  }
  return twice / 2;
}

/** The largest panel, of equal ones the first: what a hand would leave lying where no other is named. */
export function mainPanel(sheet: Sheet): number {
  let main = 0;
  let most = 0;
  for (let panel = 0; panel < panelCount(sheet); panel++) {
    const area = panelArea(sheet, panel);
    if (area > most * (1 + SAME_AREA)) [main, most] = [panel, area];
  }
  return main;
}

/** The panel that a point of the flat sheet lies in (a panel beside it when it lies on a line), or NONE. */
export function panelContaining(sheet: Sheet, x: number, y: number): number {
  for (let panel = 0; panel < panelCount(sheet); panel++) {
    let winding = 0;
    let onBoundary = false;
    for (const ring of sheet.panelRings[panel]!) {
      for (const h of panelRing(sheet, ring)) {
        const a = halfEdgeOrigin(sheet, h);
        const b = halfEdgeEnd(sheet, h);
        const [ax, ay, bx, by] = [sheet.vertexX[a]!, sheet.vertexY[a]!, sheet.vertexX[b]!, sheet.vertexY[b]!];
        if (isOn(ax, ay, bx, by, x, y)) onBoundary = true;
        const where = side(ax, ay, bx, by, x, y);
        if (ay <= y && by > y && where > 0) winding++;
        else if (by <= y && ay > y && where < 0) winding--;
      }
    }
    if (onBoundary || winding > 0) return panel;
  }
  return NONE;
}

/** All creases that lie on the straight lines of the given ones, in the flat sheet; folding ones only. */
export function creasesInLine(sheet: Sheet, creases: readonly number[]): number[] {
  const { vertexX, vertexY, creaseFrom, creaseTo, creaseKind } = sheet;
  const off = (line: number, v: number) => {
    const [a, b] = [creaseFrom[line]!, creaseTo[line]!];
    const [dx, dy] = [vertexX[b]! - vertexX[a]!, vertexY[b]! - vertexY[a]!];
    return Math.abs((vertexX[v]! - vertexX[a]!) * dy - (vertexY[v]! - vertexY[a]!) * dx) / Math.hypot(dx, dy);
  };
  return Array.from(creaseKind.keys()).filter(
    (crease) =>
      kindFolds(creaseKind[crease]!) &&
      creases.some((line) => [creaseFrom[crease]!, creaseTo[crease]!].every((v) => off(line, v) < SNAP)),
  );
}
