/** What stays in place when a fold is made on the model, so that it is the shaded paper which is seen to move. */
import { inPattern } from '../../sheet/frame.ts';
import { insidePoint } from '../../sheet/inside-point.ts';
import { panelArea, panelContaining } from '../../sheet/walk.ts';
import type { Lesson } from '../lesson.ts';
import { sheetOfLesson } from '../sheet-of-lesson.ts';
import type { FoldPlan } from './folded.ts';
import { isInside, type LyingPaper, placeOf } from './in-plane.ts';

/**
 * A lesson with a fold just made, kept in place by a panel that does not move in it: a piece of the one that was still, else
 * one that lies the same way up, the largest first.
 * @param still the panel of the sheet before that was still
 */
export function withStaying(
  lesson: Lesson,
  { paper, plan, still }: { readonly paper: LyingPaper; readonly plan: FoldPlan; readonly still: number },
): Lesson {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) return lesson;
  const { up } = paper.stacks.planes;
  const rank = (before: number) => (before === still ? 0 : up[before] === up[still] ? 1 : 2);
  const staying = [...sheet.panelRings.keys()]
    .map((panel) => {
      const at = insidePoint(sheet, panel);
      return { panel, at, before: panelContaining(paper.sheet, ...at) };
    })
    .filter(
      ({ at, before }) => !plan.panels.includes(before) || !isInside(plan.region, placeOf(paper, before, at)),
    )
    .sort((a, b) => rank(a.before) - rank(b.before) || panelArea(sheet, b.panel) - panelArea(sheet, a.panel));
  const [first] = staying;
  return first ? { ...lesson, still: inPattern(sheet, first.at) } : lesson;
}
