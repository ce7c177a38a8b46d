/** The sentence that a step proposes for itself, from the track that was computed for it. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import { proposedSentence } from '../../core/lesson/sentences.ts';
import { placePanels } from '../../core/pose/place.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { TrackBoard } from '../play/board.ts';

/** Creases that turn by less, radians, are not spoken of. */
const TURNED = 0.009;

/** Empty while the step's track is not known. */
export function proposedFor(lesson: Lesson, sheet: Sheet, board: TrackBoard, step: number): string {
  const poses = board.steps[step]?.poses;
  const plan = lesson.steps[step];
  if (!poses || poses.length === 0 || !plan) return '';
  const own = (angle: Float64Array) => angle.slice(0, sheet.creaseKind.length);
  const [start, end] = [own(poses[0]!.angle), own(poses.at(-1)!.angle)];
  const still = board.stillPanel(sheet);
  const turned = Array.from(start.keys()).filter((e) => Math.abs(end[e]! - start[e]!) > TURNED);
  const before = placePanels(sheet, start, still);
  return proposedSentence({ step: plan, sheet, turned, end, before, after: placePanels(sheet, end, still) });
}
