/** What a mend does, at a press. */
import type { MendName } from '../../core/lesson/check/mends.ts';
import { fixedText, numberText, plural } from '../numbers.ts';

const degrees = (value: number) => `${numberText(value, 4)}°`;

export function mendText(mend: MendName): string {
  switch (mend.how) {
    case 'precrease':
      return 'Precrease before the first step';
    case 'leave-out':
      return 'Leave the crease out';
    case 'draw-on':
      return plural(mend.count, {
        one: 'Draw the crease on to there',
        other: `Draw all ${mend.count} ends on to there`,
      });
    case 'trim':
      return 'Precrease only what folds';
    case 'other-side':
      return 'Precrease it with the other side up';
    case 'draw-as-folded':
      return `Draw crease ${mend.crease} as step ${mend.step + 1} folds it, ${degrees(mend.angle)}`;
    case 'fold-as-drawn':
      return `Fold crease ${mend.crease} to ${degrees(mend.angle)} in step ${mend.step + 1}, as it is drawn`;
    case 'fold-all-as-drawn':
      return `Fold creases ${mend.creases.join(', ')} as they are drawn`;
    case 'turn':
      return `Turn crease ${mend.crease} the other way`;
    case 'set-angle':
      return `Set crease ${mend.crease} to ${degrees(mend.angle)}`;
    case 'move-corner':
      return `Move corner ${mend.corner} by ${fixedText(mend.by, 1)} mm`;
    case 'let-follow':
      return `Let crease ${mend.crease} follow in step ${mend.step + 1}`;
    case 'fold-to':
      return `Fold crease ${mend.crease} to ${degrees(mend.angle)} in step ${mend.step + 1}`;
    case 'fold-before':
      return `Fold creases ${mend.creases.join(', ')} before step ${mend.step + 1}`;
    case 'switch-on':
      return `Switch step ${mend.step + 1} ("${mend.title}") on`;
    case 'swap':
      return `Step ${mend.step + 1} before step ${mend.step}`;
    case 'fold-last':
      return 'Fold them in a step at the end';
    case 'draw-folded':
      return plural(mend.count, {
        one: 'Draw the crease that is folded there',
        other: 'Draw the creases that are folded there',
      });
    case 'leave-misses':
      return 'Leave out what no crease lies on';
  }
}

/** Titles of steps that mends add. */
export const mendTitles = { 'fold-before': 'Fold first', 'fold-last': 'Fold on' } as const;
