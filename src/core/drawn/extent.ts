/** How much room a pose takes. */
import type { Leaf } from '../layer/leaves.ts';
import { turn } from '../numeric/rotation.ts';
import type { Space } from '../numeric/vector.ts';
import { type Placement, vertexPositions } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** Extent of a pose along the axes of the panel that stays still, sheet units. */
export function extentOfPose(sheet: Sheet, placement: Placement): Space {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  vertexPositions(sheet, placement).forEach((value, k) => {
    low[k % 3] = Math.min(low[k % 3]!, value);
    high[k % 3] = Math.max(high[k % 3]!, value);
  });
  return [high[0]! - low[0]!, high[1]! - low[1]!, high[2]! - low[2]!];
}

/**
 * The box round leaves as they are drawn, after a motion.
 * @param off how far each leaf is held off its panel's plane, along the panel's normal
 * @param motion a matrix of four columns of four, one after the other
 */
export function boxOfLeaves(
  { rotation, translation }: Placement,
  leaves: readonly Leaf[],
  off: (leaf: number) => number,
  motion: ArrayLike<number>,
): { low: Space; high: Space } {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  const local = new Float64Array(3);
  leaves.forEach(({ panel, rings }, leaf) => {
    const ring = rings[0]!;
    const height = off(leaf);
    for (let k = 0; k < ring.length; k += 2) {
      turn(local, 0, rotation, 4 * panel, ring[k]!, ring[k + 1]!, height);
      for (let axis = 0; axis < 3; axis++) local[axis]! += translation[3 * panel + axis]!;
      for (let axis = 0; axis < 3; axis++) {
        const at =
          motion[axis]! * local[0]! +
          motion[4 + axis]! * local[1]! +
          motion[8 + axis]! * local[2]! +
          motion[12 + axis]!;
        if (at < low[axis]!) low[axis] = at;
        if (at > high[axis]!) high[axis] = at;
      }
    }
  });
  return { low, high };
}
