/** What drawing works on: the outline and lines of a lesson, in pattern units. Every function gives a new pattern. */

import type { Lesson } from '../lesson/lesson.ts';
import { isWithin, nearestShare as shareBetween } from '../numeric/plane.ts';
import { SNAP } from '../numeric/tolerance.ts';
import { between, distance, type Point } from '../numeric/vector.ts';
import type { LineKind } from '../sheet/kind.ts';
import { type Line, lineThrough, offLine, type Stretch } from './line.ts';

export type Pattern = Lesson['pattern'];

/** How a line is to fold: its kind and, for folds, its finished angle in degrees, valley positive. */
export interface LineLook {
  readonly kind: LineKind;
  readonly angle?: number;
}

/** Longer side of the outline's box. */
export function sizeOf({ outline }: Pick<Pattern, 'outline'>): number {
  const extent = (k: 0 | 1) =>
    Math.max(...outline.map((corner) => corner[k])) - Math.min(...outline.map((corner) => corner[k]));
  return Math.max(extent(0), extent(1));
}

/** Places nearer to each other than this are one, as they are when the sheet is built. */
export const nearness = (pattern: Pick<Pattern, 'outline'>): number => SNAP * sizeOf(pattern);

/** The sides of the outline, in order. */
export function sidesOf({ outline }: Pick<Pattern, 'outline'>): Stretch[] {
  return outline.map((from, k) => ({ from, to: outline[(k + 1) % outline.length]! }));
}

/** Is a point on the paper, its edge included? */
export function isOnPaper(pattern: Pick<Pattern, 'outline'>, p: Point): boolean {
  const sides = sidesOf(pattern);
  const near = nearness(pattern);
  if (sides.some((side) => distanceTo(side, p) <= near)) return true;
  return isWithin(pattern.outline, p);
}

/** Share of a stretch at which it comes nearest to a point, 0 to 1. */
export const nearestShare = ({ from, to }: Stretch, p: Point): number => shareBetween(from, to, p);

export function distanceTo(stretch: Stretch, p: Point): number {
  return distance(between(stretch.from, stretch.to, nearestShare(stretch, p)), p);
}

/**
 * Where a stretch meets an infinite line: a point, or null. Ends within `near` count as on it and come back to the last
 * digit; so do the fixed coordinates of upright and level stretches.
 */
export function crossingOf({ from, to }: Stretch, line: Line, near: number): Point | null {
  const [a, b] = [offLine(line, from), offLine(line, to)];
  if (Math.abs(a) <= near && Math.abs(b) <= near) return null;
  if (Math.abs(a) <= near) return from;
  if (Math.abs(b) <= near) return to;
  if (a > 0 === b > 0) return null;
  const [x, y] = between(from, to, a / (a - b));
  // an upright or level crease keeps its own coordinate, too
  return [
    from[0] === to[0] ? from[0] : line.y === 0 ? line.d / line.x : x,
    from[1] === to[1] ? from[1] : line.x === 0 ? line.d / line.y : y,
  ];
}

/** Where two stretches cross or touch; null where they do not, or lie in one line. */
export function meetOf(a: Stretch, b: Stretch, near: number): Point | null {
  const line = lineThrough(b.from, b.to);
  if (!line) return null;
  const at = crossingOf(a, line, near * 1e-3);
  return at && distanceTo(b, at) <= near * 1e-3 ? at : null;
}

export const lookOf = ({ kind, angle }: LineLook): LineLook =>
  angle === undefined ? { kind } : { kind, angle };

/** A half turn for mountain and valley, as long as nothing else is said. */
export function lookFor(kind: LineKind, angle?: number): LineLook {
  if (kind === 'valley') return { kind, angle: Math.abs(angle ?? 180) };
  if (kind === 'mountain') return { kind, angle: -Math.abs(angle ?? 180) };
  return { kind };
}

export function isSameLook(a: LineLook, b: LineLook): boolean {
  return a.kind === b.kind && lookFor(a.kind, a.angle).angle === lookFor(b.kind, b.angle).angle;
}
