/** Mends of what a lesson forgets to crease, as it would be with them. */
import type { Finding } from '../../finding/finding.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { driveOf } from '../edit-steps.ts';
import type { Lesson, MadeCrease } from '../lesson.ts';
import { BEFORE_FIRST, madeOf, toggleMade } from '../makings.ts';
import { creasesOnLine } from '../stages.ts';

/** What a mend does: steps counted from 0, angles in degrees, `by` in mm. */
export type MendName =
  | { readonly how: 'precrease' | 'leave-out' | 'trim' | 'other-side' | 'leave-misses' | 'fold-last' }
  | { readonly how: 'turn'; readonly crease: number }
  | { readonly how: 'set-angle'; readonly crease: number; readonly angle: number }
  | { readonly how: 'let-follow'; readonly crease: number; readonly step: number }
  | {
      readonly how: 'draw-as-folded' | 'fold-as-drawn' | 'fold-to';
      readonly crease: number;
      readonly step: number;
      readonly angle: number;
    }
  | { readonly how: 'fold-all-as-drawn'; readonly creases: readonly number[] }
  | { readonly how: 'fold-before'; readonly creases: readonly number[]; readonly step: number }
  | { readonly how: 'move-corner'; readonly corner: number; readonly by: number }
  | { readonly how: 'switch-on'; readonly step: number; readonly title: string }
  /** The step before this one comes after it. */
  | { readonly how: 'swap'; readonly step: number }
  | { readonly how: 'draw-folded'; readonly count: number }
  /** So many ends of creases are drawn on to the lines that they stop short of. */
  | { readonly how: 'draw-on'; readonly count: number };

export interface Mend {
  readonly name: MendName;
  /** The lesson with it. */
  readonly lesson: Lesson;
  /** It completes corners, which may then show what is wrong with them: that was so all along. */
  readonly completes?: true;
  /** A step that it adds and that has no title yet, from 0. */
  readonly untitled?: number;
}

/** How a finding about what is creased ahead of use might be mended. Whether it is so, has to be tried. */
export function makingMends(found: Finding, lesson: Lesson, sheet: Sheet): Mend[] {
  const creases = new Set(found.creases);
  if (creases.size === 0) return [];
  switch (found.code) {
    case 'crease-used-before-made':
      return [
        {
          name: { how: 'precrease' },
          lesson: toggleMade(lesson, BEFORE_FIRST, sheet, [...creases]),
        },
      ];
    case 'crease-never-used':
      return lesson.precreases?.some((made) => isFor(made, creases, sheet))
        ? [{ name: { how: 'leave-out' }, lesson: withoutMade(lesson, creases, sheet) }]
        : [];
    case 'crease-too-long':
      return [{ name: { how: 'trim' }, lesson: trimmed(lesson, creases, sheet) }];
    case 'crease-wrong-way':
      return [{ name: { how: 'other-side' }, lesson: turned(lesson, creases, sheet) }];
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
