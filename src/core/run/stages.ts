/** What the steps of a lesson ask of its sheet, and what of it stays in place. */
import { isAssumed, type Lesson } from '../lesson/lesson.ts';
import { stageOfFinishedAngles, stagesOfLesson } from '../lesson/stages.ts';
import type { Stage } from '../pose/track.ts';
import { onSheet } from '../sheet/frame.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { mainPanel, panelContaining } from '../sheet/walk.ts';

/** What each step asks of the sheet. */
export function stagesOf(lesson: Lesson, sheet: Sheet): Stage[] {
  const { stages } = stagesOfLesson(lesson, sheet);
  return stages.map((stage, k) => (isAssumed(lesson.steps[k]!) ? stageOfFinishedAngles(sheet) : stage));
}

/** The panel that the lesson keeps in place; null where it names none. */
export function stillPanelOf({ still }: Pick<Lesson, 'still'>, sheet: Sheet): number | null {
  if (!still) return null;
  const panel = panelContaining(sheet, ...onSheet(sheet, still));
  return panel === NONE ? null : panel;
}

/** A flat point of the panel that stays in place on screen: the lesson's, else the largest. Sheet coordinates. */
export function stillPointOf(lesson: Lesson, sheet: Sheet): readonly [number, number] {
  return lesson.still ? onSheet(sheet, lesson.still) : insidePoint(sheet, mainPanel(sheet));
}
