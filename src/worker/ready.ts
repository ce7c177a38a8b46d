/** From a lesson to what the page shows of it, or to why it cannot be shown. */
import type { Finding } from '../core/finding/finding.ts';
import { withTruedSheet } from '../core/lesson/carry.ts';
import { type Lesson, sheetSizes } from '../core/lesson/lesson.ts';
import { sheetOfLesson } from '../core/lesson/sheet-of-lesson.ts';
import { planOfLesson } from '../core/run/plan.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { trueUp } from '../core/sheet/true-up.ts';
import type { ReadyLesson } from './protocol.ts';

type ReadyOrRefused =
  | { readonly kind: 'ready'; readonly ready: ReadyLesson }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

/** True-up is offered up to this much, sheet units: 2 % of the sheet. Beyond it the drawing means something else. */
const TRUE_UP_LIMIT = 0.02;

/**
 * A lesson with the sheet that it makes: what is on screen is always that.
 * @param drawn the pattern was read from a drawing, whose corners may miss by a hair
 */
export function readyOrRefused(
  lesson: Lesson | null,
  before: readonly Finding[],
  drawn: boolean,
): ReadyOrRefused {
  const made = lesson && sheetOfLesson(lesson);
  const told = made && !drawn ? [...before, ...made.findings] : before;
  if (!lesson || !made?.sheet) {
    const all = [...before, ...(made?.findings ?? [])];
    const errors = all.filter((one) => one.severity === 'error');
    return { kind: 'refused', findings: errors.length > 0 ? errors : all };
  }
  const plan = planOfLesson(lesson, made.sheet);
  const ready: ReadyLesson = {
    lesson,
    sheet: made.sheet,
    stages: plan.steps.map(({ stage }) => stage),
    findings: [...told, ...plan.findings],
    trueUp:
      drawn && plan.findings.some(({ code }) => mendable.has(code)) ? wouldMove(made.sheet, lesson) : null,
  };
  return { kind: 'ready', ready };
}

/** The lesson on its sheet trued up: corners keep their numbers, and steps their creases. */
export function truedUp(lesson: Lesson): ReadyOrRefused {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) return readyOrRefused(lesson, [], false);
  const trued = trueUp(sheet, TRUE_UP_LIMIT);
  return readyOrRefused(withTruedSheet(lesson, sheet, trued.sheet), trued.findings, false);
}

/** Length of the sheet in mm, where the file's unit is known and it is a length that a lesson can have. */
export function sizeOf(sheet: Sheet, millimetres: number | null): { size?: number } {
  const size = Math.round(sheet.frame.scale * (millimetres ?? 0) * 1000) / 1000;
  return size >= sheetSizes.least && size <= sheetSizes.most ? { size } : {};
}

const mendable: ReadonlySet<string> = new Set(['vertex-closure', 'hole-closure', 'vertex-angle-sum']);

/** How far the worst corner would move to true the sheet up, mm; null where that does not mend it. */
function wouldMove(sheet: Sheet, lesson: Lesson): number | null {
  const trued = trueUp(sheet, TRUE_UP_LIMIT);
  return trued.findings.some((one) => one.severity === 'error') ? null : trued.moved * lesson.sheet.size;
}
