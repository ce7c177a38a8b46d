/** The words that a step proposes for itself, from the tracks that were computed. */
import type { Lesson } from '../../core/lesson/lesson.ts';
import { partNames } from '../../core/lesson/part-names.ts';
import { seenAt } from '../../core/lesson/seen.ts';
import { stepTold } from '../../core/lesson/step-told.ts';
import { foldTold } from '../../core/lesson/titles.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { mainPanel } from '../../core/sheet/walk.ts';
import { words } from '../../words/words.ts';
import type { TrackBoard } from '../play/board.ts';

/** Empty while the step's track is not known. */
export function proposedFor(lesson: Lesson, sheet: Sheet, board: TrackBoard, step: number): string {
  const poses = board.steps[step]?.poses;
  const plan = lesson.steps[step];
  if (!poses || poses.length === 0 || !plan) return '';
  const own = (angle: Float64Array) => angle.slice(0, sheet.creaseKind.length);
  const told = stepTold({
    ...{ step: plan, sheet, still: board.stillPanel(sheet), seen: seenAt(lesson.steps, step) },
    names: partNames(lesson, sheet),
    ...{ start: own(poses[0]!.angle), end: own(poses.at(-1)!.angle) },
  });
  return told ? words.sentenceOfStep(told) : '';
}

/** A title for a fold of creases to their finished angles in a step after the given one; -1: the first step. */
export function titleFor(
  lesson: Lesson,
  sheet: Sheet,
  board: TrackBoard | null,
  after: number,
  creases: readonly number[],
): string {
  const left = board?.finished(after) ? board.steps[after]?.poses.at(-1)?.angle : undefined;
  const count = sheet.creaseKind.length;
  const motion = {
    ...{ sheet, still: board?.stillPanel(sheet) ?? mainPanel(sheet), seen: seenAt(lesson.steps, after + 1) },
    start: left?.slice(0, count) ?? new Float64Array(count),
    names: partNames(lesson, sheet),
  };
  const told = foldTold(motion, creases);
  return told ? words.foldTitle(told) : '';
}
