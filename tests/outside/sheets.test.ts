/** Whole sheets against published geometry: Miura sheets, square twists, counts of freedoms, lengths and areas. */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/numeric/random.ts';
import { closureOfPose } from '../../src/core/pose/closure.ts';
import { countFreedoms } from '../../src/core/pose/freedoms.ts';
import { placePanels, vertexPositions } from '../../src/core/pose/place.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import { interiorVertices, panelArea, vertexCount } from '../../src/core/sheet/walk.ts';
import { degreesOf, fold, foldToFinish, largestExpansion, stretchOf } from '../support/fold.ts';
import { miuraSheet, PatternMaker, radians, squareTwistSheet, vertexSheet } from '../support/patterns.ts';
import classics from './values/classics.json';
import invariants from './values/invariants.json';
import miura from './values/miura.json';

/** Coordinates of the Miura sheet (Schenk and Guest 2013, figure parameters H, S, V, L). */
function miuraPoint(i: number, j: number, row: readonly number[]): [number, number, number] {
  const [, , , , height, s, l, v] = row as [number, number, number, number, number, number, number, number];
  return [i * s, j * l + (i % 2) * v, (j % 2) * height];
}

describe('Miura sheet: Schenk and Guest, PNAS 110 (2013) 3276-3281', () => {
  const rows = (miura.rows as (number | null)[][]).filter((row) => row[3]! > 0 && row[3]! < 90) as number[][];
  it(`4 x 3 cells at ${rows.length} rows: fold angles, and every pair of vertices as far apart as published`, () => {
    for (const row of rows) {
      const [a, b, gamma, theta] = row as [number, number, number, number];
      const sheet = miuraSheet(4, 3, gamma, a, b);
      const driven = sheet.creaseKind.findIndex((kind, e) => kind !== KIND.edge && e < 40);
      const sign = Math.sign(sheet.creaseAngle[driven]!);
      const track = fold(sheet, { [driven]: sign * 2 * theta });
      expect(track.report.outcome, String(row)).toBe('rigid');
      expect(track.report.freedoms).toBe(1);
      const angles = degreesOf(track.end, sheet.creaseKind.length).map(Math.abs);
      sheet.creaseKind.forEach((kind, e) => {
        if (kind === KIND.edge) return;
        const zigzag = Math.abs(angles[e]! - row[9]!) < Math.abs(angles[e]! - row[8]!);
        expect(angles[e]).toBeCloseTo(row[zigzag ? 9 : 8]!, 8);
      });
      const at = vertexPositions(sheet, placePanels(sheet, track.end, 0));
      const scale = sheet.frame.scale;
      for (let p = 0; p < vertexCount(sheet); p++)
        for (let q = 0; q < p; q++) {
          const published = [p, q].map((v) => miuraPoint(v % 5, Math.floor(v / 5), row));
          const apart = Math.hypot(...[0, 1, 2].map((x) => published[0]![x]! - published[1]![x]!));
          const ours = Math.hypot(...[0, 1, 2].map((x) => (at[3 * p + x]! - at[3 * q + x]!) * scale));
          expect(ours).toBeCloseTo(apart, 9);
        }
    }
  });

  it('outside sizes up to 7 x 7 cells', () => {
    for (const [m, n, a, b, gamma, theta, width, depth, height] of miura.sheet as number[][]) {
      if (theta === 0) continue;
      const sheet = miuraSheet(m!, n!, gamma!, a!, b!);
      const driven = sheet.creaseKind.findIndex((kind) => kind !== KIND.edge);
      const sign = Math.sign(sheet.creaseAngle[driven]!);
      const { end } = fold(sheet, { [driven]: sign * 2 * theta! });
      const at = vertexPositions(sheet, placePanels(sheet, end, 0));
      const box = boxAlongZigzags(at, m! + 1, sheet.frame.scale);
      [width!, depth!, height!].forEach((size, axis) => expect(box[axis]).toBeCloseTo(size, 8));
    }
  });
});

/** Size of the box along the sheet's own axes as folded: mean zigzag direction, mean straight direction, normal. */
function boxAlongZigzags(at: Float64Array, columns: number, scale: number): number[] {
  const rows = at.length / 3 / columns;
  const point = (i: number, j: number) => [0, 1, 2].map((x) => at[3 * (j * columns + i) + x]! * scale);
  const minus = (a: number[], b: number[]) => a.map((v, x) => v - b[x]!);
  const unit = (a: number[]) => a.map((v) => v / Math.hypot(...a));
  const cross = (a: number[], b: number[]) => [
    a[1]! * b[2]! - a[2]! * b[1]!,
    a[2]! * b[0]! - a[0]! * b[2]!,
    a[0]! * b[1]! - a[1]! * b[0]!,
  ];
  const across = unit(minus(point(2, 0), point(0, 0)));
  const along = unit(minus(point(0, rows > 2 ? 2 : 1), point(0, 0)));
  const up = cross(across, along);
  return [across, along, up].map((axis) => {
    const values = Array.from({ length: at.length / 3 }, (_, v) =>
      axis.reduce((sum, value, x) => sum + value * at[3 * v + x]! * scale, 0),
    );
    return Math.max(...values) - Math.min(...values);
  });
}

describe('square twist: Hull and Urbanski 2018; Evans and others 2015; Feng and others 2020', () => {
  const rows = classics.square_twist.rows as [
    number,
    string,
    string,
    number,
    boolean,
    number,
    number | null,
  ][];
  for (const x of [30, 45, 60])
    it(`x = ${x}: 12 of the 16 choices move rigidly, 4 do not`, () => {
      const own = rows.filter((row) => row[0] === x);
      expect(own.length).toBe(16);
      let moving = 0;
      for (const [, sides, , , rigid] of own) {
        const { report } = foldToFinish(squareTwistSheet(x, sides));
        expect(report.outcome, sides).toBe(rigid ? 'rigid' : 'fails');
        if (rigid) moving++;
        else {
          expect(report.findings[0]?.vertices.length, sides).toBeGreaterThan(0);
          expect(report.deviation).toBeGreaterThan(90);
        }
      }
      expect(moving).toBe(12);
    });

  it('x = 45: all creases along the motion', () => {
    for (const row of classics.square_twist.table_x45.rows as (string | number)[][]) {
      const angles = row.slice(3) as number[];
      const sheet = squareTwistSheet(45, row[0] as string);
      const largest = row[2] as number;
      const driven = angles.findIndex((angle) => Math.abs(Math.abs(angle) - largest) < 1e-6);
      const track = fold(sheet, { [driven]: angles[driven]! });
      expect(track.report.outcome).toBe('rigid');
      degreesOf(track.end, 12).forEach((angle, k) =>
        expect(angle, `${row} crease ${k}`).toBeCloseTo(angles[k]!, 8),
      );
    }
  });
});

describe('four creases at 90 degrees: both pairs never fold at once (derived from closure)', () => {
  it('asked for both, one pair folds, the other waits until it is folded flat', () => {
    const track = fold(
      vertexSheet([90, 90, 90, 90], [180, 90, 180, -90]),
      { 0: 180, 1: 90, 2: 180, 3: -90 },
      { drawn: true },
    );
    expect(track.report.outcome).toBe('rigid');
    for (const { angle } of track.poses)
      expect(Math.min(Math.PI - angle[0]!, Math.abs(angle[1]!))).toBeLessThan(1e-5);
  });
});

describe('counts: Euler, and the generic freedom of Tachi 2010', () => {
  it('interior creases = panels - 1 + interior vertices; flat state has rank 2 a vertex', () => {
    for (const [m, n] of [
      [2, 2],
      [3, 3],
      [4, 4],
      [6, 5],
    ] as const) {
      const sheet = miuraSheet(m, n);
      const row = invariants.euler.rows.find((r) => r[0] === `quad grid ${m}x${n}`)!;
      const inside = sheet.creaseKind.filter((kind) => kind !== KIND.edge).length;
      expect([
        vertexCount(sheet),
        inside,
        sheet.creaseKind.length - inside,
        sheet.panelRings.length,
        interiorVertices(sheet).length,
      ]).toEqual(row.slice(1, 6));
      expect(inside - 3 * interiorVertices(sheet).length).toBe(row[6]);
    }
  });

  it('a Miura sheet moves with one freedom although the count gives none (Schenk and Guest 2013)', () => {
    for (const n of [3, 4, 6]) {
      const sheet = miuraSheet(n, n);
      const driven = sheet.creaseKind.findIndex((kind) => kind !== KIND.edge);
      const { end } = fold(sheet, { [driven]: 60 * Math.sign(sheet.creaseAngle[driven]!) });
      expect(countFreedoms(sheet, end)).toBe(1);
    }
  });

  it('generic quad meshes of 3 x 3 panels do not move; 2 x 2 move with one freedom', () => {
    const random = seededRandom(9);
    const generic = (n: number) => {
      const maker = new PatternMaker();
      const id = (i: number, j: number) => j * (n + 1) + i;
      for (let j = 0; j <= n; j++)
        for (let i = 0; i <= n; i++) maker.point(i + 0.2 * (random() - 0.5), j + 0.2 * (random() - 0.5));
      for (let j = 0; j <= n; j++)
        for (let i = 0; i <= n; i++) {
          const add = (a: number, b: number, rim: boolean) =>
            rim ? maker.line(a, b, 'edge') : maker.crease(a, b, 0);
          if (i < n) add(id(i, j), id(i + 1, j), j === 0 || j === n);
          if (j < n) add(id(i, j), id(i, j + 1), i === 0 || i === n);
        }
      return maker.sheet();
    };
    const wish = (sheet: ReturnType<typeof generic>) => {
      const drives: Record<number, number> = {};
      sheet.creaseKind.forEach((kind, e) => {
        if (kind !== KIND.edge) drives[e] = 40 * (random() - 0.5);
      });
      return fold(sheet, drives, { drawn: true }).end;
    };
    const two = generic(2);
    expect(countFreedoms(two, wish(two))).toBe(1);
    const three = generic(3);
    const moved = wish(three).reduce((most, angle) => Math.max(most, Math.abs(angle)), 0);
    expect(moved / radians).toBeLessThan(0.05);
  });
});

describe('isometry: angle sums (Huffman 1976), lengths, areas, non-expansion (2,000 random pairs a pose)', () => {
  const sheets = {
    miura: () => miuraSheet(4, 4),
    twist: () => squareTwistSheet(45, 'MMVV'),
  };
  for (const [name, make] of Object.entries(sheets))
    it(`${name}, seed 7`, () => {
      const sheet = make();
      const random = seededRandom(7);
      const track = foldToFinish(sheet);
      expect(track.report.outcome).toBe('rigid');
      const picks = [0.1, 0.35, 0.6, 0.85, 1].map(
        (t) => track.poses[Math.floor(t * (track.poses.length - 1))]!,
      );
      for (const { angle } of picks) {
        expect(closureOfPose(sheet, angle).largest).toBeLessThan(1e-9);
        const placement = placePanels(sheet, angle, 0);
        expect(stretchOf(sheet, placement)).toBeLessThan(1e-9);
        expect(largestExpansion(sheet, angle, 2000, random)).toBeLessThan(1e-9);
        // folded flat, normals are opposite and the polygon between them is no longer defined
        const folded = angle.reduce((most, a) => Math.max(most, Math.abs(a)), 0);
        if (folded < 2.5) expect(gaussImageArea(sheet, angle)).toBeLessThan(1e-7);
      }
    });

  it('area of a unit Miura facet stays sin 60 degrees', () => {
    const sheet = miuraSheet(3, 3);
    for (let panel = 0; panel < sheet.panelRings.length; panel++)
      expect(panelArea(sheet, panel) * sheet.frame.scale ** 2).toBeCloseTo(Math.sin(60 * radians), 12);
  });
});

/** Largest signed area of the polygon of panel normals round an interior vertex; 0 for paper (Huffman 1976). */
function gaussImageArea(sheet: ReturnType<typeof miuraSheet>, angle: Float64Array): number {
  const { rotation } = placePanels(sheet, angle, 0);
  const normal = (panel: number): [number, number, number] => {
    const [x, y, z, w] = rotation.subarray(4 * panel, 4 * panel + 4) as unknown as [
      number,
      number,
      number,
      number,
    ];
    return [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)];
  };
  let worst = 0;
  for (const v of interiorVertices(sheet)) {
    const around: number[] = [];
    for (let h = 0; h < 2 * sheet.creaseKind.length; h++)
      if (((h & 1) === 0 ? sheet.creaseFrom : sheet.creaseTo)[h >> 1] === v) around.push(h);
    around.sort((a, b) => direction(sheet, a) - direction(sheet, b));
    const normals = around.map((h) => normal(sheet.halfEdgePanel[h]!));
    worst = Math.max(worst, Math.abs(sphericalArea(normals)));
  }
  return worst;
}

function direction(sheet: ReturnType<typeof miuraSheet>, h: number): number {
  const ends = [sheet.creaseFrom[h >> 1]!, sheet.creaseTo[h >> 1]!];
  const [a, b] = (h & 1) === 0 ? ends : ends.reverse();
  return Math.atan2(sheet.vertexY[b!]! - sheet.vertexY[a!]!, sheet.vertexX[b!]! - sheet.vertexX[a!]!);
}

/** Signed area by triangles from the first corner (Oosterom and Strackee 1983, from memory), whole turns removed. */
function sphericalArea(n: readonly [number, number, number][]): number {
  let sum = 0;
  for (let k = 1; k + 1 < n.length; k++) {
    const [a, b, c] = [n[0]!, n[k]!, n[k + 1]!];
    const det =
      a[0] * (b[1] * c[2] - b[2] * c[1]) -
      a[1] * (b[0] * c[2] - b[2] * c[0]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
    const dot = (p: readonly number[], q: readonly number[]) => p[0]! * q[0]! + p[1]! * q[1]! + p[2]! * q[2]!;
    sum += 2 * Math.atan2(det, 1 + dot(a, b) + dot(b, c) + dot(c, a));
  }
  return sum - 4 * Math.PI * Math.round(sum / (4 * Math.PI));
}
