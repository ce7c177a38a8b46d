/**
 * The panels of a pose, grouped by the plane they lie in; each group cut into cells by all boundaries of its panels.
 * A cell is covered by the same panels throughout, so that a stack of layers stands over each.
 */
import { COPLANAR, TOUCHING } from '../numeric/tolerance.ts';
import { cross, dot, type Space } from '../numeric/vector.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { arrange } from '../sheet/arrange.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { type Faces, facesOf, type Net } from '../sheet/rings.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { NetPaths } from './net-paths.ts';

export interface PlaneGroup {
  /** Unit normal: the group's "above". */
  readonly normal: Space;
  /** Unit axes of the plane's own coordinates, right-handed with the normal. */
  readonly across: Space;
  readonly along: Space;
  /** Distance of the plane from the origin along the normal. */
  readonly offset: number;
  readonly panels: readonly number[];
  readonly net: Net;
  readonly faces: Faces;
  /** Panels over each cell, ascending. */
  readonly cover: readonly (readonly number[])[];
  /** Half-edges of the sheet (of panels of this group) that lie on each line of the net. */
  readonly boundary: readonly (readonly number[])[];
  /** Panels that are cut along a line: they lie on both sides of it and do not go on across it. Lines without are left out. */
  readonly cuts: ReadonlyMap<number, readonly number[]>;
}

export interface Planes {
  readonly groups: readonly PlaneGroup[];
  /** Group of each panel. */
  readonly groupOf: Int32Array;
  /** 1: the panel's side that faced up at the start looks along its group's normal; -1: against it. */
  readonly up: Int8Array;
}

/** @param tick called now and then while it takes long; may throw */
export function groupByPlane(sheet: Sheet, placement: Placement, tick: () => void = () => {}): Planes {
  const count = sheet.panelRings.length;
  const groupOf = new Int32Array(count).fill(-1);
  const up = new Int8Array(count);
  const seeds: Seed[] = [];
  const cells = new Map<string, number[]>();
  for (let panel = 0; panel < count; panel++) {
    tick();
    const normal = normalOf(placement, panel);
    const offset = dot(normal, cornerOf(sheet, placement, sheet.panelRings[panel]![0]!, panel));
    let group = -1;
    for (const seed of seedsNear(cells, normal, offset))
      if ((group < 0 || seed < group) && liesIn(sheet, placement, panel, normal, seeds[seed]!)) group = seed;
    if (group < 0) {
      group = seeds.length;
      seeds.push({ normal, offset, panels: [] });
      const cell = cellOf(dot(normal, PROBE), offset);
      const list = cells.get(cell);
      if (list) list.push(group);
      else cells.set(cell, [group]);
    }
    seeds[group]!.panels.push(panel);
    groupOf[panel] = group;
    up[panel] = dot(normal, seeds[group]!.normal) > 0 ? 1 : -1;
  }
  return {
    groups: seeds.map((seed) =>
      cutIntoCells(sheet, placement, seed, seeds.length === 1 ? TOUCHING : COPLANAR, tick),
    ),
    groupOf,
    up,
  };
}

/** A plane, as its first panel has it. */
interface Seed {
  readonly normal: Space;
  readonly offset: number;
  readonly panels: number[];
}

/** A direction that no plane of a model is likely to be square to; planes are looked up by how their normals lie to it. */
const PROBE: Space = [0.4319, 0.7153, 0.5494];
/** Normals of one plane differ by less than half of this (see `liesIn`), and so do offsets on sheets of size 1. */
const CELL = 4e-3;

const cellOf = (lean: number, offset: number) => `${Math.floor(lean / CELL)},${Math.floor(offset / CELL)}`;

/** Planes that a panel with this normal and offset may lie in, either way up. */
function seedsNear(cells: ReadonlyMap<string, number[]>, normal: Space, offset: number): number[] {
  const lean = dot(normal, PROBE);
  const near = new Set<string>();
  for (const side of [1, -1])
    for (const p of [-0.5, 0.5])
      for (const q of [-0.5, 0.5]) near.add(cellOf(side * lean + p * CELL, side * offset + q * CELL));
  return [...near].flatMap((cell) => cells.get(cell) ?? []);
}

function normalOf({ rotation }: Placement, panel: number): Space {
  const [x, y, z, w] = [0, 1, 2, 3].map((k) => rotation[4 * panel + k]!) as [number, number, number, number];
  return [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)];
}

/** Where the start of a half-edge stands, as the given panel has it. */
function cornerOf(sheet: Sheet, placement: Placement, halfEdge: number, panel: number): Space {
  const v = halfEdgeOrigin(sheet, halfEdge);
  const p = new Float64Array(3);
  placePoint(p, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
  return [p[0]!, p[1]!, p[2]!];
}

function liesIn(
  sheet: Sheet,
  placement: Placement,
  panel: number,
  own: Space,
  { normal, offset }: Seed,
): boolean {
  if (Math.abs(Math.abs(dot(own, normal)) - 1) > COPLANAR) return false;
  return panelRing(sheet, sheet.panelRings[panel]![0]!).every(
    (h) => Math.abs(dot(normal, cornerOf(sheet, placement, h, panel)) - offset) <= COPLANAR,
  );
}

function axesOf(normal: Space): { across: Space; along: Space } {
  const least = normal.map(Math.abs).indexOf(Math.min(...normal.map(Math.abs)));
  const helper: Space = [0, 1, 2].map((k) => (k === least ? 1 : 0)) as unknown as Space;
  const raw = cross(helper, normal);
  const length = Math.hypot(...raw);
  const across: Space = [raw[0] / length, raw[1] / length, raw[2] / length];
  return { across, along: cross(normal, across) };
}

function cutIntoCells(
  sheet: Sheet,
  placement: Placement,
  { normal, offset, panels }: Seed,
  snap: number,
  tick: () => void,
): PlaneGroup {
  const { across, along } = axesOf(normal);
  const halfEdges = panels.flatMap((panel) =>
    sheet.panelRings[panel]!.flatMap((ring) => panelRing(sheet, ring)),
  );
  const count = halfEdges.length;
  const ends = {
    x1: new Float64Array(count),
    y1: new Float64Array(count),
    x2: new Float64Array(count),
    y2: new Float64Array(count),
  };
  halfEdges.forEach((h, k) => {
    const panel = sheet.halfEdgePanel[h]!;
    const a = cornerOf(sheet, placement, h, panel);
    const b = cornerOf(sheet, placement, sheet.halfEdgeNext[h]!, panel);
    ends.x1[k] = dot(a, across);
    ends.y1[k] = dot(a, along);
    ends.x2[k] = dot(b, across);
    ends.y2[k] = dot(b, along);
  });
  const strokes = { ...ends, kind: new Uint8Array(count), angle: new Float64Array(count) };
  const arrangement = arrange(strokes, snap, Number.POSITIVE_INFINITY);
  const net: Net = { x: arrangement.x, y: arrangement.y, from: arrangement.from, to: arrangement.to };
  const faces = facesOf(net);
  const boundary = linesUnder(net, halfEdges, ends, snap, tick);
  const cover = coverOf(sheet, net, faces, boundary);
  return {
    normal,
    across,
    along,
    offset,
    panels,
    net,
    faces,
    boundary,
    cover,
    cuts: cutsOf(sheet, faces, cover, boundary),
  };
}

/** Which half-edges lie on each line of the net. @param snap points nearer to each other have become one */
function linesUnder(
  net: Net,
  halfEdges: readonly number[],
  { x1, y1, x2, y2 }: { x1: Float64Array; y1: Float64Array; x2: Float64Array; y2: Float64Array },
  snap: number,
  tick: () => void,
): number[][] {
  const on: number[][] = Array.from(net.from, () => []);
  const paths = new NetPaths(net, snap);
  halfEdges.forEach((h, k) => {
    tick();
    for (const e of paths.linesOf(x1[k]!, y1[k]!, x2[k]!, y2[k]!)) on[e]!.push(h);
  });
  return on;
}

/** Panels over each cell: from the outside inward, crossing a boundary of a panel enters or leaves it. */
function coverOf(sheet: Sheet, net: Net, faces: Faces, boundary: readonly (readonly number[])[]): number[][] {
  const cover: (number[] | undefined)[] = new Array(faces.faceCount);
  cover[faces.outside] = [];
  const beside: number[][] = Array.from({ length: faces.faceCount }, () => []);
  for (let h = 0; h < 2 * net.from.length; h++) beside[faces.face[h]!]!.push(h);
  const waiting = [faces.outside];
  while (waiting.length > 0) {
    const cell = waiting.pop()!;
    for (const h of beside[cell]!) {
      const beyond = faces.face[h ^ 1]!;
      if (cover[beyond]) continue;
      const over = new Set(cover[cell]!);
      for (const g of boundary[h >> 1]!) {
        const panel = sheet.halfEdgePanel[g]!;
        if (!over.delete(panel)) over.add(panel);
      }
      cover[beyond] = [...over].sort((a, b) => a - b);
      waiting.push(beyond);
    }
  }
  return cover.map((list) => list ?? []);
}

/** Panels that end at half-edges. A crease that runs out within a panel ends nothing. */
export function panelsEndingAt({ halfEdgePanel, creaseKind }: Sheet, halfEdges: readonly number[]): number[] {
  const ends = new Set<number>();
  for (const h of halfEdges) {
    const within = halfEdgePanel[h] === halfEdgePanel[h ^ 1] && kindJoinsPanels(creaseKind[h >> 1]!);
    if (!within) ends.add(halfEdgePanel[h]!);
  }
  return [...ends];
}

function cutsOf(
  sheet: Sheet,
  { face }: Faces,
  cover: readonly (readonly number[])[],
  boundary: readonly (readonly number[])[],
): Map<number, number[]> {
  const cuts = new Map<number, number[]>();
  boundary.forEach((halfEdges, line) => {
    const [left, right] = [cover[face[2 * line]!]!, cover[face[2 * line + 1]!]!];
    const cut = panelsEndingAt(sheet, halfEdges).filter(
      (panel) => left.includes(panel) && right.includes(panel),
    );
    if (cut.length > 0) cuts.set(line, cut);
  });
  return cuts;
}

/** The 3D place of a point of a group's plane. */
export function liftPoint({ normal, across, along, offset }: PlaneGroup, x: number, y: number): Space {
  return [0, 1, 2].map((k) => offset * normal[k]! + x * across[k]! + y * along[k]!) as unknown as Space;
}
