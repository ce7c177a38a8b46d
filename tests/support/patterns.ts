/** Crease patterns that the tests make up: single vertices, Miura sheets, square twists, box corners. */

import { sheetFromGraph } from '../../src/core/sheet/from-graph.ts';
import type { LineKind } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { said } from './said.ts';

export const radians = Math.PI / 180;

type Point = [number, number];

export class PatternMaker {
  readonly vertices: Point[] = [];
  readonly edges: Point[] = [];
  readonly kinds: LineKind[] = [];
  readonly angles: number[] = [];

  point(x: number, y: number): number {
    this.vertices.push([x, y]);
    return this.vertices.length - 1;
  }

  /** A crease whose kind follows from its finished angle in degrees; 0 may go either way. */
  crease(from: number, to: number, degrees: number): number {
    return this.line(
      from,
      to,
      degrees > 0 ? 'valley' : degrees < 0 ? 'mountain' : 'unassigned',
      degrees * radians,
    );
  }

  line(from: number, to: number, kind: LineKind, angle = Number.NaN): number {
    this.edges.push([from, to]);
    this.kinds.push(kind);
    this.angles.push(angle);
    return this.edges.length - 1;
  }

  sheet(): Sheet {
    const { sheet, findings } = sheetFromGraph(this);
    if (!sheet) throw new Error(said(findings));
    return sheet;
  }
}

/**
 * One vertex in the middle of a polygon. Crease k (0-based, also its number on the sheet) leaves at the sum of the
 * sectors before it; `finished` are its fold angles in degrees, whose signs give the kinds.
 */
export function vertexSheet(sectors: readonly number[], finished: readonly number[]): Sheet {
  const maker = new PatternMaker();
  const centre = maker.point(0, 0);
  let direction = 0;
  const rim: number[] = [];
  for (const sector of sectors) {
    rim.push(maker.point(Math.cos(direction * radians), Math.sin(direction * radians)));
    direction += sector;
  }
  for (const [k, end] of rim.entries()) maker.crease(centre, end, finished[k]!);
  for (const [k, end] of rim.entries()) maker.line(end, rim[(k + 1) % rim.length]!, 'edge');
  return maker.sheet();
}

/** Miura sheet of m x n cells; zigzag creases run along x. `sign` 1: the first inner zigzag line is a valley. */
export function miuraSheet(m: number, n: number, gamma = 60, a = 1, b = 1, sign = 1): Sheet {
  const maker = new PatternMaker();
  const g = gamma * radians;
  const id = (i: number, j: number) => j * (m + 1) + i;
  for (let j = 0; j <= n; j++)
    for (let i = 0; i <= m; i++) maker.point(i * b * Math.sin(g), j * a + (i % 2) * b * Math.cos(g));
  for (let j = 0; j <= n; j++)
    for (let i = 0; i < m; i++)
      if (j === 0 || j === n) maker.line(id(i, j), id(i + 1, j), 'edge');
      else maker.crease(id(i, j), id(i + 1, j), (j % 2 ? 180 : -180) * sign);
  for (let j = 0; j < n; j++)
    for (let i = 0; i <= m; i++)
      if (i === 0 || i === m) maker.line(id(i, j), id(i, j + 1), 'edge');
      else maker.crease(id(i, j), id(i, j + 1), ((i + j) % 2 ? -180 : 180) * sign);
  return maker.sheet();
}

/**
 * Square twist: a centre square of side 1, at each corner the sectors 90, x, 90, 180 - x. Creases: 0-3 sides (side i
 * from corner i to corner i+1), 4-7 pleats P, 8-11 pleats Q of corners 0-3. Finished angles +-180 by `sides` and the
 * modes that follow from them: P like its own side where the two sides differ, else against it; Q the other way.
 */
export function squareTwistSheet(x: number, sides: string, reach = 1.5): Sheet {
  const maker = new PatternMaker();
  const corners = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ].map(([cx, cy]) => maker.point(cx!, cy!));
  const sign = [...sides].map((letter) => (letter === 'V' ? 1 : -1));
  const ends = (turn: number) =>
    corners.map((corner, i) => {
      const direction = (90 * i + turn + x) * radians;
      const [cx, cy] = maker.vertices[corner]!;
      return maker.point(cx + reach * Math.cos(direction), cy + reach * Math.sin(direction));
    });
  const pEnds = ends(90);
  const qEnds = ends(180);
  for (const [i, corner] of corners.entries()) maker.crease(corner, corners[(i + 1) % 4]!, 180 * sign[i]!);
  const differ = (i: number) => sign[i] !== sign[(i + 3) % 4];
  for (const [i, corner] of corners.entries())
    maker.crease(corner, pEnds[i]!, 180 * (differ(i) ? sign[i]! : -sign[i]!));
  corners.forEach((corner, i) => {
    const before = sign[(i + 3) % 4]!;
    maker.crease(corner, qEnds[i]!, 180 * (differ(i) ? -before : before));
  });
  const rim = corners.flatMap((_, i) => [pEnds[i]!, qEnds[i]!]);
  for (const [k, end] of rim.entries()) maker.line(end, rim[(k + 1) % 8]!, 'edge');
  return maker.sheet();
}

/** Box corner: sectors 90, 90, 45, 45, 90. Creases 0, 1 base edges, 2 and 4 wall creases, 3 the gusset diagonal. */
export function boxCornerSheet(finished: readonly number[]): Sheet {
  return vertexSheet([90, 90, 45, 45, 90], finished);
}
