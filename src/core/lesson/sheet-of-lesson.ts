import type { Finding } from '../finding/finding.ts';
import { buildSheet } from '../sheet/build.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Lesson } from './lesson.ts';
import { sheetByNumbers } from './numbers.ts';
import { segmentsOfLesson } from './strokes.ts';

interface Built {
  readonly sheet: Sheet | null;
  readonly findings: Finding[];
}

/** A pattern is never changed, so what was built of one holds for good. */
const built = new WeakMap<Lesson['pattern'], Built>();

/** Builds the sheet of a lesson. `sheet` is null when the pattern makes no sheet; the findings say why. */
export function sheetOfLesson(lesson: Lesson): Built {
  const had = built.get(lesson.pattern);
  if (had) return had;
  const made = sheetByNumbers(lesson) ?? buildSheet(segmentsOfLesson(lesson));
  built.set(lesson.pattern, made);
  return made;
}
