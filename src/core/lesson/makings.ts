/** What a lesson says of the creases that are folded and unfolded before they are needed: read and edited here. */
import type { Sheet } from '../sheet/sheet.ts';
import { driveOf } from './edit-steps.ts';
import type { Lesson, MadeCrease } from './lesson.ts';
import { creasesOnLine } from './stages.ts';

/** Stands for a step where creases are made on the flat sheet, before the first. */
export const BEFORE_FIRST = -1;

/** The creases made in a step, or before the first. */
export function makingsOf(lesson: Lesson, step: number): readonly MadeCrease[] {
  return (step === BEFORE_FIRST ? lesson.precreases : lesson.steps[step]?.makes) ?? [];
}

/** The lesson with another list of creases made in a step, or before the first. */
function withMakings(lesson: Lesson, step: number, makings: readonly MadeCrease[]): Lesson {
  if (step === BEFORE_FIRST) return { ...lesson, precreases: makings };
  return {
    ...lesson,
    steps: lesson.steps.map((one, k) => (k === step ? { ...one, makes: makings } : one)),
  };
}

/** A crease made for itself: from the side on which it comes out as the valley or mountain that it ends as. */
export function madeOf(crease: number, sheet: Sheet, { sideUp }: Lesson['sheet']): MadeCrease {
  const { from, to } = driveOf(sheet, crease, 0);
  const angle = sheet.creaseAngle[crease]!;
  if (Number.isNaN(angle) || angle === 0) return { from, to };
  return { from, to, side: angle > 0 === (sideUp === 'a') ? 'a' : 'b' };
}

/** Are all of these creases made in a step (or before the first), and not only marked? */
export function isMade(lesson: Lesson, step: number, sheet: Sheet, creases: readonly number[]): boolean {
  const made = makingsOf(lesson, step).filter(({ pinch }) => !pinch);
  return creases.every((crease) => made.some((one) => creasesOnLine(sheet, one).includes(crease)));
}

/** Has a step make creases, or make them no longer if it makes all of them. Pinches stay as they are. */
export function toggleMade(lesson: Lesson, step: number, sheet: Sheet, creases: readonly number[]): Lesson {
  const makings = makingsOf(lesson, step);
  const own = (made: MadeCrease) => (made.pinch ? [] : creasesOnLine(sheet, made));
  const made = new Set(makings.flatMap(own));
  const missing = [...new Set(creases)].filter((crease) => !made.has(crease));
  if (missing.length > 0)
    return withMakings(lesson, step, [
      ...makings,
      ...missing.map((crease) => madeOf(crease, sheet, lesson.sheet)),
    ]);
  const gone = new Set(creases);
  const left = makings.flatMap((one): MadeCrease[] => {
    const line = own(one);
    if (!line.some((crease) => gone.has(crease))) return [one];
    return line
      .filter((crease) => !gone.has(crease))
      .map((crease) => ({ ...one, ...madeOf(crease, sheet, lesson.sheet) }));
  });
  return withMakings(lesson, step, left);
}

/** The lesson with one making told anew; a part that is undefined is left out. */
export function withMaking(lesson: Lesson, step: number, index: number, change: Partial<MadeCrease>): Lesson {
  const makings = makingsOf(lesson, step).map((one, k) => {
    if (k !== index) return one;
    const told = Object.entries({ ...one, ...change }).filter(([, value]) => value !== undefined);
    return Object.fromEntries(told) as unknown as MadeCrease;
  });
  return withMakings(lesson, step, makings);
}
