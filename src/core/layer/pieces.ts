/** All lines at which paper could cross paper, cut into pieces along which the cells beside them stay the same. */
import { COPLANAR } from '../numeric/tolerance.ts';
import { dot } from '../numeric/vector.ts';
import { lineIndexOf } from './line-index.ts';
import type { PlaneGroup, Planes } from './planes.ts';
import { directionOf, type Line, linesInSpace } from './space-lines.ts';
import type { LinePiece } from './strands.ts';

/** @param tick called now and then while it takes long; may throw */
export function linePieces(planes: Planes, tick: () => void = () => {}): LinePiece[] {
  return planes.groups.length === 1 ? flatPieces(planes.groups[0]!) : spacePieces(planes.groups, tick);
}

/** In one plane the lines of the net are the pieces. */
function flatPieces(group: PlaneGroup): LinePiece[] {
  return Array.from(group.net.from, (_, e) => ({
    direction: directionOf(group, e),
    sides: [
      {
        group: 0,
        height: 0,
        left: group.faces.face[2 * e]!,
        right: group.faces.face[2 * e + 1]!,
        boundary: group.boundary[e]!,
      },
    ],
  }));
}

function spacePieces(groups: readonly PlaneGroup[], tick: () => void): LinePiece[] {
  const pieces: LinePiece[] = [];
  for (const line of linesInSpace(groups, tick)) {
    const through = [...line.groups]
      .sort((a, b) => a - b)
      .map((index) => ({ group: groups[index]!, index, local: localLine(groups[index]!, line) }))
      .filter(({ local }) => local !== null)
      .map(({ group, index, local }) => ({ group, index, local: local! }));
    const cuts = through.flatMap(({ group, local }) => cutsOf(group, local)).sort((a, b) => a - b);
    for (let k = 1; k < cuts.length; k++) {
      if (cuts[k]! - cuts[k - 1]! < COPLANAR) continue;
      tick();
      const middle = (cuts[k]! + cuts[k - 1]!) / 2;
      const sides = through
        .map(({ group, index, local }) => ({
          group: index,
          height: group.offset - dot(group.normal, line.point),
          ...besideOf(group, local, middle),
        }))
        .filter(
          ({ left, right, group }) =>
            groups[group]!.cover[left]!.length + groups[group]!.cover[right]!.length > 0,
        );
      if (sides.length > 0) pieces.push({ direction: line.direction, sides });
    }
  }
  return pieces;
}

/**
 * What counts as on a line: joining points seldom moves them by more. Planes, and lines of one net, that are told apart
 * lie further from each other.
 */
const NEAR = COPLANAR;

interface LocalLine {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/** The line in a plane's own coordinates, with the same parameter; null where it is not in the plane. */
function localLine(
  { normal, across, along, offset }: PlaneGroup,
  { point, direction }: Line,
): LocalLine | null {
  if (Math.abs(dot(normal, direction)) > 10 * COPLANAR) return null;
  if (Math.abs(dot(normal, point) - offset) > NEAR) return null;
  return {
    x: dot(point, across),
    y: dot(point, along),
    dx: dot(direction, across),
    dy: dot(direction, along),
  };
}

/** Parameters at which lines of the net touch or cross the line. */
function cutsOf({ net }: PlaneGroup, { x, y, dx, dy }: LocalLine): number[] {
  const off = (v: number) => (net.x[v]! - x) * dy - (net.y[v]! - y) * dx;
  const along = (v: number) => (net.x[v]! - x) * dx + (net.y[v]! - y) * dy;
  const lines = new Set<number>();
  for (const { lines: some } of lineIndexOf(net).along(x, y, dx, dy, Number.NEGATIVE_INFINITY, NEAR))
    for (const e of some) lines.add(e);
  const cuts: number[] = [];
  for (const e of lines) {
    const [a, b] = [net.from[e]!, net.to[e]!];
    const [p, q] = [off(a), off(b)];
    if (Math.abs(p) < NEAR) cuts.push(along(a));
    if (Math.abs(q) < NEAR) cuts.push(along(b));
    if (p > NEAR !== q > NEAR && Math.abs(p) >= NEAR && Math.abs(q) >= NEAR)
      cuts.push(along(a) + ((along(b) - along(a)) * p) / (p - q));
  }
  return cuts;
}

/**
 * Cells on both sides of a point of the line, and the half-edges that run along it there. Of lines of the net that run
 * beside each other the nearest counts: each of the others is a line of its own.
 */
function besideOf(group: PlaneGroup, { x, y, dx, dy }: LocalLine, at: number) {
  const { net, faces, boundary } = group;
  const px = x + at * dx;
  const py = y + at * dy;
  const reach = NEAR;
  let nearest = reach;
  let best: { left: number; right: number; boundary: readonly number[] } | null = null;
  for (const e of lineIndexOf(net).inBox(px - reach, py - reach, px + reach, py + reach)) {
    const [a, b] = [net.from[e]!, net.to[e]!];
    const ex = net.x[b]! - net.x[a]!;
    const ey = net.y[b]! - net.y[a]!;
    const length = Math.hypot(ex, ey);
    const t = ((px - net.x[a]!) * ex + (py - net.y[a]!) * ey) / length;
    const off = Math.abs((px - net.x[a]!) * ey - (py - net.y[a]!) * ex) / length;
    if (off >= nearest || t < 0 || t > length || Math.abs(ex * dy - ey * dx) / length > 1e-4) continue;
    const same = ex * dx + ey * dy > 0;
    nearest = off;
    best = {
      left: faces.face[2 * e + (same ? 0 : 1)]!,
      right: faces.face[2 * e + (same ? 1 : 0)]!,
      boundary: boundary[e]!,
    };
  }
  if (best) return best;
  const cell = cellAt(group, px, py);
  return { left: cell, right: cell, boundary: [] as readonly number[] };
}

/** Direction of the ray that finds a point's cell: at an angle that no line of a drawing is likely to have. */
const RAY = { x: Math.cos(0.7317), y: Math.sin(0.7317) };

/**
 * The cell of a point that lies on no line: the one beside the nearest line that a ray from the point meets. The ray
 * runs askew, since the line under study, its edges and their ends often lie straight above one another.
 */
export function cellAt({ net, faces }: PlaneGroup, px: number, py: number): number {
  const across = (x: number, y: number) => (x - px) * RAY.y - (y - py) * RAY.x;
  const along = (x: number, y: number) => (x - px) * RAY.x + (y - py) * RAY.y;
  let nearest = Number.POSITIVE_INFINITY;
  let cell = faces.outside;
  for (const { lines, end } of lineIndexOf(net).along(px, py, RAY.x, RAY.y, 0, 0)) {
    for (const e of lines) {
      const [a, b] = [net.from[e]!, net.to[e]!];
      const from = across(net.x[a]!, net.y[a]!);
      const to = across(net.x[b]!, net.y[b]!);
      if (from > 0 === to > 0) continue;
      const start = along(net.x[a]!, net.y[a]!);
      const distance = start + ((along(net.x[b]!, net.y[b]!) - start) * from) / (from - to);
      if (distance <= 0 || distance >= nearest) continue;
      nearest = distance;
      // seen along the ray, before a line that runs to the right is its right side
      cell = faces.face[2 * e + (to > from ? 1 : 0)]!;
    }
    if (nearest <= end) break;
  }
  return cell;
}
