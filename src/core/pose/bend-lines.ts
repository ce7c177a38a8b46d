/**
 * Bend lines: panels with more than three corners are cut into triangles by diagonals that may fold, so that a
 * motion which is not rigid shows as bending, with its place and its degrees. Bend lines follow the sheet's own
 * creases in number; the first triangle of each panel keeps the panel's number.
 */
import { SLIVER } from '../numeric/tolerance.ts';
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { panelRing } from '../sheet/walk.ts';

export interface BentSheet {
  readonly sheet: Sheet;
  readonly bendLines: number;
  /** Panel of the original sheet that each panel is part of. */
  readonly panelOf: Int32Array;
}

/** How the next corner to cut off is chosen: the lowest score first. */
type DiagonalChoice = (length: number) => number;

/** A sheet without bend lines, in the same form. */
export function unbent(sheet: Sheet): BentSheet {
  return { sheet, bendLines: 0, panelOf: Int32Array.from(sheet.panelRings, (_, panel) => panel) };
}

/** Cuts every panel without holes into triangles. Panels with holes stay whole, and rigid. */
export function addBendLines(sheet: Sheet, choose: DiagonalChoice): BentSheet {
  const creases = sheet.creaseKind.length;
  const from = Array.from(sheet.creaseFrom);
  const to = Array.from(sheet.creaseTo);
  const next = Array.from(sheet.halfEdgeNext);
  const panelOfHalfEdge = Array.from(sheet.halfEdgePanel);
  const rings = sheet.panelRings.map((list) => [...list]);
  const panelOf = rings.map((_, panel) => panel);
  const start = (h: number) => ((h & 1) === 0 ? from[h >> 1]! : to[h >> 1]!);
  for (let panel = 0; panel < sheet.panelRings.length; panel++) {
    const own = sheet.panelRings[panel]!;
    if (own.length !== 1) continue;
    let ring = panelRing(sheet, own[0]!);
    const cuts = cutCorners(sheet, ring.map(start), choose);
    for (let k = 0; k < cuts.length; k++) {
      // corner at place i of what is left: half-edges before and after it, and a new diagonal beside them
      const i = cuts[k]!;
      const before = ring[(i + ring.length - 1) % ring.length]!;
      const after = ring[i]!;
      const diagonal = from.length;
      from.push(start(before));
      to.push(start(next[after]!));
      const inner = 2 * diagonal;
      const triangle = panelOf.length;
      panelOf.push(panel);
      // inner half-edge belongs to what is left, its twin closes the triangle
      next[inner + 1] = before;
      next[after] = inner + 1;
      panelOfHalfEdge[inner + 1] = panelOfHalfEdge[before] = panelOfHalfEdge[after] = triangle;
      rings.push([before]);
      ring = ring.map((h) => (h === before ? inner : h)).filter((h) => h !== after);
      for (let r = 0; r < ring.length; r++) next[ring[r]!] = ring[(r + 1) % ring.length]!;
      panelOfHalfEdge[inner] = panel;
    }
    rings[panel] = [ring[0]!];
  }
  const bendLines = from.length - creases;
  const kinds = new Uint8Array(from.length).fill(KIND.unassigned);
  kinds.set(sheet.creaseKind);
  const angles = new Float64Array(from.length);
  angles.set(sheet.creaseAngle);
  return {
    sheet: {
      vertexX: sheet.vertexX,
      vertexY: sheet.vertexY,
      creaseFrom: Int32Array.from(from),
      creaseTo: Int32Array.from(to),
      creaseKind: kinds,
      creaseAngle: angles,
      halfEdgeNext: Int32Array.from(next),
      halfEdgePanel: Int32Array.from(panelOfHalfEdge),
      panelRings: rings,
      frame: sheet.frame,
    },
    bendLines,
    panelOf: Int32Array.from(panelOf),
  };
}

/** Places (in the shrinking ring) of the corners to cut off, leaving a triangle; empty where none can be cut. */
function cutCorners(sheet: Sheet, corners: readonly number[], choose: DiagonalChoice): number[] {
  if (new Set(corners).size !== corners.length) return []; // a ring that touches itself stays rigid
  for (let attempt = 0; attempt < 6; attempt++) {
    const left = [...corners];
    const cuts: number[] = [];
    while (left.length > 3) {
      const ears = earsOf(sheet, left);
      if (ears.length === 0) break;
      const scored = ears.map((i) => ({ i, score: choose(diagonalLength(sheet, left, i)) }));
      scored.sort((a, b) => a.score - b.score);
      // later attempts start from another corner, for rings with corners on a straight side
      const pick = scored[attempt % scored.length]!.i;
      cuts.push(pick);
      left.splice(pick, 1);
    }
    if (left.length === 3 && area(sheet, left[0]!, left[1]!, left[2]!) > SLIVER) return cuts;
  }
  return [];
}

function area(sheet: Sheet, a: number, b: number, c: number): number {
  const { vertexX: x, vertexY: y } = sheet;
  return ((x[b]! - x[a]!) * (y[c]! - y[a]!) - (y[b]! - y[a]!) * (x[c]! - x[a]!)) / 2;
}

function diagonalLength(sheet: Sheet, ring: readonly number[], i: number): number {
  const a = ring[(i + ring.length - 1) % ring.length]!;
  const b = ring[(i + 1) % ring.length]!;
  return Math.hypot(sheet.vertexX[a]! - sheet.vertexX[b]!, sheet.vertexY[a]! - sheet.vertexY[b]!);
}

/** Corners that can be cut off: turning left, with no other corner in or on the triangle. */
function earsOf(sheet: Sheet, ring: readonly number[]): number[] {
  const n = ring.length;
  return [...ring.keys()].filter((i) => {
    const a = ring[(i + n - 1) % n]!;
    const b = ring[i]!;
    const c = ring[(i + 1) % n]!;
    if (area(sheet, a, b, c) <= SLIVER) return false;
    return ring.every(
      (v) =>
        v === a ||
        v === b ||
        v === c ||
        area(sheet, a, b, v) < -SLIVER ||
        area(sheet, b, c, v) < -SLIVER ||
        area(sheet, c, a, v) < -SLIVER,
    );
  });
}

/** Largest bend of a pose, radians, and the panels of the original sheet that bend by more than `least`. */
export function bendOf(
  bent: BentSheet,
  angle: Float64Array,
  least: number,
): { largest: number; panels: number[] } {
  const first = angle.length - bent.bendLines;
  let largest = 0;
  const panels = new Set<number>();
  for (let e = first; e < angle.length; e++) {
    const bend = Math.abs(angle[e]!);
    largest = Math.max(largest, bend);
    const piece = bent.sheet.halfEdgePanel[2 * e]!;
    if (bend > least && piece !== NONE) panels.add(bent.panelOf[piece]!);
  }
  return { largest, panels: [...panels].sort((a, b) => a - b) };
}
