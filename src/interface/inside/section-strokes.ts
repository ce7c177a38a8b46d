/** Strokes of a section on screen: cut paper as two-coloured bands, and the numbers across a stack. */

import type { Section } from '../../core/layer/section.ts';
import type { PathPiece, SectionPath } from '../../core/layer/section-path.ts';
import { between, dot, flatDot, type Point } from '../../core/numeric/vector.ts';
import type { StackHere } from '../../desk/tools/inside.ts';

/** A bend is drawn as so many short lines. */
const BEND_PARTS = 10;

export interface Bounds {
  readonly low: [number, number];
  readonly high: [number, number];
}

export function boundsOf({ cuts }: Section): Bounds {
  const bounds: Bounds = { low: [Infinity, Infinity], high: [-Infinity, -Infinity] };
  for (const { from, to } of cuts)
    for (const point of [from, to])
      for (const k of [0, 1] as const) {
        bounds.low[k] = Math.min(bounds.low[k], point[k]);
        bounds.high[k] = Math.max(bounds.high[k], point[k]);
      }
  return bounds;
}

/** The smallest bounds that hold both. */
export function joinBounds(one: Bounds, other: Bounds): Bounds {
  return {
    low: [Math.min(one.low[0], other.low[0]), Math.min(one.low[1], other.low[1])],
    high: [Math.max(one.high[0], other.high[0]), Math.max(one.high[1], other.high[1])],
  };
}

/** Bounds of strokes in the section's coordinates, layers set apart. */
export function boundsOfPaths(paths: readonly SectionPath[]): Bounds {
  const points = paths.flat().flatMap(sampled);
  return {
    low: [Math.min(...points.map(([x]) => x)), Math.min(...points.map(([, y]) => y))],
    high: [Math.max(...points.map(([x]) => x)), Math.max(...points.map(([, y]) => y))],
  };
}

const fine = (value: number) => value.toFixed(2);

export function lineOf(points: readonly Point[]): string {
  return points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${fine(x)} ${fine(y)}`).join('');
}

/** The two halves of a stroke, right and left of its middle line, and its rim. */
export function band(path: SectionPath, toPixels: (at: Point) => Point, half: number) {
  const points = path.flatMap((piece) => sampled(piece)).map(toPixels);
  const middle = points.filter(
    (point, k) => k === 0 || Math.hypot(point[0] - points[k - 1]![0], point[1] - points[k - 1]![1]) > 0.02,
  );
  const off = (by: number) =>
    middle.map(([x, y], k): Point => {
      const [px, py] = middle[Math.max(0, k - 1)]!;
      const [qx, qy] = middle[Math.min(middle.length - 1, k + 1)]!;
      const length = Math.hypot(qx - px, qy - py) || 1;
      // on screen y runs down, so that the right of the way is its left in numbers
      return [x - (by * (qy - py)) / length, y + (by * (qx - px)) / length];
    });
  const [right, left] = [off(half), off(-half)];
  const close = (one: readonly Point[], other: readonly Point[]) =>
    `${lineOf([...one, ...[...other].reverse()])}Z`;
  return { right: close(middle, right), left: close(middle, left), rim: close(right, left) };
}

function sampled(piece: PathPiece): Point[] {
  if (piece.kind === 'line') return [piece.from, piece.to];
  const { from, fromHandle, toHandle, to } = piece;
  return Array.from({ length: BEND_PARTS + 1 }, (_, k): Point => {
    const t = k / BEND_PARTS;
    const s = 1 - t;
    const at = (c: 0 | 1) =>
      s * s * s * from[c] + 3 * s * s * t * fromHandle[c] + 3 * s * t * t * toHandle[c] + t * t * t * to[c];
    return [at(0), at(1)];
  });
}

/** Numbers across the stack at the chosen point, where the slice passes it; else across the deepest stack cut. */
export function numbersOf(
  section: Section,
  paths: readonly SectionPath[],
  kept: StackHere | null,
  toPixels: (at: Point) => Point,
) {
  const lines = paths.flat().filter((piece) => piece.kind === 'line');
  let best: { layers: typeof lines; at: number; line: (typeof lines)[number]; off: number } | null = null;
  const wanted = kept && ([dot(kept.at, section.across), dot(kept.at, section.up)] as const);
  for (const line of lines) {
    const { group } = section.cuts[line.cut]!;
    if (kept && group !== kept.group) continue;
    const shares = wanted ? [shareAlong(line, wanted)] : [0.5, 0.3, 0.7, 0.12, 0.88];
    for (const at of shares) {
      if (at < 0 || at > 1) continue;
      const place = between(line.from, line.to, at);
      const layers = lines.filter((other) => {
        if (section.cuts[other.cut]!.group !== group) return false;
        const share = shareAlong(other, place);
        return share >= 0 && share <= 1;
      });
      const off = wanted ? Math.hypot(place[0] - wanted[0], place[1] - wanted[1]) : -layers.length;
      if (!best || off < best.off) best = { layers, at, line, off };
    }
  }
  if (!best || best.layers.length < 2) return null;
  const { line, layers, at } = best;
  const place = between(line.from, line.to, at);
  const across = normalOf(section, line);
  const ordered = layers
    .map((one) => between(one.from, one.to, shareAlong(one, place)))
    .map((point) => ({ point, height: flatDot(point, across) }))
    .sort((a, b) => b.height - a.height);
  const list = ordered.map(({ point }, k) => {
    const [x, y] = toPixels(point);
    return { x: Number(fine(x)), y: Number(fine(y)), number: k + 1 };
  });
  const [first, last] = [list[0]!, list[list.length - 1]!];
  const [dx, dy] = [last.x - first.x, last.y - first.y];
  const length = Math.hypot(dx, dy) || 1;
  const reach = 7;
  const line2 = lineOf([
    [first.x - (reach * dx) / length, first.y - (reach * dy) / length],
    [last.x + (reach * dx) / length, last.y + (reach * dy) / length],
  ]);
  return { list, line: line2 };

  /** The direction in which layers are counted down from: toward the eye's side, or outward. */
  function normalOf(one: Section, piece: (typeof lines)[number]): Point {
    if (kept && one.cuts[piece.cut]!.group === kept.group)
      return [dot(kept.toward, one.across), dot(kept.toward, one.up)];
    const cut = one.cuts[piece.cut]!;
    const way: Point = [cut.to[0] - cut.from[0], cut.to[1] - cut.from[1]];
    const rising = layers.find((layer) => one.cuts[layer.cut]!.rise !== 0);
    const rise = rising ? one.cuts[rising.cut]! : cut;
    const own: Point = [rise.to[0] - rise.from[0], rise.to[1] - rise.from[1]];
    const sign = Math.sign(rise.rise || 1) * (own[0] * way[0] + own[1] * way[1] >= 0 ? 1 : -1);
    return [sign * way[1], -sign * way[0]];
  }
}

function shareAlong({ from, to }: { from: Point; to: Point }, [x, y]: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  return ((x - from[0]) * dx + (y - from[1]) * dy) / (dx * dx + dy * dy || 1);
}
