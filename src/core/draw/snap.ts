/** Places on the sheet that a pointer goes to, each with what it is. */

import Flatbush from 'flatbush';
import { ROUNDING } from '../numeric/tolerance.ts';
import { between, distance, type Point } from '../numeric/vector.ts';
import { partsOfStretch } from './construct.ts';
import type { Stretch } from './line.ts';
import { distanceTo, isOnPaper, meetOf, nearestShare, nearness, type Pattern, sidesOf } from './pattern.ts';

/** What a place or a line of the sheet is to a folder. */
export type PlaceKind =
  | 'corner'
  | 'crossing'
  | 'end-on-edge'
  | 'end-of-crease'
  | 'middle-of-edge'
  | 'middle-of-crease'
  | 'on-edge'
  | 'on-crease'
  | 'edge'
  | 'crease'
  /** `share[0]` of `share[1]` equal parts of an edge, in lowest terms. */
  | { readonly share: readonly [number, number] };

export interface SnapPlace {
  readonly at: Point;
  readonly is: PlaceKind;
  /** Lower goes first where several lie within reach. */
  readonly rank: number;
  /** One of the equal parts of an edge. */
  readonly isPart?: boolean;
}

export interface Snaps {
  readonly places: readonly SnapPlace[];
  /** The best place within reach of a point, else the nearest point of a line within reach, else none. */
  near(p: Point, reach: number): SnapPlace | null;
  /** The line or side of the outline within reach of a point. */
  lineNear(p: Point, reach: number): SnapLine | null;
  readonly lines: readonly SnapLine[];
}

interface SnapLine extends Stretch {
  readonly is: 'edge' | 'crease';
  /** Is it a side of the outline? */
  readonly isEdge: boolean;
}

/** Corners and crossings are meant by a hand that is a little further off than it may be from anything else. */
const CORNER_RANK = 1;
const CORNER_PULL = 1.5;

/** More crossings than this are not listed one by one: a hand finds none among so many. */
const MOST_PLACES = 60_000;

/**
 * Finds all corners, crossings, ends, middles and equal parts of a pattern.
 * @param parts the sides of the outline are marked in that many equal parts
 */
export function snapsOf(pattern: Pattern, parts: number): Snaps {
  const near = nearness(pattern);
  const lines: SnapLine[] = [
    ...sidesOf(pattern).map((side) => ({ ...side, is: 'edge' as const, isEdge: true })),
    ...pattern.lines.map(({ from, to }) => ({ from, to, is: 'crease' as const, isEdge: false })),
  ].filter(({ from, to }) => distance(from, to) > near);
  const lineIndex = indexOf(lines.length, (add) => {
    for (const { from, to } of lines)
      add(
        Math.min(from[0], to[0]),
        Math.min(from[1], to[1]),
        Math.max(from[0], to[0]),
        Math.max(from[1], to[1]),
      );
  });
  const kept = new Kept(near);
  for (const at of pattern.outline) kept.add({ at, is: 'corner', rank: 0 });
  lines.forEach((line, k) => {
    const { from, to } = line;
    const box = [
      Math.min(from[0], to[0]),
      Math.min(from[1], to[1]),
      Math.max(from[0], to[0]),
      Math.max(from[1], to[1]),
    ];
    const others =
      lineIndex?.search(box[0]! - near, box[1]! - near, box[2]! + near, box[3]! + near, (j) => j > k) ?? [];
    for (const j of others) {
      if (kept.places.length > MOST_PLACES) break;
      const other = lines[j]!;
      const at = meetOf(line, other, near) ?? meetOf(other, line, near);
      if (at) kept.add({ at, is: line.isEdge || other.isEdge ? 'end-on-edge' : 'crossing', rank: 1 });
    }
  });
  for (const { from, to, isEdge } of lines)
    if (!isEdge) for (const at of [from, to]) kept.add({ at, is: 'end-of-crease', rank: 1 });
  if (parts > 1)
    for (const side of sidesOf(pattern))
      partsOfStretch(side, parts).forEach((at, k) => {
        kept.add({ at, is: shareOf(k + 1, parts), rank: 2, isPart: true });
      });
  for (const { from, to, is } of lines)
    kept.add({ at: between(from, to, 0.5), is: `middle-of-${is}`, rank: 2 });
  const { places } = kept;
  const placeIndex = indexOf(places.length, (add) => {
    for (const { at } of places) add(at[0], at[1], at[0], at[1]);
  });
  const lineNear = (p: Point, reach: number): SnapLine | null =>
    least(
      (lineIndex?.search(p[0] - reach, p[1] - reach, p[0] + reach, p[1] + reach) ?? []).map((k) => lines[k]!),
      (line) => distanceTo(line, p),
      reach,
    );
  return {
    places,
    lines,
    lineNear,
    near: (p, reach) => {
      const far = reach * CORNER_PULL;
      const found = placeIndex?.search(p[0] - far, p[1] - far, p[0] + far, p[1] + far) ?? [];
      const place = least(
        found
          .map((k) => places[k]!)
          .filter(({ at, rank }) => distance(at, p) <= (rank <= CORNER_RANK ? far : reach)),
        ({ at, rank }) => distance(at, p) * (1 + 0.35 * rank),
        Number.POSITIVE_INFINITY,
      );
      if (place) return place;
      const line = lineNear(p, reach);
      if (!line) return null;
      const at = between(line.from, line.to, nearestShare(line, p));
      return { at, is: `on-${line.is}`, rank: 4 };
    },
  };
}

function indexOf(
  count: number,
  fill: (add: (x1: number, y1: number, x2: number, y2: number) => void) => void,
) {
  if (count === 0) return null;
  const index = new Flatbush(count);
  fill((x1, y1, x2, y2) => index.add(x1, y1, x2, y2));
  index.finish();
  return index;
}

function least<T>(list: readonly T[], cost: (one: T) => number, most: number): T | null {
  let best: T | null = null;
  let bar = most;
  for (const one of list) {
    const value = cost(one);
    if (value > bar) continue;
    bar = value;
    best = one;
  }
  return best;
}

/** Places by their cell, so that each is kept once, as what it was first. */
class Kept {
  readonly places: SnapPlace[] = [];
  private readonly cells = new Map<string, Point[]>();
  private readonly near: number;
  constructor(near: number) {
    this.near = near;
  }
  add(place: SnapPlace): void {
    const cell = 4 * this.near;
    const [i, j] = [Math.round(place.at[0] / cell), Math.round(place.at[1] / cell)];
    for (let di = -1; di <= 1; di++)
      for (let dj = -1; dj <= 1; dj++)
        if (this.cells.get(`${i + di},${j + dj}`)?.some((at) => distance(at, place.at) <= this.near)) return;
    const key = `${i},${j}`;
    this.cells.set(key, [...(this.cells.get(key) ?? []), place.at]);
    this.places.push(place);
  }
}

/** Half an edge is its middle. */
function shareOf(k: number, n: number): PlaceKind {
  const common = divisor(k, n);
  return n === 2 * common ? 'middle-of-edge' : { share: [k / common, n / common] };
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** The directions that a line from a point snaps to: every 22.5 degrees. */
const ANGLE_STEP = Math.PI / 8;

/**
 * A point that lies nearly at a multiple of 22.5 degrees from another is brought there.
 * @param within largest turn, radians
 */
export function snapAngle(
  from: Point,
  p: Point,
  within: number,
): { readonly at: Point; readonly degrees: number } | null {
  const angle = Math.atan2(p[1] - from[1], p[0] - from[0]);
  const step = Math.round(angle / ANGLE_STEP);
  const off = angle - step * ANGLE_STEP;
  if (Math.abs(off) > within || distance(from, p) === 0) return null;
  const reach = distance(from, p) * Math.cos(off);
  const [x, y] = [axis(Math.cos(step * ANGLE_STEP)), axis(Math.sin(step * ANGLE_STEP))];
  return { at: [from[0] + reach * x, from[1] + reach * y], degrees: (((step * 22.5) % 180) + 180) % 180 };
}

const axis = (value: number) => (Math.abs(value) < ROUNDING ? 0 : value);

/** The next place in the direction of an arrow key; the same one where there is none. */
export function nextPlace(
  pattern: Pattern,
  places: readonly SnapPlace[],
  from: Point,
  [dx, dy]: Point,
): SnapPlace | null {
  const near = nearness(pattern);
  return least(
    places.filter(
      ({ at }) => (at[0] - from[0]) * dx + (at[1] - from[1]) * dy > near && isOnPaper(pattern, at),
    ),
    ({ at }) => {
      const ahead = (at[0] - from[0]) * dx + (at[1] - from[1]) * dy;
      return ahead + 2.5 * Math.abs((at[0] - from[0]) * dy - (at[1] - from[1]) * dx);
    },
    Number.POSITIVE_INFINITY,
  );
}
