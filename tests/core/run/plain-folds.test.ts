/**
 * Folds that a folder takes for granted, carried out: every question of every step is answered yes, nothing crosses, no
 * order is missing, and nothing is asked. What is right is known by hand: one stack is folded over as a whole, or a corner
 * by itself. CREASEWAY_SEED=n runs other folds, CREASEWAY_SOAK=1 all of them.
 */
import { describe, expect, test } from 'vitest';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { planOfLesson } from '../../../src/core/run/plan.ts';
import { runPlan } from '../../../src/core/run/run.ts';
import { cornerBesideVertex } from '../../support/corner-folds.ts';
import { lessonOfFolds, straightFolds } from '../../support/straight-folds.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);

const allYes = { closes: 'yes', reaches: 'yes', moves: 'yes', layers: 'yes', contact: 'yes' };

function expectPlain(lesson: Lesson, label: string): void {
  const plan = planOfLesson(lesson, sheetOfLesson(lesson).sheet!);
  const { steps } = runPlan(plan, { bend: false, free: false });
  expect(steps.length, label).toBe(lesson.steps.length);
  for (const { verdict, findings, look } of steps) {
    expect(verdict, label).toEqual(allYes);
    expect(findings, label).toEqual([]);
    expect([look!.states, look!.exact, look!.asks], label).toEqual(['1', true, false]);
  }
}

describe('every question is answered yes', () => {
  const lessons = soak ? 2000 : 200;
  test(`${lessons} lessons of straight folds through all layers from seed ${firstSeed}`, {
    timeout: 1_800_000,
  }, () => {
    for (let seed = firstSeed; seed < firstSeed + lessons; seed++) {
      const random = seededRandom(seed);
      const folds = straightFolds(random, 1 + Math.floor(4 * random()));
      expectPlain(lessonOfFolds(folds), `seed ${seed}`);
    }
  });

  const sheets = soak ? 1500 : 150;
  test(`${sheets} corners beside a vertex that nothing folds, from seed ${firstSeed}`, {
    timeout: 600_000,
  }, () => {
    for (let seed = firstSeed; seed < firstSeed + sheets; seed++)
      expectPlain(cornerBesideVertex(seededRandom(seed)), `seed ${seed}`);
  });
});
