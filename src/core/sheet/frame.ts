/** Between the sheet's own coordinates and those of the pattern that it was built from. */

import { tidy } from '../numeric/tidy.ts';
import type { Point } from '../numeric/vector.ts';
import type { Sheet } from './sheet.ts';

/** A point of the sheet in pattern units, free of the rounding of the frame. */
export function inPattern(
  { frame: { x, y, scale } }: Pick<Sheet, 'frame'>,
  [px, py]: Point,
): [number, number] {
  return [tidy(x + scale * px), tidy(y + scale * py)];
}

/** A corner of the sheet in pattern units. */
export const cornerInPattern = (sheet: Sheet, vertex: number): [number, number] =>
  inPattern(sheet, [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!]);

/** A point of the pattern in sheet coordinates. */
export function onSheet({ frame: { x, y, scale } }: Pick<Sheet, 'frame'>, [px, py]: Point): [number, number] {
  return [(px - x) / scale, (py - y) / scale];
}
