/** What a lesson forgets, once it is known how its steps end: creases that only follow are folded as well. */
import type { Finding, FindingCode } from '../finding/finding.ts';
import { checkLesson } from '../lesson/check/check-lesson.ts';
import { isAssumed, type Lesson } from '../lesson/lesson.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** What the checks of a lesson say, and nothing else says. */
const taughtCodes: ReadonlySet<FindingCode> = new Set([
  'crease-used-before-made',
  'crease-never-used',
  'crease-too-long',
  'crease-wrong-way',
  'step-unclear',
  'step-too-much',
]);

/**
 * @param ends fold angle per crease at the end of each step, radians, where paper got there; see `historyOf`
 * @returns nothing for a pattern without steps, which teaches nothing that could be checked
 */
export function taughtFindings(
  lesson: Lesson,
  sheet: Sheet,
  ends: readonly (Float64Array | undefined)[] = [],
): Finding[] {
  return lesson.steps.some(isAssumed) ? [] : checkLesson(lesson, sheet, undefined, ends);
}

/** Findings of a lesson, what it forgets told anew now that the ends of its steps are known. */
export function taughtAgain(
  findings: readonly Finding[],
  lesson: Lesson,
  sheet: Sheet,
  ends: readonly (Float64Array | undefined)[],
): Finding[] {
  return [...findings.filter(({ code }) => !taughtCodes.has(code)), ...taughtFindings(lesson, sheet, ends)];
}
