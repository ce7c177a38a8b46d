/** Questions about layers each have a clock; what is not known in time is said so, and what is known is kept. */
import { describe, expect, test } from 'vitest';
import { askAtRest, describeAtRest } from '../../../src/core/contact/at-rest.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { mostChoices, rollForward } from '../../../src/core/layer/roll.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { layersOfStep } from '../../../src/core/run/step-layers.ts';
import { mapSheet, stripSheet } from '../../support/faces.ts';
import { evenMotion } from '../../support/stack-motions.ts';

/** Clocks that go off when they have been looked at so many times. */
const after = (looks: number) => () => {
  let looked = 0;
  return () => ++looked > looks;
};
const nothingBefore = { before: [], stayed: [], motion: [], motionBinds: true, asked: [] };

describe('a map of 5 x 5 cells, which has 186,086,600 orders (A001418)', () => {
  const sheet = mapSheet(5, 5);
  const angle = sheet.creaseAngle.map((a) => (Number.isNaN(a) ? 0 : a));
  const problem = new LayerProblem(sheet, angle, placePanels(sheet, angle, 0));

  test('choices are found although the count runs out of time', () => {
    const { answer, states, exact, choices, order } = rollForward(problem, nothingBefore, after(40));
    expect([answer, exact]).toEqual(['yes', false]);
    expect(states).toBeGreaterThan(0n);
    expect(states).toBeLessThan(186_086_600n);
    expect(choices).toHaveLength(mostChoices);
    expect(choices[0]).toBe(order);
  });

  test('where no order is found in time, what stayed and what the motion tells are known', () => {
    const kept = [[0, 1, 1]] as const;
    const rolling = {
      ...nothingBefore,
      before: kept,
      stayed: [[0, 1]] as const,
      motion: [[0, 5, -1]] as const,
    };
    const rolled = rollForward(problem, rolling, () => () => true);
    expect([rolled.answer, rolled.order, rolled.exact, rolled.conflict]).toEqual([
      'gave-up',
      [],
      false,
      null,
    ]);
    expect(rolled.known).toEqual([
      [0, 1, 1],
      [0, 5, -1],
    ]);
  });

  test('a clock that goes off while the question is set up', () => {
    const answer = askAtRest(sheet, angle, placePanels(sheet, angle, 0), { startClock: () => () => true });
    expect([answer.answer, answer.exact, answer.states]).toEqual(['gave-up', false, 0n]);
    expect(describeAtRest(answer, { sheet }).map(({ code, severity }) => `${code} ${severity}`)).toEqual([
      'layer-none warning',
    ]);
  });
});

test('a step whose layers are not found in time keeps what was known before it', () => {
  const sheet = stripSheet([1, 1, 1], [180, -180]);
  const angle = sheet.creaseAngle.map((a) => (Number.isNaN(a) ? 0 : a));
  const motion = {
    step: 0,
    title: 'Pleat',
    stepKind: 'fold',
    sheet,
    sheetSize: 200,
    still: 0,
    asked: [],
  } as const;
  const poses = evenMotion(new Float64Array(angle.length), angle);
  const before = [[0, 2, 1]] as const;
  const known = layersOfStep({ ...motion, poses, before: [] }, () => () => false);
  expect([known.answer, known.known]).toEqual(['yes', known.order]);
  // 60 pleats are enough for the clock to be looked at while the question is set up
  const long = stripSheet(
    Array(60).fill(1),
    Array.from({ length: 59 }, (_, k) => (k % 2 ? -180 : 180)),
  );
  const end = long.creaseAngle.map((a) => (Number.isNaN(a) ? 0 : a));
  const late = layersOfStep(
    { ...motion, sheet: long, poses: [{ at: 1, angle: end }], before },
    () => () => true,
  );
  expect([late.answer, late.known, late.order, late.exact]).toEqual(['gave-up', before, [], false]);
  expect(late.findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['layer-none warning']);
});
