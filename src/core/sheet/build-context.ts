/** What the stages of building a sheet hand on to each other. */
import type { FilePlace } from '../finding/values/place.ts';
import type { Arrangement, Strokes } from './arrange.ts';
import type { Segment } from './segment.ts';
import type { Sheet } from './sheet.ts';

/** What one stage hands to the next, and what the wording of findings needs. */
export interface BuildContext {
  readonly segments: readonly Segment[];
  readonly strokes: Strokes;
  readonly arrangement: Arrangement;
  readonly frame: Sheet['frame'];
  /** In the unit of the arrangement. */
  readonly snap: number;
}

/** Where a stroke stands, for findings. */
export function placeOfStroke(segments: readonly Segment[], index: number): FilePlace {
  return segments[index]?.source ?? { how: 'stroke', index };
}

/** A place of the arrangement in the coordinates of the finished sheet. */
export function sheetPlace(context: BuildContext, sheet: Sheet, x: number, y: number): [number, number] {
  const { frame } = context;
  return [
    (frame.x + frame.scale * x - sheet.frame.x) / sheet.frame.scale,
    (frame.y + frame.scale * y - sheet.frame.y) / sheet.frame.scale,
  ];
}
