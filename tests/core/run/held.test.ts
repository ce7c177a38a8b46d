/** Creases held at an angle where a step has led. Expected by hand, from the cross-section of a strip; no source. */
import { describe, expect, test } from 'vitest';
import { answerAsk } from '../../../src/core/run/asked.ts';
import { type Plan, planOfPattern } from '../../../src/core/run/plan.ts';
import { hingedStrip, type Strip } from '../../support/strips.ts';

const quarter = Math.PI / 2;

/** Each step drives the creases of the strip that it names, by their place along it, to an angle in radians. */
function planOf(strip: Strip, steps: readonly ReadonlyMap<number, number>[]): Plan {
  const plan = planOfPattern(strip.sheet, { still: strip.panels[1]!, sheetSize: 200 });
  return {
    ...plan,
    steps: steps.map((drives, k) => {
      const target = new Float64Array(strip.sheet.creaseKind.length).fill(Number.NaN);
      for (const [crease, angle] of drives) target[strip.creases[crease]!] = angle;
      return { title: `${k + 1}`, kind: 'fold', stage: { target }, asked: [], assumed: false };
    }),
  };
}

function hold(strip: Strip, plan: Plan, crease: number, degrees: number) {
  const ask = { part: null, hold: new Map([[strip.creases[crease]!, degrees]]), step: 2 };
  return answerAsk(plan, ask, { bend: false, free: false, motionOnly: false });
}

describe('a flap of 2 folded onto a base of 4, a lid of 3 shut over it', () => {
  const strip = hingedStrip([2, 4, 3], 2);
  const plan = planOf(strip, [new Map([[0, 2 * quarter]]), new Map([[1, 2 * quarter]])]);

  test.each([90, 0])('the flap cannot be opened to %i degrees through the lid', (degrees) => {
    const { verdict, findings } = hold(strip, plan, 0, degrees);
    expect(verdict).toMatchObject({ moves: 'yes', contact: 'no' });
    const [crossed] = findings.filter(({ severity }) => severity === 'error');
    expect(crossed!.code).toBe('panels-cross');
    expect(crossed!.panels.toSorted()).toEqual([strip.panels[0]!, strip.panels[2]!].toSorted());
  });

  test('the lid can', () => {
    const { verdict, findings } = hold(strip, plan, 1, 0);
    expect(verdict).toMatchObject({ moves: 'yes', layers: 'yes', contact: 'yes' });
    expect(findings).toEqual([]);
  });
});

test('a step that crosses is not made good by taking its crease back', () => {
  // sides 2, 1, 1, 2 at right angles: the last stands on the first at (1, 0) and goes on for one unit
  const strip = hingedStrip([2, 1, 1, 2], 2);
  const first = new Map([
    [0, quarter],
    [1, quarter],
  ]);
  const plan = planOf(strip, [first, new Map([[2, quarter]])]);
  expect(hold(strip, plan, 2, 0).verdict).toMatchObject({ moves: 'yes', contact: 'no' });
});
