import { type StepMove, stepTold } from '../../src/core/lesson/step-told.ts';
import { foldTold } from '../../src/core/lesson/titles.ts';
import { words } from '../../src/words/words.ts';

/** The sentence that a step proposes for itself; empty where there is none. */
export function proposedSentence(move: StepMove): string {
  const told = stepTold(move);
  return told ? words.sentenceOfStep(told) : '';
}

/** The title that a fold proposes for itself; empty where there is none. */
export function titleOfFold(...fold: Parameters<typeof foldTold>): string {
  const told = foldTold(...fold);
  return told ? words.foldTitle(told) : '';
}
