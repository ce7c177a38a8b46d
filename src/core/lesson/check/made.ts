/** Which creases each part of a lesson makes, and which it turns: what the checks of a lesson go by. */
import { TURNED } from '../../numeric/tolerance.ts';
import { kindFolds } from '../../sheet/kind.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { creaseLength } from '../../sheet/walk.ts';
import type { Lesson, MadeCrease, StepKind } from '../lesson.ts';
import { creasesOnLine, stagesOfLesson } from '../stages.ts';

/** A line that is creased ahead of use, before the first step or in a step of its own. */
export interface Making {
  readonly made: MadeCrease;
  /** Step that makes it, from 0; -1 before the first. */
  readonly step: number;
  /** Its place in the list that holds it. */
  readonly index: number;
  /** Folding creases of the sheet on its line. */
  readonly creases: readonly number[];
}

export interface CreaseHistory {
  readonly makings: readonly Making[];
  /** Per step the creases that it turns. */
  readonly turned: readonly (readonly number[])[];
  /** Per step: does the model lie flat when it begins? */
  readonly flatBefore: readonly boolean[];
}

/**
 * @param ends fold angle per crease at the end of each step, where motions are known; creases that only follow count
 * as turned then. Without it only what steps drive counts.
 */
export function historyOf(
  lesson: Lesson,
  sheet: Sheet,
  ends: readonly (Float64Array | undefined)[] = [],
): CreaseHistory {
  const { stages } = stagesOfLesson(lesson, sheet);
  let before = new Float64Array(sheet.creaseKind.length);
  const flatBefore: boolean[] = [];
  const turned = stages.map(({ target }, step) => {
    flatBefore.push(before.every((angle) => Math.abs(Math.sin(angle)) < TURNED));
    const end = ends[step];
    const after = before.map((angle, crease) => {
      if (end) return end[crease]!;
      return Number.isNaN(target[crease]!) ? angle : target[crease]!;
    });
    const turns: number[] = [];
    after.forEach((angle, crease) => {
      if (Math.abs(angle - before[crease]!) > TURNED) turns.push(crease);
    });
    before = Float64Array.from(after);
    return turns;
  });
  const makings = [
    ...(lesson.precreases ?? []).map((made, index) => ({ made, step: -1, index })),
    ...lesson.steps.flatMap(({ makes = [], off }, step) =>
      off ? [] : makes.map((made, index) => ({ made, step, index })),
    ),
  ].map((one): Making => ({ ...one, creases: one.made.pinch ? [] : creasesOnLine(sheet, one.made) }));
  return { makings, turned, flatBefore };
}

/**
 * Does a step make what it folds, as it folds it? A fold on flat paper does, since it can be pressed sharp; anything
 * else needs creases that are there.
 */
export const makesItsOwn = (kind: StepKind, flat: boolean) =>
  (kind === 'fold' && flat) || kind === 'precrease' || kind === 'pinch';

/** Folding creases that have a finished angle other than flat. */
export function finishedFolds(sheet: Sheet): number[] {
  const folds: number[] = [];
  sheet.creaseAngle.forEach((angle, crease) => {
    if (kindFolds(sheet.creaseKind[crease]!) && Math.abs(angle) > TURNED) folds.push(crease);
  });
  return folds;
}

/** Length of a line less the creases on it that are folded, sheet units: what stays as a scar. */
export function unneededLength({ made, creases }: Making, sheet: Sheet, used: ReadonlySet<number>): number {
  const whole = Math.hypot(made.to[0] - made.from[0], made.to[1] - made.from[1]) / sheet.frame.scale;
  const needed = creases.filter((crease) => used.has(crease));
  return whole - needed.reduce((sum, crease) => sum + creaseLength(sheet, crease), 0);
}
