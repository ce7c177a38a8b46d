/** The words that a step proposes for itself, from the tracks that were computed. */
import { seenAt } from '../core/lesson/seen.ts';
import { proposedSentence } from '../core/lesson/sentences.ts';
import { titleOfFold } from '../core/lesson/titles.ts';
import { mainPanel } from '../core/sheet/walk.ts';
import { playhead } from './playhead.ts';
import { get } from './store.ts';

export function proposedFor(step: number): string {
  const { lesson, sheet } = get();
  const { board } = playhead;
  const poses = board?.steps[step]?.poses;
  const plan = lesson?.steps[step];
  if (!lesson || !sheet || !board || !poses || poses.length === 0 || !plan) return '';
  const own = (angle: Float64Array) => angle.slice(0, sheet.creaseKind.length);
  return proposedSentence({
    ...{ step: plan, sheet, still: board.stillPanel(sheet), seen: seenAt(lesson.steps, step) },
    ...{ start: own(poses[0]!.angle), end: own(poses.at(-1)!.angle) },
  });
}

/** A title for a fold of creases to their finished angles in a step after the given one; -1: the first step. */
export function titleFor(after: number, creases: readonly number[]): string {
  const { lesson, sheet, steps } = get();
  if (!lesson || !sheet) return '';
  const { board } = playhead;
  const ready = steps[after]?.status === 'ready';
  const left = ready ? board?.steps[after]?.poses?.at(-1)?.angle : undefined;
  return titleOfFold(
    {
      ...{
        sheet,
        still: board?.stillPanel(sheet) ?? mainPanel(sheet),
        seen: seenAt(lesson.steps, after + 1),
      },
      start: left?.slice(0, sheet.creaseKind.length) ?? new Float64Array(sheet.creaseKind.length),
    },
    creases,
  );
}
