/** Sheets from value files that give vertices, faces, and an angle for each pair of faces that meet. */

import { sheetFromGraph } from '../../src/core/sheet/from-graph.ts';
import type { LineKind } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { radians } from './patterns.ts';
import { said } from './said.ts';

/** @param degreesOf finished angle of the crease between two vertices; undefined: it may go either way, by a half turn */
export function sheetOfFaces(
  vertices: readonly (readonly number[])[],
  faces: readonly (readonly number[])[],
  degreesOf: (a: number, b: number) => number | undefined,
): Sheet {
  const uses = new Map<string, number>();
  for (const face of faces)
    face.forEach((v, k) => {
      const key = [v, face[(k + 1) % face.length]!].sort((p, q) => p - q).join();
      uses.set(key, (uses.get(key) ?? 0) + 1);
    });
  const edges: [number, number][] = [];
  const kinds: LineKind[] = [];
  const angles: number[] = [];
  for (const [key, count] of uses) {
    const [a, b] = key.split(',').map(Number) as [number, number];
    edges.push([a, b]);
    const degrees = count === 1 ? Number.NaN : degreesOf(a, b);
    if (count === 1) kinds.push('edge');
    else if (degrees === undefined) kinds.push('unassigned');
    else kinds.push(degrees > 0 ? 'valley' : degrees < 0 ? 'mountain' : 'flat');
    angles.push((degrees ?? 180) * radians);
  }
  const points = vertices.map(([x, y]) => [x!, y!] as const);
  const { sheet, findings } = sheetFromGraph({ vertices: points, edges, kinds, angles, faces });
  if (!sheet) throw new Error(said(findings));
  return sheet;
}

/** A map of m x n unit cells; every crease by a half turn, either way. */
export function mapSheet(m: number, n: number): Sheet {
  const id = (i: number, j: number) => j * (m + 1) + i;
  const vertices = Array.from({ length: (m + 1) * (n + 1) }, (_, k) => [
    k % (m + 1),
    Math.floor(k / (m + 1)),
  ]);
  const faces = Array.from({ length: m * n }, (_, k) => {
    const [i, j] = [k % m, Math.floor(k / m)];
    return [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
  });
  return sheetOfFaces(vertices, faces, () => undefined);
}

/** A strip along x, width 1, of the given lengths, with fold angles between them in degrees. */
export function stripSheet(lengths: readonly number[], degrees: readonly number[]): Sheet {
  const ends = [0];
  for (const length of lengths) ends.push(ends[ends.length - 1]! + length);
  const vertices = ends.flatMap((x) => [
    [x, 0],
    [x, 1],
  ]);
  const faces = lengths.map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]);
  return sheetOfFaces(vertices, faces, (a, b) => degrees[Math.min(a, b) / 2 - 1]!);
}
