/** The folded model as one solid: corners, centre of mass and principal moments, from thin panels of even paper. */

import type { Space } from '../../core/numeric/vector.ts';
import type { Solid } from './fall.ts';

export type Triangle = readonly [Space, Space, Space];
export type Quaternion = readonly [number, number, number, number];

export interface WeighedSolid extends Solid {
  readonly centre: Space;
  /** Turn from the principal axes to the given frame. */
  readonly axes: Quaternion;
}

/** Paper has some thickness; without it a flat sheet would have no inertia across. Sheet units. */
const THICKNESS = 0.002;

/** Weighs thin triangles of even weight per area. */
export function weigh(triangles: readonly Triangle[]): WeighedSolid {
  let mass = 0;
  const sum: [number, number, number] = [0, 0, 0];
  const weighed = triangles.map((t) => ({ t, area: areaOf(t) }));
  for (const { t, area } of weighed) {
    mass += area;
    for (let k = 0; k < 3; k++) sum[k]! += (area * (t[0][k]! + t[1][k]! + t[2][k]!)) / 3;
  }
  const centre: Space = [sum[0] / mass, sum[1] / mass, sum[2] / mass];
  // Second moments of a triangle: the three middles of its sides carry a third each (exact for quadratics).
  const second = [0, 0, 0, 0, 0, 0];
  for (const { t, area } of weighed)
    for (let k = 0; k < 3; k++) {
      const m = [0, 1, 2].map((axis) => (t[k]![axis]! + t[(k + 1) % 3]![axis]!) / 2 - centre[axis]!);
      const [x, y, z] = [m[0]!, m[1]!, m[2]!];
      [x * x, y * y, z * z, x * y, x * z, y * z].forEach((value, at) => {
        second[at]! += (value * area) / 3 / mass;
      });
    }
  const [xx, yy, zz, xy, xz, yz] = second as [number, number, number, number, number, number];
  const thick = (THICKNESS * THICKNESS) / 6;
  const { values, vectors } = principal([
    [yy + zz + thick, -xy, -xz],
    [-xy, xx + zz + thick, -yz],
    [-xz, -yz, xx + yy + thick],
  ]);
  const axes = quaternionOf(vectors);
  const back: Quaternion = [-axes[0], -axes[1], -axes[2], axes[3]];
  const corners = distinct(triangles.flat()).map((p) =>
    rotate(back, [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]]),
  );
  return { corners: outermost(corners), inertia: values, centre, axes };
}

function areaOf([a, b, c]: Triangle): number {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}

function distinct(points: readonly Space[]): Space[] {
  const seen = new Map<string, Space>();
  for (const p of points) seen.set(p.map((value) => Math.round(value * 1e5)).join(' '), p);
  return [...seen.values()];
}

/** With very many corners only those furthest out in many directions matter to a flat table. */
function outermost(points: readonly Space[]): Space[] {
  if (points.length <= 300) return [...points];
  const kept = new Set<Space>();
  const many = 2000;
  for (let k = 0; k < many; k++) {
    // Directions spread evenly by the golden angle.
    const z = 1 - (2 * k + 1) / many;
    const r = Math.sqrt(1 - z * z);
    const way = k * Math.PI * (3 - Math.sqrt(5));
    const d: Space = [r * Math.cos(way), r * Math.sin(way), z];
    let best = points[0]!;
    let most = Number.NEGATIVE_INFINITY;
    for (const p of points) {
      const reach = p[0] * d[0] + p[1] * d[1] + p[2] * d[2];
      if (reach > most) [most, best] = [reach, p];
    }
    kept.add(best);
  }
  return [...kept];
}

type Matrix = [[number, number, number], [number, number, number], [number, number, number]];

/** Eigenvalues and eigenvectors (columns) of a symmetric matrix, by Jacobi's turns. */
function principal(matrix: Matrix): { values: Space; vectors: Matrix } {
  const a = matrix.map((row) => [...row]) as Matrix;
  const v: Matrix = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (let sweep = 0; sweep < 30; sweep++)
    for (const [p, q] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const) {
      if (Math.abs(a[p][q]) < 1e-18) continue;
      const angle = 0.5 * Math.atan2(2 * a[p][q], a[q][q] - a[p][p]);
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      for (const m of [a, v])
        for (const row of m) [row[p], row[q]] = [c * row[p] - s * row[q], s * row[p] + c * row[q]];
      const [rowP, rowQ] = [[...a[p]], [...a[q]]];
      for (let k = 0; k < 3; k++) {
        a[p][k as 0] = c * rowP[k]! - s * rowQ[k]!;
        a[q][k as 0] = s * rowP[k]! + c * rowQ[k]!;
      }
    }
  const det =
    v[0][0] * (v[1][1] * v[2][2] - v[1][2] * v[2][1]) -
    v[0][1] * (v[1][0] * v[2][2] - v[1][2] * v[2][0]) +
    v[0][2] * (v[1][0] * v[2][1] - v[1][1] * v[2][0]);
  if (det < 0) for (const row of v) row[2] = -row[2];
  return { values: [a[0][0], a[1][1], a[2][2]], vectors: v };
}

function quaternionOf(m: Matrix): Quaternion {
  const trace = m[0][0] + m[1][1] + m[2][2];
  const w = Math.sqrt(Math.max(0, 1 + trace)) / 2;
  const part = (own: number, sign: number) =>
    (Math.sqrt(Math.max(0, 1 + 2 * own - trace)) / 2) * (sign < 0 ? -1 : 1);
  if (w > 0.1)
    return [(m[2][1] - m[1][2]) / (4 * w), (m[0][2] - m[2][0]) / (4 * w), (m[1][0] - m[0][1]) / (4 * w), w];
  const x = part(m[0][0], 1);
  if (x > 0.1)
    return [x, (m[0][1] + m[1][0]) / (4 * x), (m[0][2] + m[2][0]) / (4 * x), (m[2][1] - m[1][2]) / (4 * x)];
  const y = part(m[1][1], 1);
  if (y > 0.1)
    return [(m[0][1] + m[1][0]) / (4 * y), y, (m[1][2] + m[2][1]) / (4 * y), (m[0][2] - m[2][0]) / (4 * y)];
  const z = part(m[2][2], 1);
  return [(m[0][2] + m[2][0]) / (4 * z), (m[1][2] + m[2][1]) / (4 * z), z, (m[1][0] - m[0][1]) / (4 * z)];
}

/** Turns a vector by a unit quaternion. */
export function rotate([x, y, z, w]: Quaternion, v: Space): Space {
  const cx = y * v[2] - z * v[1] + w * v[0];
  const cy = z * v[0] - x * v[2] + w * v[1];
  const cz = x * v[1] - y * v[0] + w * v[2];
  return [v[0] + 2 * (y * cz - z * cy), v[1] + 2 * (z * cx - x * cz), v[2] + 2 * (x * cy - y * cx)];
}

/** a after b. */
export function compose(a: Quaternion, b: Quaternion): Quaternion {
  const [ax, ay, az, aw] = a;
  const [bx, by, bz, bw] = b;
  return [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
    aw * bw - ax * bx - ay * by - az * bz,
  ];
}
