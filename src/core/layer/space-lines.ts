/** Lines in space along which panels of several planes may meet, each with the planes that it lies in. */
import { COPLANAR, PARALLEL } from '../numeric/tolerance.ts';
import { cross, dot, minus, type Space, scaled } from '../numeric/vector.ts';
import { liftPoint, type PlaneGroup } from './planes.ts';

/** A line in space. */
export interface Line {
  readonly point: Space;
  /** Unit vector. */
  readonly direction: Space;
  /** Numbers of the planes that it lies in, as far as paper of theirs can meet on it. */
  readonly groups: Set<number>;
}

/** Lines of every net, and those in which two planes meet whose panels are near each other, each once. */
export function linesInSpace(groups: readonly PlaneGroup[], tick: () => void): Line[] {
  const lines = new LineList();
  for (const [g, group] of groups.entries())
    for (let e = 0; e < group.net.from.length; e++) {
      tick();
      const v = group.net.from[e]!;
      const point = liftPoint(group, group.net.x[v]!, group.net.y[v]!);
      lines.add(point, directionOf(group, e)).groups.add(g);
    }
  for (const [i, j] of nearPairs(groups, tick)) {
    tick();
    const [a, b] = [groups[i]!, groups[j]!];
    const raw = cross(a.normal, b.normal);
    const square = dot(raw, raw);
    if (square < PARALLEL) {
      lines.shareBetween(i, j);
      continue;
    }
    const length = Math.sqrt(square);
    const direction: Space = [raw[0] / length, raw[1] / length, raw[2] / length];
    const line = lines.add(meetingPoint(a, b, raw, square), direction);
    line.groups.add(i).add(j);
  }
  return lines.all;
}

export function directionOf(group: PlaneGroup, e: number): Space {
  const { net, across, along } = group;
  const dx = net.x[net.to[e]!]! - net.x[net.from[e]!]!;
  const dy = net.y[net.to[e]!]! - net.y[net.from[e]!]!;
  const length = Math.hypot(dx, dy);
  return [0, 1, 2].map((k) => (dx * across[k]! + dy * along[k]!) / length) as unknown as Space;
}

function meetingPoint(a: PlaneGroup, b: PlaneGroup, raw: Space, square: number): Space {
  const p = cross(b.normal, raw);
  const q = cross(raw, a.normal);
  return [0, 1, 2].map((k) => (a.offset * p[k]! + b.offset * q[k]!) / square) as unknown as Space;
}

/** Directions that no drawing is likely to be square to; lines are looked up by how far they reach along them. */
const PROBES: readonly [Space, Space] = [
  [0.4319, 0.7153, 0.5494],
  [0.6881, -0.3127, 0.6547],
];
/** Lines that count as one differ by less than half of this in both probes; see `same`. */
const CELL = 4e-3;

class LineList {
  readonly all: Line[] = [];
  private readonly cells = new Map<string, Line[]>();

  /** The line through a point, made where there is none yet. */
  add(point: Space, direction: Space): Line {
    const turned = dot(direction, PROBES[0]) < 0 ? -1 : 1;
    const foot = minus(point, scaled(direction, dot(point, direction)));
    // where the sign of the direction is hard to tell both places are looked up
    const signs = Math.abs(dot(direction, PROBES[0])) < CELL ? [1, -1] : [turned];
    for (const sign of signs)
      for (const cell of cellsNear(sign * dot(direction, PROBES[1]), dot(foot, PROBES[0])))
        for (const line of this.cells.get(cell) ?? []) if (same(line, point, direction)) return line;
    const line: Line = { point, direction, groups: new Set() };
    this.all.push(line);
    const cell = cellOf(turned * dot(direction, PROBES[1]), dot(foot, PROBES[0]));
    const list = this.cells.get(cell);
    if (list) list.push(line);
    else this.cells.set(cell, [line]);
    return line;
  }

  /** Planes that are all but one: what lies in one may meet what lies in the other on any line. */
  shareBetween(i: number, j: number): void {
    for (const { groups } of this.all)
      if (groups.has(i)) groups.add(j);
      else if (groups.has(j)) groups.add(i);
  }
}

const cellOf = (p: number, q: number) => `${Math.floor(p / CELL)},${Math.floor(q / CELL)}`;

function cellsNear(p: number, q: number): Set<string> {
  const h = CELL / 2;
  return new Set([cellOf(p - h, q - h), cellOf(p - h, q + h), cellOf(p + h, q - h), cellOf(p + h, q + h)]);
}

/** Lines of one net are further apart than this; a line that is listed twice does no harm. */
function same(line: Line, point: Space, direction: Space): boolean {
  return (
    Math.abs(Math.abs(dot(line.direction, direction)) - 1) < COPLANAR &&
    Math.hypot(...cross(line.direction, minus(point, line.point))) < COPLANAR / 2
  );
}

/** Pairs of planes whose panels' boxes in space meet: by sweeping along x. */
function* nearPairs(groups: readonly PlaneGroup[], tick: () => void): Generator<[number, number]> {
  const boxes = groups
    .map((group, index) => ({ index, ...boxOf(group) }))
    .sort((a, b) => a.low[0] - b.low[0]);
  const open: typeof boxes = [];
  for (const box of boxes) {
    let keep = 0;
    for (const other of open) {
      tick();
      if (other.high[0] < box.low[0]) continue;
      open[keep++] = other;
      if (other.high[1] < box.low[1] || other.low[1] > box.high[1]) continue;
      if (other.high[2] < box.low[2] || other.low[2] > box.high[2]) continue;
      yield box.index < other.index ? [box.index, other.index] : [other.index, box.index];
    }
    open.length = keep;
    open.push(box);
  }
}

function boxOf(group: PlaneGroup): { low: [number, number, number]; high: [number, number, number] } {
  const low: [number, number, number] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  ];
  const high: [number, number, number] = [
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (let v = 0; v < group.net.x.length; v++) {
    const point = liftPoint(group, group.net.x[v]!, group.net.y[v]!);
    for (const k of [0, 1, 2] as const) {
      low[k] = Math.min(low[k], point[k] - 10 * COPLANAR);
      high[k] = Math.max(high[k], point[k] + 10 * COPLANAR);
    }
  }
  return { low, high };
}
