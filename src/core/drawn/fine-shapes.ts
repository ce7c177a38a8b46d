/**
 * The panels of a sheet cut finer, so that drawn paper can be bent near where it grazes and stay as it is further off:
 * each triangle into four by the middles of its sides (`BENT_FINENESS`).
 */
import type { PanelShapes } from '../contact/shapes.ts';
import { BENT_FINENESS, type BentMesh } from '../layer/aside.ts';
import { finer } from '../sheet/panel-mesh.ts';

/** Panels cut finer. */
export interface FineShapes {
  readonly shapes: PanelShapes;
  /** How many points of the paper their corners are. */
  readonly points: number;
  /** Each panel by itself: its corners counted from 0. */
  readonly meshes: readonly BentMesh[];
}

const known = new WeakMap<PanelShapes, FineShapes>();

/** Computed once for a sheet and kept. Corners of the sheet come first in each panel, as they are. */
export function fineShapes(shapes: PanelShapes): FineShapes {
  let fine = known.get(shapes);
  if (!fine) {
    const cut = cutFiner(shapes);
    fine = { shapes: cut, points: Math.max(0, ...cut.point) + 1, meshes: meshesOf(cut) };
    known.set(shapes, fine);
  }
  return fine;
}

function meshesOf({ first, flat, triangles }: PanelShapes): BentMesh[] {
  return triangles.map((own, panel) => ({
    flat: flat.slice(2 * first[panel]!, 2 * first[panel + 1]!),
    triangles: own.map((corner) => corner - first[panel]!),
  }));
}

function cutFiner(shapes: PanelShapes): PanelShapes {
  const first = new Int32Array(shapes.panels + 1);
  const flat: number[] = [];
  const point: number[] = [];
  /** Points in the middle of two others: along a crease those of both panels are one. */
  const middles = new Map<string, number>();
  let points = shapes.point.length;
  const triangles: Int32Array[] = [];
  for (let panel = 0; panel < shapes.panels; panel++) {
    const [from, to] = [shapes.first[panel]!, shapes.first[panel + 1]!];
    const base = point.length;
    first[panel] = base;
    const joined = creaseLines(shapes, from, to);
    const own = finer(
      [...shapes.flat.subarray(2 * from, 2 * to)],
      [...shapes.triangles[panel]!].map((corner) => corner - from),
      BENT_FINENESS,
    );
    for (let c = from; c < to; c++) point.push(shapes.point[c]!);
    own.middles.forEach(([a, b], k) => {
      const corner = own.corners - own.middles.length + k;
      const [p, q] = [point[base + a]!, point[base + b]!];
      const onCrease = joined.has(key(a, b));
      const name = `${Math.min(p, q)},${Math.max(p, q)}${onCrease ? '' : `,${panel}`}`;
      let middle = middles.get(name);
      if (middle === undefined) middles.set(name, (middle = points++));
      point[base + corner] = middle;
      if (!onCrease) return;
      joined.add(key(a, corner));
      joined.add(key(b, corner));
    });
    for (const value of own.flat) flat.push(value);
    triangles.push(Int32Array.from(own.triangles, (corner) => base + corner));
  }
  first[shapes.panels] = point.length;
  return { ...shapes, first, flat: Float64Array.from(flat), point: Int32Array.from(point), triangles };
}

const key = (a: number, b: number) => `${Math.min(a, b)},${Math.max(a, b)}`;

/** Lines between corners of a panel along which paper goes on. */
function creaseLines({ next, raw }: PanelShapes, from: number, to: number): Set<string> {
  const lines = new Set<string>();
  for (let c = from; c < to; c++) if (raw[c] === 0) lines.add(key(c - from, next[c]! - from));
  return lines;
}
