/** One-click mends of what a lesson forgets: plain functions from a lesson to a lesson. */
import type { Finding } from '../../finding/finding.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { driveOf } from '../edit-steps.ts';
import type { Lesson, MadeCrease } from '../lesson.ts';
import { creasesOnLine } from '../stages.ts';

export interface Mend {
  readonly words: string;
  readonly apply: (lesson: Lesson) => Lesson;
}

/** How a finding can be mended, or null where only the teacher can. */
export function mendOf(found: Finding, lesson: Lesson, sheet: Sheet): Mend | null {
  const creases = new Set(found.creases);
  if (creases.size === 0) return null;
  switch (found.code) {
    case 'crease-used-before-made':
      return {
        words: 'Precrease before the first step',
        apply: (one) => withPrecreases(one, sheet, creases),
      };
    case 'crease-never-used':
      return lesson.precreases?.some((made) => isFor(made, creases, sheet))
        ? { words: 'Leave the crease out', apply: (one) => withoutMade(one, creases, sheet) }
        : null;
    case 'crease-too-long':
      return { words: 'Crease only what folds', apply: (one) => trimmed(one, creases, sheet) };
    case 'crease-wrong-way':
      return { words: 'Make it with the other side up', apply: (one) => turned(one, creases, sheet) };
    default:
      return null;
  }
}

const isFor = (made: MadeCrease, creases: ReadonlySet<number>, sheet: Sheet) =>
  !made.pinch && creasesOnLine(sheet, made).some((crease) => creases.has(crease));

/** A crease made for itself: from the side on which it comes out as the valley or mountain that it ends as. */
export function madeOf(crease: number, sheet: Sheet, { sideUp }: Lesson['sheet']): MadeCrease {
  const { from, to } = driveOf(sheet, crease, 0);
  const angle = sheet.creaseAngle[crease]!;
  if (Number.isNaN(angle) || angle === 0) return { from, to };
  return { from, to, side: angle > 0 === (sideUp === 'a') ? 'a' : 'b' };
}

function withPrecreases(lesson: Lesson, sheet: Sheet, creases: ReadonlySet<number>): Lesson {
  const added = [...creases].map((crease) => madeOf(crease, sheet, lesson.sheet));
  return { ...lesson, precreases: [...(lesson.precreases ?? []), ...added] };
}

const edited = (lesson: Lesson, change: (made: MadeCrease) => readonly MadeCrease[]): Lesson => ({
  ...lesson,
  ...(lesson.precreases ? { precreases: lesson.precreases.flatMap(change) } : {}),
  steps: lesson.steps.map((step) => (step.makes ? { ...step, makes: step.makes.flatMap(change) } : step)),
});

const withoutMade = (lesson: Lesson, creases: ReadonlySet<number>, sheet: Sheet) =>
  edited(lesson, (made) => (isFor(made, creases, sheet) ? [] : [made]));

function trimmed(lesson: Lesson, creases: ReadonlySet<number>, sheet: Sheet): Lesson {
  return edited(lesson, (made) => {
    if (!isFor(made, creases, sheet)) return [made];
    return creasesOnLine(sheet, made).map((crease) => {
      const { from, to } = driveOf(sheet, crease, 0);
      return { ...made, from, to };
    });
  });
}

/** Creases of a line that fold the other way than it was made are made apart, from the other side. */
function turned(lesson: Lesson, creases: ReadonlySet<number>, sheet: Sheet): Lesson {
  return edited(lesson, (made) => {
    if (!isFor(made, creases, sheet)) return [made];
    const own = creasesOnLine(sheet, made);
    if (own.every((crease) => creases.has(crease))) return [{ ...made, side: made.side === 'a' ? 'b' : 'a' }];
    return own.map((crease) => ({ ...made, ...madeOf(crease, sheet, lesson.sheet) }));
  });
}

/** The lesson with creases made before its first step, or no longer made there if all of them are. */
export function togglePrecrease(lesson: Lesson, sheet: Sheet, creases: readonly number[]): Lesson {
  const made = new Set(
    (lesson.precreases ?? []).flatMap((one) => (one.pinch ? [] : creasesOnLine(sheet, one))),
  );
  const missing = creases.filter((crease) => !made.has(crease));
  if (missing.length > 0) return withPrecreases(lesson, sheet, new Set(missing));
  const gone = new Set(creases);
  return edited(lesson, (one) => {
    if (!isFor(one, gone, sheet)) return [one];
    return creasesOnLine(sheet, one)
      .filter((crease) => !gone.has(crease))
      .map((crease) => ({ ...one, ...madeOf(crease, sheet, lesson.sheet) }));
  });
}

/** Are all of these creases made before the first step? */
export function isPrecreased(lesson: Lesson, sheet: Sheet, creases: readonly number[]): boolean {
  const made = (lesson.precreases ?? []).filter(({ pinch }) => !pinch);
  return creases.every((crease) => made.some((one) => creasesOnLine(sheet, one).includes(crease)));
}
