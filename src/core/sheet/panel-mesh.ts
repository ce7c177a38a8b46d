import earcut from 'earcut';
import type { Sheet } from './sheet.ts';
import { halfEdgeOrigin, panelRing } from './walk.ts';

/** A panel cut into triangles: its corners as vertices of the sheet, and triangles as places in that list. */
interface PanelMesh {
  readonly corners: readonly number[];
  /** Three entries a triangle, counter-clockwise seen from the side that faced up at the start. */
  readonly triangles: readonly number[];
}

const known = new WeakMap<Sheet, PanelMesh[]>();

/** Cut once and kept with the sheet. */
export function meshOfPanel(sheet: Sheet, panel: number): PanelMesh {
  let own = known.get(sheet);
  if (!own) known.set(sheet, (own = []));
  return (own[panel] ??= cutPanel(sheet, panel));
}

function cutPanel(sheet: Sheet, panel: number): PanelMesh {
  const rings = sheet.panelRings[panel]!.map((ring) =>
    panelRing(sheet, ring).map((half) => halfEdgeOrigin(sheet, half)),
  );
  const flat = rings.map((ring) => ring.flatMap((v) => [sheet.vertexX[v]!, sheet.vertexY[v]!]));
  return { corners: rings.flat(), triangles: trianglesOfRings(flat) };
}

/**
 * Cuts a flat region, of any shape and with holes, into triangles.
 * @param rings x and y in turn, the outer one first
 * @returns places in the list of all corners, ring after ring; three a triangle, counter-clockwise
 */
export function trianglesOfRings(rings: readonly (readonly number[])[]): number[] {
  const flat = rings.flat();
  const holes: number[] = [];
  let corners = 0;
  for (const ring of rings) {
    if (corners > 0) holes.push(corners);
    corners += ring.length / 2;
  }
  const triangles = earcut(flat, holes);
  for (let i = 0; i < triangles.length; i += 3) {
    if (turnsRight(flat, triangles, i)) [triangles[i], triangles[i + 1]] = [triangles[i + 1]!, triangles[i]!];
  }
  return triangles;
}

/** Triangles cut finer: corners as given, then the middles of lines between two corners, given by their places. */
interface FineMesh {
  readonly corners: number;
  readonly flat: readonly number[];
  readonly triangles: readonly number[];
  readonly middles: readonly (readonly [number, number])[];
}

/** Cuts each triangle into four by the middles of its sides, so many times. Lines of two triangles stay common to both. */
export function finer(flat: readonly number[], triangles: readonly number[], times: number): FineMesh {
  const points = [...flat];
  const middles: [number, number][] = [];
  const known = new Map<string, number>();
  const middle = (a: number, b: number): number => {
    const name = a < b ? `${a},${b}` : `${b},${a}`;
    let at = known.get(name);
    if (at === undefined) {
      at = points.length / 2;
      points.push((points[2 * a]! + points[2 * b]!) / 2, (points[2 * a + 1]! + points[2 * b + 1]!) / 2);
      middles.push([a, b]);
      known.set(name, at);
    }
    return at;
  };
  let cut = triangles;
  for (let time = 0; time < times; time++) {
    const parts: number[] = [];
    for (let t = 0; t < cut.length; t += 3) {
      const [a, b, c] = [cut[t]!, cut[t + 1]!, cut[t + 2]!];
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      parts.push(a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca);
    }
    cut = parts;
  }
  return { corners: points.length / 2, flat: points, triangles: cut, middles };
}

function turnsRight(flat: readonly number[], triangles: readonly number[], i: number): boolean {
  const [a, b, c] = [2 * triangles[i]!, 2 * triangles[i + 1]!, 2 * triangles[i + 2]!];
  const cross =
    (flat[b]! - flat[a]!) * (flat[c + 1]! - flat[a + 1]!) -
    (flat[b + 1]! - flat[a + 1]!) * (flat[c]! - flat[a]!);
  return cross < 0;
}
