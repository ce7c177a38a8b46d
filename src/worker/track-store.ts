/** Tracks that were computed before, to be had again at once when a lesson is rebuilt. */
import { contentKey } from '../core/numeric/content-key.ts';
import type { FoldOptions } from '../core/pose/fold-step.ts';
import type { Stage, StepTrack } from '../core/pose/track.ts';
import type { Sheet } from '../core/sheet/sheet.ts';

/** Numbers kept at most, 8 bytes each; the tracks that were asked for longest ago go first. */
const MOST_NUMBERS = 6e6;

export class TrackStore {
  private readonly tracks = new Map<string, StepTrack>();
  private numbers = 0;

  get(key: string): StepTrack | undefined {
    const found = this.tracks.get(key);
    if (found) {
      this.tracks.delete(key);
      this.tracks.set(key, found);
    }
    return found;
  }

  put(key: string, track: StepTrack): void {
    if (this.tracks.has(key)) return;
    this.tracks.set(key, track);
    this.numbers += sizeOf(track);
    for (const [oldest, one] of this.tracks) {
      if (this.numbers <= MOST_NUMBERS || oldest === key) break;
      this.tracks.delete(oldest);
      this.numbers -= sizeOf(one);
    }
  }
}

const sizeOf = ({ poses }: StepTrack) => poses.length * (poses[0]?.angle.length ?? 0);

/** What the track of a step depends on, and nothing else. */
export function trackKey(sheet: Sheet, start: Float64Array, stage: Stage, choices: FoldOptions): string {
  const { vertexX, vertexY, creaseFrom, creaseTo, creaseKind } = sheet;
  const { target, exact = [], through = [], bothWays = [] } = stage;
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
    ...through,
  );
}
