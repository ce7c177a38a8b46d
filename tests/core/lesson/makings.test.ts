/** Creases made before the first step or in a step: told, told anew, taken back. */
import { describe, expect, it } from 'vitest';
import { insertStep, newStep } from '../../../src/core/lesson/edit-steps.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { BEFORE_FIRST, isMade, makingsOf, toggleMade, withMaking } from '../../../src/core/lesson/makings.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine } from '../../../src/core/lesson/stages.ts';
import { sampleOf } from '../../support/lessons.ts';

const wallet = insertStep(sampleOf('ticket-wallet'), 0, newStep('precrease', 'Sides'));
const sheet = sheetOfLesson(wallet).sheet!;
const left = creasesOnLine(sheet, { from: [4, 0], to: [4, 12] });

describe.each([
  ['before the first step', BEFORE_FIRST],
  ['in a precrease step', 0],
])('creases made %s', (_name, step) => {
  const none: Lesson = { ...wallet, precreases: [] };
  const made = toggleMade(none, step, sheet, left);

  it('are named one by one, each from the side on which it comes out as it ends', () => {
    expect(isMade(made, step, sheet, left)).toBe(true);
    expect(isMade(made, step === 0 ? BEFORE_FIRST : 0, sheet, left)).toBe(false);
    // the wallet begins with side A up: its valleys are valleys there, its mountains on the other side
    expect(makingsOf(made, step).map(({ side }) => side)).toEqual(['b', 'a', 'b', 'a']);
  });

  it('taken back leave the lesson as it was; some of them leave the others', () => {
    expect(makingsOf(toggleMade(made, step, sheet, left), step)).toEqual([]);
    const fewer = toggleMade(made, step, sheet, left.slice(0, 1));
    expect(isMade(fewer, step, sheet, left.slice(1))).toBe(true);
    expect(isMade(fewer, step, sheet, left.slice(0, 1))).toBe(false);
  });

  it('take a landmark, a side, a pinch; what is left open is not written', () => {
    const told = withMaking(made, step, 1, { landmark: 'A third.', side: undefined, pinch: true });
    expect(makingsOf(told, step)[1]).toEqual({
      from: makingsOf(made, step)[1]!.from,
      to: makingsOf(made, step)[1]!.to,
      landmark: 'A third.',
      pinch: true,
    });
    expect(isMade(told, step, sheet, [left[1]!])).toBe(false);
    expect(makingsOf(told, step).filter((_, k) => k !== 1)).toEqual(
      makingsOf(made, step).filter((_, k) => k !== 1),
    );
  });
});
