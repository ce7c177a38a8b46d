import type { Finding } from '../finding/finding.ts';
import { buildSheet } from '../sheet/build.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Lesson } from './lesson.ts';
import { sheetByNumbers } from './numbers.ts';
import { segmentsOfLesson } from './strokes.ts';

/** Builds the sheet of a lesson. `sheet` is null when the pattern makes no sheet; the findings say why. */
export function sheetOfLesson(lesson: Lesson): { sheet: Sheet | null; findings: Finding[] } {
  return sheetByNumbers(lesson) ?? buildSheet(segmentsOfLesson(lesson));
}
