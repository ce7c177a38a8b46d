/**
 * Which of several panels lying in one plane is drawn over which while the model moves: as the layer order tells where
 * it is known; else a panel lies on the side that it came from, read off the poses before.
 */
import type { Placement } from '../core/pose/place.ts';
import { NONE, type Sheet } from '../core/sheet/sheet.ts';
import type { PanelMesh } from './panel-mesh.ts';
import { ringVertices } from './ring.ts';

/** Above this many panels only neighbours at a half turn are told apart: comparing all pairs would cost frames. */
const ALL_PAIRS_UP_TO = 150;
/** Planes within this (sheet units) and this much turn of one another are drawn as one. */
const SAME_PLANE = 2.5e-3;
const SAME_DIRECTION = 1 - 4e-5;
/** A panel counts as having been on one side when it stood this far off. */
const OFF_PLANE = 6e-3;
const HALF_TURN = Math.PI - 0.02;

type Vector = [number, number, number];

export class PanelStack {
  private readonly corners: number[][];
  private readonly neighbour = new Map<number, number>();
  private readonly count: number;

  constructor(
    private readonly sheet: Sheet,
    private readonly mesh: PanelMesh,
  ) {
    this.count = sheet.panelRings.length;
    this.corners = sheet.panelRings.map((rings) => ringVertices(sheet, rings[0]!));
    for (let e = 0; e < sheet.creaseKind.length; e++) {
      const a = sheet.halfEdgePanel[2 * e]!;
      const b = sheet.halfEdgePanel[2 * e + 1]!;
      if (a !== NONE && b !== NONE && a !== b) {
        this.neighbour.set(a * this.count + b, e);
        this.neighbour.set(b * this.count + a, e);
      }
    }
  }

  /**
   * Level of every panel, counted along the panel's own normal (the side that faced up at the start).
   * @param before placements at earlier moments: 0 the nearest; null when there is none further back
   * @param told 1: panel b is known to lie on the side of a that faced up at the start; -1: on the other; 0: not known
   */
  levels(
    angle: Float64Array,
    now: Placement,
    before: (back: number) => Placement | null,
    told: (a: number, b: number) => number = () => 0,
  ): Float32Array {
    const normals = Array.from({ length: this.count }, (_, p) => panelNormal(now, p));
    const over: number[][] = Array.from({ length: this.count }, () => []);
    const under: number[] = new Array(this.count).fill(0);
    const mate: number[] = Array.from({ length: this.count }, (_, p) => p);
    const root = (p: number): number => (mate[p] === p ? p : (mate[p] = root(mate[p]!)));
    const relations: [number, number, number][] = [];
    const relate = (a: number, b: number) => {
      if (!this.coplanar(now, normals, a, b) || !this.overlap(now, a, b)) return;
      const side = told(a, b) || this.sideOf(a, b, angle, before);
      if (side !== 0) relations.push([a, b, side]);
      mate[root(a)] = root(b);
    };
    if (this.count <= ALL_PAIRS_UP_TO) {
      for (let a = 0; a < this.count; a++) for (let b = a + 1; b < this.count; b++) relate(a, b);
    } else {
      for (const [key, e] of this.neighbour) {
        const a = Math.floor(key / this.count);
        const b = key % this.count;
        if (a < b && Math.abs(angle[e]!) > HALF_TURN) relate(a, b);
      }
    }
    const along = (p: number) => Math.sign(dot(normals[p]!, normals[root(p)]!)) || 1;
    for (const [a, b, side] of relations) {
      const [low, high] = side * along(a) > 0 ? [a, b] : [b, a];
      over[low]!.push(high);
      under[high]!++;
    }
    const level = new Float32Array(this.count);
    const open = new Set<number>();
    for (const [a, b] of relations) open.add(a).add(b);
    while (open.size > 0) {
      // Panels that lie over one another in a ring have no levels; the least covered one goes first.
      let next = -1;
      for (const p of open) if (next < 0 || under[p]! < under[next]!) next = p;
      open.delete(next);
      for (const p of over[next]!) {
        if (!open.has(p)) continue;
        under[p]!--;
        level[p] = Math.max(level[p]!, level[next]! + 1);
      }
    }
    for (let p = 0; p < this.count; p++) level[p]! *= along(p);
    return level;
  }

  private coplanar(now: Placement, normals: Vector[], a: number, b: number): boolean {
    if (Math.abs(dot(normals[a]!, normals[b]!)) < SAME_DIRECTION) return false;
    for (const vertex of this.corners[b]!)
      if (Math.abs(this.height(now, a, b, vertex)) > SAME_PLANE) return false;
    return true;
  }

  /** Height of a corner of b over the plane of a. */
  private height(at: Placement, a: number, b: number, vertex: number): number {
    const p = placed(at, b, this.sheet.vertexX[vertex]!, this.sheet.vertexY[vertex]!);
    const o = placed(
      at,
      a,
      this.sheet.vertexX[this.corners[a]![0]!]!,
      this.sheet.vertexY[this.corners[a]![0]!]!,
    );
    return dot(panelNormal(at, a), [p[0] - o[0], p[1] - o[1], p[2] - o[2]]);
  }

  /** 1: b came from the side that a's normal points to; -1: from the other; 0: not known. */
  private sideOf(
    a: number,
    b: number,
    angle: Float64Array,
    before: (back: number) => Placement | null,
  ): number {
    const crease = this.neighbour.get(a * this.count + b);
    if (crease !== undefined && Math.abs(angle[crease]!) > HALF_TURN) return Math.sign(angle[crease]!);
    for (let back = 0; ; back++) {
      const then = before(back);
      if (then === null) return 0;
      let sum = 0;
      for (const vertex of this.corners[b]!) sum += this.height(then, a, b, vertex);
      const mean = sum / this.corners[b]!.length;
      if (Math.abs(mean) > OFF_PLANE) return Math.sign(mean);
    }
  }

  private overlap(now: Placement, a: number, b: number): boolean {
    const seenFromA = this.inPlaneOf(now, a, b);
    for (let t = this.mesh.firstTriangle[a]!; t < this.mesh.firstTriangle[a + 1]!; t++)
      for (let u = this.mesh.firstTriangle[b]!; u < this.mesh.firstTriangle[b + 1]!; u++)
        if (trianglesOverlap(this.triangle(t), this.triangle(u).map(seenFromA))) return true;
    return false;
  }

  private triangle(t: number): [number, number][] {
    return [0, 1, 2].map((k) => {
      const corner = this.mesh.triangles[3 * t + k]!;
      return [this.mesh.flat[2 * corner]!, this.mesh.flat[2 * corner + 1]!];
    });
  }

  /** Takes flat points of b to flat coordinates of a. */
  private inPlaneOf(now: Placement, a: number, b: number) {
    const back: Vector4 = [
      -now.rotation[4 * a]!,
      -now.rotation[4 * a + 1]!,
      -now.rotation[4 * a + 2]!,
      now.rotation[4 * a + 3]!,
    ];
    return ([x, y]: [number, number]): [number, number] => {
      const p = placed(now, b, x, y);
      const local = turned(back, [
        p[0] - now.translation[3 * a]!,
        p[1] - now.translation[3 * a + 1]!,
        p[2] - now.translation[3 * a + 2]!,
      ]);
      return [local[0], local[1]];
    };
  }
}

type Vector4 = [number, number, number, number];

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function turned(q: Vector4, v: Vector): Vector {
  const [x, y, z, w] = q;
  const cx = y * v[2] - z * v[1] + w * v[0];
  const cy = z * v[0] - x * v[2] + w * v[1];
  const cz = x * v[1] - y * v[0] + w * v[2];
  return [v[0] + 2 * (y * cz - z * cy), v[1] + 2 * (z * cx - x * cz), v[2] + 2 * (x * cy - y * cx)];
}

function panelTurn(at: Placement, panel: number): Vector4 {
  const k = 4 * panel;
  return [at.rotation[k]!, at.rotation[k + 1]!, at.rotation[k + 2]!, at.rotation[k + 3]!];
}

/** Direction in which the side of a panel that faced up at the start looks now. */
export function panelNormal(at: Placement, panel: number): Vector {
  return turned(panelTurn(at, panel), [0, 0, 1]);
}

/** Where a flat point of a panel is. */
export function placed(at: Placement, panel: number, x: number, y: number): Vector {
  const p = turned(panelTurn(at, panel), [x, y, 0]);
  const k = 3 * panel;
  return [p[0] + at.translation[k]!, p[1] + at.translation[k + 1]!, p[2] + at.translation[k + 2]!];
}

/** Do two triangles share more than a rim? Separating lines along the sides of both. */
function trianglesOverlap(a: [number, number][], b: [number, number][]): boolean {
  const rim = 1e-3;
  for (const [one, other] of [
    [a, b],
    [b, a],
  ] as const) {
    const turn = (k: number, p: [number, number]) => {
      const from = one[k]!;
      const to = one[(k + 1) % 3]!;
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
      return ((to[0] - from[0]) * (p[1] - from[1]) - (to[1] - from[1]) * (p[0] - from[0])) / length;
    };
    const winding = Math.sign(turn(0, one[2]!)) || 1;
    for (let k = 0; k < 3; k++) if (other.every((p) => winding * turn(k, p) < rim)) return false;
  }
  return true;
}
