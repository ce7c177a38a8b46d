/** The plan of the lesson that was asked about last: a worker gets lessons, and makes their sheets itself. */
import type { Lesson } from '../core/lesson/lesson.ts';
import { sheetOfLesson } from '../core/lesson/sheet-of-lesson.ts';
import { type Plan, planOfLesson } from '../core/run/plan.ts';

export class PlanStore {
  private last: { readonly text: string; readonly plan: Plan } | null = null;

  /** Throws where the pattern makes no sheet. */
  planOf(lesson: Lesson): Plan {
    const text = JSON.stringify([lesson.pattern, lesson.sheet, lesson.steps, lesson.still]);
    if (this.last?.text === text) return this.last.plan;
    const { sheet } = sheetOfLesson(lesson);
    if (!sheet) throw new Error('the pattern makes no sheet');
    const plan = planOfLesson(lesson, sheet);
    this.last = { text, plan };
    return plan;
  }
}
