import type { Lesson } from '../core/lesson/lesson.ts';
import { partNames, placeOnSheet } from '../core/lesson/part-names.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { words } from './words.ts';

/** What a panel is called: by the teacher, or else by its number and its place on the flat sheet. */
export function partName(lesson: Pick<Lesson, 'parts'>, sheet: Sheet, panel: number): string {
  return partNames(lesson, sheet).get(panel) ?? proposedPartName(sheet, panel);
}

export const proposedPartName = (sheet: Sheet, panel: number): string =>
  words.panelAt(panel, placeOnSheet(sheet, panel));
