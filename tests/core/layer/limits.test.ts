/** Large, hard and contradictory poses: answers in time, by the sentence, and no overflow. */

import { describe, expect, it } from 'vitest';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { KIND } from '../../../src/core/sheet/kind.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { conflictSentence } from '../../../src/words/findings.ts';
import unfoldable from '../../outside/values/locally_valid_unfoldable.json';
import { mapSheet, sheetOfFaces, stripSheet } from '../../support/faces.ts';
import { miuraSheet } from '../../support/patterns.ts';
import { processorTime } from '../../support/processor-time.ts';

const angleOf = (sheet: Sheet) => sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));

function problemOf(sheet: Sheet): LayerProblem {
  const angle = angleOf(sheet);
  return new LayerProblem(sheet, angle, placePanels(sheet, angle, 0));
}

/** The answer, and how long it took beyond the time given, milliseconds. */
function answerWithin(sheet: Sheet, milliseconds: number) {
  const angle = angleOf(sheet);
  const placement = placePanels(sheet, angle, 0);
  const until = processorTime() + milliseconds;
  const answer = layerOrders(sheet, angle, placement, { outOfTime: () => processorTime() > until });
  return { answer, late: processorTime() - until };
}

describe('time', () => {
  it('map 7 x 7 (129950723279272 states, A001418): at least some, in the time asked for', () => {
    const { answer, late } = answerWithin(mapSheet(7, 7), 400);
    expect(answer.exact).toBe(false);
    expect(answer.states).toBeGreaterThan(100n);
    expect(answer.states).toBeLessThan(129950723279272n);
    expect(answer.order.length).toBe((49 * 48) / 2);
    expect(late).toBeLessThan(1500);
  });

  it('when setting up takes too long already: at least 0', () => {
    const { answer, late } = answerWithin(miuraSheet(24, 24, 70), 5);
    expect(answer).toMatchObject({ states: 0n, exact: false, order: [], conflicts: [] });
    expect(late).toBeLessThan(1500);
  });

  it('a strip of 160 stamps, 12720 unknowns: a first order at once', () => {
    const order = problemOf(
      stripSheet(
        new Array(160).fill(1),
        Array.from({ length: 159 }, (_, k) => (k % 3 ? 180 : -180)),
      ),
    ).first()!;
    expect(order.length).toBe((160 * 159) / 2);
  });
});

describe('why there is no order', () => {
  const cases = unfoldable.cases.flatMap(({ name, verts, faces, creases, unfoldable: strings }) =>
    (strings as string[]).slice(0, 2).map((letters) => ({ name, verts, faces, creases, letters })),
  );
  it(`every crease named is needed, and together they are enough: ${cases.length} patterns`, () => {
    for (const { name, verts, faces, creases, letters } of cases) {
      const degrees = new Map(
        creases.map(([a, b], k) => [[a!, b!].sort((p, q) => p - q).join(), letters[k] === 'V' ? 180 : -180]),
      );
      const sheet = sheetOfFaces(verts, faces, (a, b) => degrees.get([a, b].sort((p, q) => p - q).join())!);
      const { creases: named, why, panels } = problemOf(sheet).conflict()!;
      const message = conflictSentence(why);
      const onlyWith = (kept: readonly number[]) => {
        const creaseKind = sheet.creaseKind.map((kind, e) =>
          kind === KIND.edge || kept.includes(e) ? kind : KIND.unassigned,
        );
        return problemOf({ ...sheet, creaseKind }).first();
      };
      expect(named.length, `${name} ${letters}`).toBeGreaterThan(1);
      expect(onlyWith(named), `${name} ${letters}: ${message}`).toBeNull();
      for (const crease of named)
        expect(
          onlyWith(named.filter((one) => one !== crease)),
          `${name} ${letters} without ${crease}`,
        ).not.toBeNull();
      expect(panels.length).toBeGreaterThan(1);
      expect(message).toMatch(
        /^There is no way to stack the layers: with creases .* Turn one of these creases round\.$/,
      );
    }
  });

  it('panels that run through one another are named, whatever the layers', () => {
    // by hand: from 0 to 2, up, back over it, down through the floor
    const conflict = problemOf(stripSheet([2, 1, 1, 2], [90, 90, 90])).conflict()!;
    expect(conflict.panels).toEqual([0, 3]);
    expect(conflictSentence(conflict.why)).toContain('Panels 0 and 3 run through one another');
  });

  it('orders asked for that contradict each other are named themselves', () => {
    const strip = problemOf(mapSheet(6, 1));
    const asked = [
      { over: 3, under: 5 },
      { over: 5, under: 3 },
    ];
    // stamps 3 and 5 look the same way
    expect(strip.first(asked)).toBeNull();
    expect(conflictSentence(strip.conflict(asked)!.why)).toContain('asked: 3 over 5 and 5 over 3');
    expect(strip.conflict(asked)).toMatchObject({ panels: [3, 5], creases: [] });
  });

  it('an order that folds away from what its crease allows: the crease is named', () => {
    // by hand: a valley lays stamp 1 on the upper side of stamp 0
    const valley = problemOf(stripSheet([1, 1], [180]));
    expect(valley.count([{ over: 1, under: 0 }]).states).toBe(1n);
    const refused = valley.conflict([{ keep: [[1, 0, -1]] }])!;
    expect(refused.creases.length).toBe(1);
    expect(conflictSentence(refused.why)).toContain('The paper does not allow what is asked: 1 under 0');
  });
});
