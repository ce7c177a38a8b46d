/** Stackings to choose from at the end of the sample lessons: who is asked, and what tells one from the others. */
import { describe, expect, test } from 'vitest';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { layersOfStep, type StepMotion } from '../../../src/core/run/step-layers.ts';
import { foldLesson, sampleOf } from '../../support/lessons.ts';

/** The last step of a sample, ready to be asked about. */
function lastStep(name: string): StepMotion {
  const lesson = sampleOf(name);
  const sheet = sheetOfLesson(lesson).sheet!;
  const tracks = foldLesson(sheet, stagesOfLesson(lesson, sheet).stages);
  let before: LayerOrder = [];
  const motions = tracks.map(({ poses }, step): StepMotion => {
    const { title, kind: stepKind } = lesson.steps[step]!;
    const facts = { sheet, sheetSize: lesson.sheet.size, still: 0, asked: [] };
    const motion = { step, title, stepKind, ...facts, poses, before };
    if (step + 1 < tracks.length) before = layersOfStep(motion, forEver).known;
    return motion;
  });
  return motions.at(-1)!;
}

const forEver = () => () => false;

describe.each(['pencil-case', 'planter-sleeve', 'tapered-case', 'ticket-wallet'])('%s', (name) => {
  const motion = lastStep(name);
  const { states, choices, differences } = layersOfStep(motion, forEver);

  test('each stacking is the only one that has what is said of it', () => {
    expect(choices.length).toBe(Number(states));
    expect(choices.length).toBeGreaterThan(1);
    for (const [k, told] of differences.entries()) {
      const asked = told.map(({ pair, at }) => ({ order: pair, at }));
      const chosen = layersOfStep({ ...motion, asked }, forEver);
      expect([chosen.states, chosen.asks, chosen.order]).toEqual(['1', false, choices[k]]);
      // and less would not do
      for (const one of asked) {
        const fewer = asked.filter((other) => other !== one);
        expect(Number(layersOfStep({ ...motion, asked: fewer }, forEver).states)).toBeGreaterThan(1);
      }
    }
  });
});

test('of the wallet, whose two halves are alike, two stackings hold as much: the teacher is asked', () => {
  expect(layersOfStep(lastStep('ticket-wallet'), forEver).asks).toBe(true);
});

test('a plain fold says by itself where everything lies: nobody is asked', () => {
  const { asks, choices, states } = layersOfStep({ ...lastStep('tapered-case'), stepKind: 'fold' }, forEver);
  expect([asks, choices.length, states]).toEqual([false, 1, '1']);
});
