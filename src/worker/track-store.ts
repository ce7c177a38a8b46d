/** Tracks that were computed before, to be had again at once when a lesson is rebuilt. */
import { contentKey } from '../core/numeric/content-key.ts';
import type { FoldOptions } from '../core/pose/fold-step.ts';
import type { Stage, StepTrack } from '../core/pose/track.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { ContentStore } from './content-store.ts';

/** Numbers kept at most, 8 bytes each. */
const MOST_NUMBERS = 6e6;

export const newTrackStore = () =>
  new ContentStore<StepTrack>(MOST_NUMBERS, ({ poses }) => poses.length * (poses[0]?.angle.length ?? 0));

/** What the track of a step depends on, and nothing else. */
export function trackKey(sheet: Sheet, start: Float64Array, stage: Stage, choices: FoldOptions): string {
  const { vertexX, vertexY, creaseFrom, creaseTo, creaseKind } = sheet;
  const { target, exact = [], through = [], bothWays = [], atOdds = [] } = stage;
  const how = [Number(choices.bend), Number(choices.free), choices.sheetSize ?? 0];
  return contentKey(
    vertexX,
    vertexY,
    creaseFrom,
    creaseTo,
    creaseKind,
    start,
    target,
    exact,
    how,
    bothWays,
    atOdds,
    ...through,
  );
}
