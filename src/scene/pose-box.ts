import { type Placement, vertexPositions } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

/** Extent of a pose along the axes of the panel that stays still, sheet units. */
export function boxOfPose(sheet: Sheet, placement: Placement): [number, number, number] {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  vertexPositions(sheet, placement).forEach((value, k) => {
    low[k % 3] = Math.min(low[k % 3]!, value);
    high[k % 3] = Math.max(high[k % 3]!, value);
  });
  return [high[0]! - low[0]!, high[1]! - low[1]!, high[2]! - low[2]!];
}
