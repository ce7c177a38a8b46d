/** One panel over another in a pose, corner by corner of what lies over it. */
import { eachPartOver } from '../contact/overlap.ts';
import type { PosedPanels } from '../contact/shapes.ts';

export interface Lap {
  /** Least and greatest height of panel f over panel g where it lies over it, sheet units; up is g's side up at the start. */
  readonly low: number;
  readonly high: number;
  readonly corners: readonly LapCorner[];
}

export interface LapCorner {
  /** Flat on g. */
  readonly x: number;
  readonly y: number;
  readonly height: number;
  /** Places of the triangles of f and of g in `PanelShapes.triangles`. */
  readonly own: number;
  readonly other: number;
}

/** Panels that stand steeper on each other than this (cosine) lie over each other at an edge at most. */
const STEEP = 0.1;

/** Panel `f` over panel `g`; null where it does not lie over it. */
export function lapOf(posed: PosedPanels, f: number, g: number): Lap | null {
  if (Math.abs(cosineOf(posed, f, g)) < STEEP) return null;
  const corners: LapCorner[] = [];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  eachPartOver(posed, f, g, (part, own, other) => {
    for (let k = 0; k < part.count; k++) {
      const [x, y, height] = [part.x[k]!, part.y[k]!, part.height[k]!];
      corners.push({ x, y, height, own, other });
      low = Math.min(low, height);
      high = Math.max(high, height);
    }
  });
  return corners.length > 0 ? { low, high, corners } : null;
}

/** Cosine of the angle between the normals of two panels. */
export function cosineOf({ normal: n }: PosedPanels, a: number, b: number): number {
  return n[3 * a]! * n[3 * b]! + n[3 * a + 1]! * n[3 * b + 1]! + n[3 * a + 2]! * n[3 * b + 2]!;
}
