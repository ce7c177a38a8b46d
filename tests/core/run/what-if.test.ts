/** Likely wrong folds are really folded: every look is a pose that closes, or says how far short it stops. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { CLOSED } from '../../../src/core/numeric/tolerance.ts';
import { closureOfPose } from '../../../src/core/pose/closure.ts';
import { foldWrongly, wrongFolds } from '../../../src/core/run/what-if.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { endOf, runStep } from '../../support/folded-models.ts';

describe.each(['pencil-case', 'cuffed-tray', 'ticket-wallet', 'planter-sleeve'])('%s', (name) => {
  const text = readFileSync(new URL(`../../../public/lessons/${name}.json`, import.meta.url), 'utf8');
  const lesson = readLesson(JSON.parse(text)).lesson!;
  const sheet = sheetOfLesson(lesson).sheet!;

  it('each step has three wrong looks or more, none of them the right one but for its colours', () => {
    let start: Float64Array = new Float64Array(sheet.creaseKind.length);
    stagesOfLesson(lesson, sheet).stages.forEach((stage, step) => {
      const right = endOf(runStep(sheet, start, stage));
      const wrongs = wrongFolds(lesson, step, sheet, start);
      expect(wrongs.length, `step ${step + 1}`).toBeGreaterThanOrEqual(name === 'pencil-case' ? 3 : 2);
      for (const wrong of wrongs) {
        const look = foldWrongly(sheet, start, wrong);
        expect(closureOfPose(sheet, look.angle).largest).toBeLessThan(CLOSED);
        const off = look.angle.reduce((most, angle, e) => Math.max(most, Math.abs(angle - right[e]!)), 0);
        if (wrong.kind === 'side-up') expect(off).toBeLessThan(0.02);
        else expect(off).toBeGreaterThan(0.02);
        expect(look.arrives).toBe(look.short < 1);
        for (const crease of wrong.creases) {
          if (wrong.kind === 'forgotten' && look.arrives)
            expect(look.angle[crease]!).toBeCloseTo(start[crease]!, 2);
          if (wrong.kind === 'other-way' && look.arrives)
            expect(look.angle[crease]!).toBeCloseTo(-stage.target[crease]!, 2);
        }
      }
      start = right;
    });
  });
});

it('the lid of the pencil case bent the other way lies behind the case: a look that folds', () => {
  const text = readFileSync(new URL('../../../public/lessons/pencil-case.json', import.meta.url), 'utf8');
  const lesson = readLesson(JSON.parse(text)).lesson!;
  const sheet = sheetOfLesson(lesson).sheet!;
  const { stages } = stagesOfLesson(lesson, sheet);
  let start: Float64Array = new Float64Array(sheet.creaseKind.length);
  for (const stage of stages.slice(0, 2)) start = endOf(runStep(sheet, start, stage));
  const backward = wrongFolds(lesson, 2, sheet, start).find(({ kind }) => kind === 'other-way')!;
  // the hinge: one line of three creases
  expect(backward.creases.length).toBe(3);
  expect(foldWrongly(sheet, start, backward).arrives).toBe(true);
});
