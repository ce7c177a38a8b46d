import { expect, test } from 'vitest';
import { closureOfPose } from '../../../src/core/pose/closure.ts';
import { answerAsk } from '../../../src/core/run/asked.ts';
import { planOfLesson } from '../../../src/core/run/plan.ts';
import { sheetOf } from '../../support/changed-lessons.ts';
import { sampleOf } from '../../support/lessons.ts';

// the coaster's twist closes as folded, though no motion is found to it
test('what a step asks for is the end where it closes, though no motion leads there and the pattern leaves an angle open', () => {
  const lesson = sampleOf('twist-coaster');
  const drawn = sheetOf(lesson);
  const plan = planOfLesson(lesson, drawn);
  const { target } = plan.steps[0]!.stage;
  // one fold has no finished angle on the pattern: the step alone says where it goes
  const open = target.indexOf(Math.PI);
  expect(open).toBeGreaterThanOrEqual(0);
  const sheet = {
    ...drawn,
    creaseAngle: drawn.creaseAngle.map((angle, e) => (e === open ? Number.NaN : angle)),
  };
  const ask = { part: null, hold: new Map<number, number>(), step: null };
  const { state, deviation, verdict } = answerAsk({ ...plan, sheet }, ask, {
    ...{ bend: false, free: false, motionOnly: true },
  });
  expect(verdict).toMatchObject({ closes: 'yes', moves: 'no' });
  expect(state.sheet).toBe(sheet);
  expect(deviation).toBe(0);
  target.forEach((angle, e) => {
    if (!Number.isNaN(angle)) expect(state.angle[e]).toBe(angle);
  });
  expect(closureOfPose(sheet, state.angle).largest).toBeLessThan(1e-9);
});
