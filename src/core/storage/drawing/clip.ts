/** Lines cut to what a clip path or a view port lets be seen (CSS Masking 1, section 5; SVG 2, 14.3). */
import { FILE_ROUNDING } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';
import type { Work } from './work.ts';

/** The inside of closed rings, by one of the two rules of SVG (SVG 2, 13.4.2). */
export interface Area {
  readonly rings: readonly (readonly Point[])[];
  readonly evenOdd: boolean;
}

/** What is inside one of these areas is seen. */
export type Region = readonly Area[];

/** Parts of a line from 0 at its start to 1 at its end, in order, apart from each other. */
type Spans = readonly (readonly [from: number, to: number])[];

const sidesOf = (region: Region) =>
  region.reduce((sum, { rings }) => sum + rings.reduce((all, ring) => all + ring.length, 0), 0);

/**
 * The parts of the line from `a` to `b` that a region lets be seen, edges included: a line drawn along the edge shows
 * half of its width. So does one that runs beside the edge by less than that.
 */
export function seenParts(a: Point, b: Point, region: Region, halfWidth: number, work: Work): Spans {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const near = FILE_ROUNDING * reachOf(region);
  const cuts = [...new Set([0, ...crossings(a, b, region), 1])].sort((one, other) => one - other);
  work.spend('cuts', sidesOf(region) * (1 + cuts.length));
  const spans: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const [from, to] = [cuts[i - 1]!, cuts[i]!];
    if ((to - from) * length <= near && cuts.length > 2) continue;
    if (!isSeen(along(a, b, from), along(a, b, to), region, near, halfWidth)) continue;
    const last = spans.at(-1);
    if (last && (from - last[1]) * length <= near) last[1] = to;
    else spans.push([from, to]);
  }
  return spans;
}

/** The point of a line at a share of its way. */
export const along = (a: Point, b: Point, t: number): Point =>
  t === 0 ? a : t === 1 ? b : [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];

/** Every side of a region, the last point joined to the first. */
function eachSide(region: Region, visit: (p: Point, q: Point) => void): void {
  for (const { rings } of region)
    for (const ring of rings) ring.forEach((q, i) => visit(ring[(i || ring.length) - 1]!, q));
}

function reachOf(region: Region): number {
  const box = [Infinity, Infinity, -Infinity, -Infinity] as [number, number, number, number];
  eachSide(region, (_, [x, y]) => {
    box[0] = Math.min(box[0], x);
    box[1] = Math.min(box[1], y);
    box[2] = Math.max(box[2], x);
    box[3] = Math.max(box[3], y);
  });
  return Math.max(0, box[2] - box[0], box[3] - box[1]);
}

/** Where a line meets the sides of a region; for a side that lies on it, where that begins and ends. */
function crossings(a: Point, b: Point, region: Region): number[] {
  const found: number[] = [];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const keep = (t: number) => {
    if (t > 0 && t < 1) found.push(t);
  };
  if (square === 0) return found;
  eachSide(region, (p, q) => {
    const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
    const [px, py] = [p[0] - a[0], p[1] - a[1]];
    const turn = dx * ey - dy * ex;
    const isParallel = Math.abs(turn) <= FILE_ROUNDING * Math.sqrt(square * (ex * ex + ey * ey));
    if (isParallel) {
      keep((px * dx + py * dy) / square);
      keep(((q[0] - a[0]) * dx + (q[1] - a[1]) * dy) / square);
      return;
    }
    const u = (px * dy - py * dx) / turn;
    if (u >= -FILE_ROUNDING && u <= 1 + FILE_ROUNDING) keep((px * ey - py * ex) / turn);
  });
  return found;
}

/** Is a line seen that no side crosses between its ends? */
function isSeen(from: Point, to: Point, region: Region, near: number, halfWidth: number): boolean {
  const middle = along(from, to, 0.5);
  if (region.some((area) => isInside(middle, area))) return true;
  const within = (point: Point, distance: number) => distanceTo(point, region) <= distance;
  if (within(middle, near)) return true;
  const isLong = Math.hypot(to[0] - from[0], to[1] - from[1]) > 4 * halfWidth;
  return isLong && [from, middle, to].every((point) => within(point, halfWidth));
}

function isInside([x, y]: Point, { rings, evenOdd }: Area): boolean {
  let turns = 0;
  eachSide([{ rings, evenOdd }], (p, q) => {
    if (p[1] <= y === q[1] <= y) return;
    const at = p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0]);
    if (at > x) turns += q[1] > p[1] ? 1 : -1;
  });
  return evenOdd ? turns % 2 !== 0 : turns !== 0;
}

function distanceTo([x, y]: Point, region: Region): number {
  let least = Infinity;
  eachSide(region, (p, q) => {
    const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
    const square = ex * ex + ey * ey;
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - p[0]) * ex + (y - p[1]) * ey) / square));
    least = Math.min(least, Math.hypot(p[0] + t * ex - x, p[1] + t * ey - y));
  });
  return least;
}
