/**
 * Patterns drawn with noise, held against the least fit of a grid or of a mirror-symmetric pattern, found by the linear
 * least squares of ml-matrix (general library). The bird base is traditional: its corners halved twice, tan 22.5 degrees.
 */

import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { sheetFromGraph } from '../../../src/core/sheet/from-graph.ts';
import type { LineKind } from '../../../src/core/sheet/kind.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { trueUp } from '../../../src/core/sheet/true-up.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { said } from '../../support/said.ts';

type Point = readonly [number, number];

interface Graph {
  readonly points: readonly Point[];
  readonly edges: readonly (readonly [number, number, LineKind])[];
}

const size = 200;
const limit = 1;
const soak = process.env.CREASEWAY_SOAK === '1';

/** Lines of points in order, as edges from each to the next. */
function graphOf(lines: readonly { through: readonly Point[]; kind: LineKind }[]): Graph {
  const points: Point[] = [];
  const number = ([x, y]: Point) => {
    const known = points.findIndex(([px, py]) => Math.hypot(px - x, py - y) < 1e-9);
    return known >= 0 ? known : points.push([x, y]) - 1;
  };
  const edges = lines.flatMap(({ through, kind }) =>
    through.slice(1).map((to, k) => [number(through[k]!), number(to), kind] as const),
  );
  return { points, edges };
}

/** Centre at the origin, half a side 1. A quarter of the pattern, turned four times. */
function birdBase(): Graph {
  const t = 1 - Math.tan(Math.PI / 8);
  const turned = (quarter: number, [x, y]: Point): Point =>
    [
      [x, y],
      [-y, x],
      [-x, -y],
      [y, -x],
    ][quarter] as unknown as Point;
  return graphOf(
    [0, 1, 2, 3].flatMap((quarter) => {
      const at = (x: number, y: number) => turned(quarter, [x, y]);
      return [
        { through: [at(1, -1), at(1, 0), at(1, 1)], kind: 'edge' as const },
        { through: [at(0, 0), at(t, 0), at(1, 0)], kind: 'valley' as const },
        { through: [at(0, 0), at(t / 2, t / 2), at(1, 1)], kind: 'valley' as const },
        { through: [at(1, -1), at(t, 0), at(1, 1)], kind: 'mountain' as const },
        { through: [at(t, 0), at(t / 2, t / 2), at(0, t)], kind: 'mountain' as const },
      ];
    }),
  );
}

function map4(): Graph {
  const places = [-1, -0.5, 0, 0.5, 1];
  const kind = (at: number): LineKind => (Math.abs(at) === 1 ? 'edge' : 'valley');
  return graphOf(
    places.flatMap((at) => [
      { through: places.map((other): Point => [at, other]), kind: kind(at) },
      { through: places.map((other): Point => [other, at]), kind: kind(at) },
    ]),
  );
}

/** Each point shifted by up to `noise` mm, on a sheet of 200 mm that lies turned on the page. */
function drawn({ points, edges }: Graph, noise: number, turn: number, random: () => number) {
  const places = points.map(([x, y]): Point => {
    const [far, way] = [noise * Math.sqrt(random()), 2 * Math.PI * random()];
    const [c, s] = [(Math.cos(turn) * size) / 2, (Math.sin(turn) * size) / 2];
    return [c * x - s * y + far * Math.cos(way), s * x + c * y + far * Math.sin(way)];
  });
  const { sheet, findings } = sheetFromGraph({
    vertices: places.map(([x, y]) => [x, y] as [number, number]),
    edges: edges.map(([a, b]) => [a, b] as [number, number]),
    kinds: edges.map(([, , kind]) => kind),
    angles: edges.map(([, , kind]) =>
      kind === 'edge' ? Number.NaN : kind === 'valley' ? Math.PI : -Math.PI,
    ),
  });
  if (!sheet) throw new Error(said(findings));
  return { places, sheet };
}

const placesOf = ({ vertexX, vertexY, frame }: Sheet): Point[] =>
  Array.from(vertexX, (x, v) => [frame.x + frame.scale * x, frame.y + frame.scale * vertexY[v]!]);

/** Largest distance from the drawing of the pattern that fits best, of all that are columns times unknowns. */
function leastFit(places: readonly Point[], rows: readonly (readonly number[])[]): number {
  const [a, b] = [new Matrix(rows.map((row) => [...row])), Matrix.columnVector(places.flat())];
  const left = a
    .mmul(solve(a, b, true))
    .sub(b)
    .to1DArray();
  return Math.max(...places.map((_, k) => Math.hypot(left[2 * k]!, left[2 * k + 1]!)));
}

/** A grid that may be moved, turned and scaled. */
const gridFit = (places: readonly Point[], { points }: Graph) =>
  leastFit(
    places,
    points.flatMap(([x, y]) => [
      [x, -y, 1, 0],
      [y, x, 0, 1],
    ]),
  );

/** A pattern with all four mirror lines: each ring of like points at its own distance, one direction for all. */
function mirrorFit(places: readonly Point[], { points }: Graph): number {
  const rings = [...new Set(points.map(ringOf))].filter((ring) => ring !== '0.000');
  const fitAt = (turn: number) => {
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const rows = points.flatMap(([x, y], k) => {
      const ring = rings.indexOf(ringOf(points[k]!));
      const column = (value: number) => rings.map((_, r) => (r === ring ? value : 0));
      return [
        [...column(c * x - s * y), 1, 0],
        [...column(s * x + c * y), 0, 1],
      ];
    });
    const [a, b] = [new Matrix(rows), Matrix.columnVector(places.flat())];
    return {
      sum: a
        .mmul(solve(a, b, true))
        .sub(b)
        .norm('frobenius'),
      rows,
    };
  };
  // the direction is the one unknown that is not linear: narrowed down by thirds
  let [low, high] = [turnOf(places, points) - 0.02, turnOf(places, points) + 0.02];
  for (let k = 0; k < 60; k++) {
    const third = (high - low) / 3;
    if (fitAt(low + third).sum < fitAt(high - third).sum) high -= third;
    else low += third;
  }
  return leastFit(places, fitAt((low + high) / 2).rows);
}

const ringOf = ([x, y]: Point) => `${Math.hypot(x, y).toFixed(3)}`;

function turnOf(places: readonly Point[], points: readonly Point[]): number {
  const far = points.findIndex(([x, y]) => x === 1 && y === 1);
  const opposite = points.findIndex(([x, y]) => x === -1 && y === -1);
  return (
    Math.atan2(places[far]![1] - places[opposite]![1], places[far]![0] - places[opposite]![0]) - Math.PI / 4
  );
}

/** Where each point of the graph would lie on an exact square with the trued corners; all within rounding. */
function offSymmetry(places: readonly Point[], { points }: Graph): number {
  const at = (x: number, y: number) =>
    places[points.findIndex(([px, py]) => Math.hypot(px - x, py - y) < 1e-9)]!;
  const images: ((p: Point) => Point)[] = [([x, y]) => [-x, y], ([x, y]) => [x, -y], ([x, y]) => [y, x]];
  const distance = ([ax, ay]: Point, [bx, by]: Point) => Math.hypot(ax - bx, ay - by);
  // a mirror image keeps all distances: to all four corners, from each point and from its image
  const corners: Point[] = [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ];
  return Math.max(
    ...points.flatMap((point) =>
      images.flatMap((image) =>
        corners.map((corner) =>
          Math.abs(
            distance(at(...point), at(...corner)) - distance(at(...image(point)), at(...image(corner))),
          ),
        ),
      ),
    ),
  );
}

/** How far the three points of the outline nearest to a side of the box lie from it, mm: at least three lie on each. */
function offUpright(places: readonly Point[]): number {
  return Math.max(
    ...([0, 1] as const).flatMap((axis) => {
      const sorted = places.map((point) => point[axis]).sort((a, b) => a - b);
      return [sorted[2]! - sorted[0]!, sorted.at(-1)! - sorted.at(-3)!];
    }),
  );
}

/** Largest miss of a right angle at the corners of the outline, radians. */
function offSquare(places: readonly Point[], { points }: Graph): number {
  const corners = (
    [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, -1],
    ] as const
  ).map(([x, y]) => places[points.findIndex(([px, py]) => px === x && py === y)]!);
  return Math.max(
    ...corners.map((corner, k) => {
      const [before, after] = [corners[(k + 3) % 4]!, corners[(k + 1) % 4]!];
      const [ax, ay] = [before[0] - corner[0], before[1] - corner[1]];
      const [bx, by] = [after[0] - corner[0], after[1] - corner[1]];
      return Math.abs((ax * bx + ay * by) / (Math.hypot(ax, ay) * Math.hypot(bx, by)));
    }),
  );
}

describe.each([
  ['bird base', birdBase(), mirrorFit],
  ['map of 4 by 4', map4(), gridFit],
] as const)('%s on 200 mm', (name, graph, fit) => {
  const seeds = soak ? 50 : 4;
  it.each([0.01, 0.03, 0.1, 0.2, 0.5])(`noise of %f mm, seeds 1 to ${seeds}`, (noise) => {
    for (let seed = 1; seed <= seeds; seed++) {
      const random = seededRandom(1000 * seed + Math.round(1000 * noise));
      const { places, sheet } = drawn(graph, noise, seed % 2 ? 0 : 2 * Math.PI * random(), random);
      const trued = trueUp(sheet, limit / sheet.frame.scale);
      const where = `${name}, noise ${noise}, seed ${seed}`;
      expect(
        trued.findings.map(({ severity }) => severity),
        where,
      ).toEqual(['note']);
      expect(sentenceOf(trued.findings[0]!), where).not.toMatch(/Still off/);
      const now = placesOf(trued.sheet);
      expect(offSquare(now, graph), where).toBeLessThan(1e-9);
      expect(offSymmetry(now, graph), where).toBeLessThan(1e-9 * size);
      // a drawing that lies upright on the page stays so
      if (seed % 2) expect(offUpright(now), where).toBeLessThan(1e-9 * size);
      const moved = Math.max(...now.map(([x, y], k) => Math.hypot(x - places[k]![0], y - places[k]![1])));
      expect(moved, where).toBeLessThan(1.5 * fit(places, graph));
    }
  });
});
