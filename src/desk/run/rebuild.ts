/** After an edit of the lesson: what depends on it is computed anew, what does not is kept. */
import type { Lesson, Step } from '../../core/lesson/lesson.ts';
import { sheetOfLesson } from '../../core/lesson/sheet-of-lesson.ts';
import { stagesOf } from '../../core/run/plan.ts';
import { undo } from '../document/edits.ts';
import { askLooksAgain } from './looks.ts';
import { playhead } from '../play/playhead.ts';
import { say, solver } from '../document/opening.ts';
import { get, set } from '../store.ts';
import { compute } from './tracks.ts';
import { words } from '../../words/words.ts';

/** Patterns up to this many lines are built at once, so that a stroke shows the moment it is drawn. */
const AT_ONCE = 600;

export function lessonChanged(now: Lesson, then: Lesson): void {
  set({ checked: false });
  if (now.pattern !== then.pattern) void redraw(now, then);
  else if (foldsOtherwise(now.steps, then.steps)) restage(now, then);
  else {
    const changed = now.steps.findIndex((step, k) => step.orders !== then.steps[k]!.orders);
    if (changed >= 0) askLooksAgain(changed);
    void findAgain(now, null);
  }
}

const foldsOtherwise = (now: readonly Step[], then: readonly Step[]) =>
  now.length !== then.length ||
  now.some((step, k) => {
    const { drives, through, kind, off } = then[k]!;
    return step.drives !== drives || step.through !== through || step.kind !== kind || step.off !== off;
  });

async function redraw(now: Lesson, then: Lesson): Promise<void> {
  const small = now.pattern.lines.length <= AT_ONCE;
  const { sheet } = small ? sheetOfLesson(now) : { sheet: null };
  if (sheet) {
    set({ sheet, selection: null, hover: null, marks: null });
    restage(now, then);
  } else await findAgain(now, then);
}

function restage(now: Lesson, then: Lesson): void {
  const { sheet } = get();
  if (!sheet) return;
  set({ stages: stagesOf(now, sheet) });
  void compute(playhead.place, then.steps);
  void findAgain(now, null);
}

/** Findings are looked for in the worker; a pattern that makes no sheet takes the edit back. */
async function findAgain(now: Lesson, then: Lesson | null): Promise<void> {
  const answer = await solver.rebuild(now);
  if (get().lesson?.pattern !== now.pattern || get().lesson?.steps !== now.steps) return;
  if (answer.kind === 'refused') {
    undo();
    say(answer.findings[0]?.message ?? words.refusedPlain);
    return;
  }
  if (answer.kind === 'broke') say(words.broke(answer.message));
  if (answer.kind !== 'ready') return;
  const { sheet, stages, findings } = answer.ready;
  set({ findings, checked: true, trueUp: null });
  if (!then) return;
  set({ sheet, stages, selection: null, hover: null, marks: null });
  void compute(playhead.place, then.steps);
}
