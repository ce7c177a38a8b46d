/** Mends of what a lesson forgets to crease, as it would be with them. */
import type { Finding } from '../../finding/finding.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { driveOf } from '../edit-steps.ts';
import type { Lesson, MadeCrease } from '../lesson.ts';
import { BEFORE_FIRST, madeOf, toggleMade } from '../makings.ts';
import { creasesOnLine } from '../stages.ts';

export interface Mend {
  readonly words: string;
  /** The lesson with it. */
  readonly lesson: Lesson;
}

/** How a finding about what is creased ahead of use might be mended. Whether it is so, has to be tried. */
export function makingMends(found: Finding, lesson: Lesson, sheet: Sheet): Mend[] {
  const creases = new Set(found.creases);
  if (creases.size === 0) return [];
  switch (found.code) {
    case 'crease-used-before-made':
      return [
        {
          words: 'Precrease before the first step',
          lesson: toggleMade(lesson, BEFORE_FIRST, sheet, [...creases]),
        },
      ];
    case 'crease-never-used':
      return lesson.precreases?.some((made) => isFor(made, creases, sheet))
        ? [{ words: 'Leave the crease out', lesson: withoutMade(lesson, creases, sheet) }]
        : [];
    case 'crease-too-long':
      return [{ words: 'Crease only what folds', lesson: trimmed(lesson, creases, sheet) }];
    case 'crease-wrong-way':
      return [{ words: 'Make it with the other side up', lesson: turned(lesson, creases, sheet) }];
    default:
      return [];
  }
}

const isFor = (made: MadeCrease, creases: ReadonlySet<number>, sheet: Sheet) =>
  !made.pinch && creasesOnLine(sheet, made).some((crease) => creases.has(crease));

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
