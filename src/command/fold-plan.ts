/** A call as a plan to carry out, and what it asks of it. */
import { foldingCreases } from '../core/pose/moving.ts';
import { type Answered, answerAsk } from '../core/run/asked.ts';
import { type Plan, planOfLesson, planOfPattern } from '../core/run/plan.ts';
import type { RunOptions } from '../core/run/run.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import type { Input } from './input.ts';
import type { Options } from './options.ts';
import { stillPanel } from './still.ts';
import { Unusable } from './unusable.ts';

/** Each question is given up after so many seconds, where the call does not say otherwise. */
export const usualSeconds = 30;

export function planOfInput(input: Input, sheet: Sheet, options: Options): Plan {
  const { still } = options;
  const facts = {
    sheetSize: input.size,
    ...(still === null ? {} : { still: stillPanel(input, sheet, options) }),
  };
  return input.lesson ? planOfLesson(input.lesson, sheet, facts) : planOfPattern(sheet, facts);
}

export function runOptions({ bend, free, seconds, motionOnly }: Options): RunOptions {
  return { bend, free, motionOnly, seconds: seconds ?? usualSeconds };
}

/** Answers the question of a `fold` call. Throws Unusable when it asks for steps or creases that are not there. */
export function foldAsAsked(plan: Plan, options: Options): Answered {
  const { hold, step, to } = options;
  const folds = foldingCreases(plan.sheet);
  for (const crease of hold.keys()) if (!folds[crease]) throw new Unusable((say) => say.noFold(crease));
  const count = plan.steps.length;
  if (step !== null && step > count) throw new Unusable((say) => say.noStepInFile(step, count));
  return answerAsk(plan, { part: to, hold, step }, runOptions(options));
}
