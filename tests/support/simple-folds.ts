/** Sheets folded by chance: a unit square folded through all layers along random lines, then laid open again. */
import { seededRandom } from '../../src/core/numeric/random.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { sheetOfFaces } from './faces.ts';

export type Point = readonly [number, number];

/** A part of the sheet: corners on the sheet and as folded, alike in order; turned over or not. */
export interface Part {
  readonly flat: readonly Point[];
  readonly folded: readonly Point[];
  readonly over: boolean;
}

/**
 * Each fold takes all layers over at once, so that the sheet folds flat whatever the lines.
 * @param assigned mountains and valleys as folded; else every crease may go either way
 */
export function simplyFoldedSheet(folds: number, seed: number, assigned: boolean): Sheet {
  const random = seededRandom(seed);
  for (let k = 0; k < 5; k++) random();
  const square: Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  let parts: Part[] = [{ flat: square, folded: square, over: false }];
  const kinds: { a: Point; b: Point; degrees: number }[] = [];
  for (let fold = 0; fold < folds; fold++) {
    const corners = parts.flatMap(({ folded }) => folded);
    const middle = [0, 1].map((k) => corners.reduce((sum, p) => sum + p[k]!, 0) / corners.length);
    const reach = Math.max(...corners.map((p) => Math.hypot(p[0] - middle[0]!, p[1] - middle[1]!)));
    const a = 2 * Math.PI * random();
    const normal: Point = [Math.cos(a), Math.sin(a)];
    const shift = (random() - 0.5) * 0.6 * reach;
    const offset = normal[0] * middle[0]! + normal[1] * middle[1]! + shift;
    const side = (p: Point) => normal[0] * p[0] + normal[1] * p[1] - offset;
    parts = parts.flatMap((part) => foldPart(part, side, normal, kinds));
  }
  return sheetOfParts(parts, kinds, assigned);
}

/**
 * One part folded over the line on which `side` is 0, valley seen from the front: what stays, then what moves.
 * @param kinds takes the crease that the part gets, if the line crosses it
 */
export function foldPart(
  part: Part,
  side: (p: Point) => number,
  normal: Point,
  kinds: { a: Point; b: Point; degrees: number }[],
): Part[] {
  const mirrored = (p: Point): Point => [p[0] - 2 * side(p) * normal[0], p[1] - 2 * side(p) * normal[1]];
  const stays: [Point, Point][] = [];
  const moves: [Point, Point][] = [];
  const cut: Point[] = [];
  part.flat.forEach((flat, k) => {
    const folded = part.folded[k]!;
    const next = (k + 1) % part.flat.length;
    const [s, t] = [side(folded), side(part.folded[next]!)];
    (s > 0 ? moves : stays).push([flat, folded]);
    if (s > 0 === t > 0) return;
    const share = s / (s - t);
    const mix = (p: Point, q: Point): Point => [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])];
    const [onFlat, onFolded] = [mix(flat, part.flat[next]!), mix(folded, part.folded[next]!)];
    stays.push([onFlat, onFolded]);
    moves.push([onFlat, onFolded]);
    cut.push(onFlat);
  });
  if (cut.length === 2) kinds.push({ a: cut[0]!, b: cut[1]!, degrees: part.over ? -180 : 180 });
  const make = (points: [Point, Point][], turn: boolean): Part => ({
    flat: points.map(([flat]) => flat),
    folded: points.map(([, folded]) => (turn ? mirrored(folded) : folded)),
    over: part.over !== turn,
  });
  if (cut.length < 2) return [make(moves.length > stays.length ? moves : stays, moves.length > stays.length)];
  return [make(stays, false), make(moves, true)];
}

function sheetOfParts(
  parts: readonly Part[],
  kinds: readonly { a: Point; b: Point; degrees: number }[],
  assigned: boolean,
): Sheet {
  const vertices: Point[] = [];
  const vertexAt = (p: Point): number => {
    const found = vertices.findIndex(([x, y]) => Math.hypot(x - p[0], y - p[1]) < 1e-9);
    return found < 0 ? vertices.push(p) - 1 : found;
  };
  const faces = parts.map(({ flat }) =>
    flat.map(vertexAt).filter((v, k, all) => v !== all[(k + 1) % all.length]),
  );
  const degreesOf = (a: number, b: number): number => {
    const [p, q] = [vertices[a]!, vertices[b]!];
    const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    const on = kinds.find((kind) => distanceTo(kind.a, kind.b, middle) < 1e-9);
    if (!on) throw new Error('A crease that no fold made.');
    return on.degrees;
  };
  return sheetOfFaces(vertices, faces, assigned ? degreesOf : () => undefined);
}

/** Distance of a point from a segment. */
export function distanceTo(a: Point, b: Point, p: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy);
  const nearest = Math.min(1, Math.max(0, t));
  return Math.hypot(p[0] - a[0] - nearest * dx, p[1] - a[1] - nearest * dy);
}
