/** One panel over another in a pose. */
import { eachPartOver } from '../contact/overlap.ts';
import type { PosedPanels } from '../contact/shapes.ts';

/** Least and greatest height of panel f over panel g where it lies over it, sheet units; up is g's side up at the start. */
export interface Lap {
  readonly low: number;
  readonly high: number;
}

/** Panels that stand steeper on each other than this (cosine) lie over each other at an edge at most. */
const STEEP = 0.1;

/** Panel `f` over panel `g`; null where it does not lie over it. */
export function lapOf(posed: PosedPanels, f: number, g: number): Lap | null {
  if (Math.abs(cosineOf(posed, f, g)) < STEEP) return null;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  eachPartOver(posed, f, g, ({ count, height }) => {
    for (let k = 0; k < count; k++) {
      if (height[k]! < low) low = height[k]!;
      if (height[k]! > high) high = height[k]!;
    }
  });
  return low <= high ? { low, high } : null;
}

/** Cosine of the angle between the normals of two panels. */
export function cosineOf({ normal: n }: PosedPanels, a: number, b: number): number {
  return n[3 * a]! * n[3 * b]! + n[3 * a + 1]! * n[3 * b + 1]! + n[3 * a + 2]! * n[3 * b + 2]!;
}
