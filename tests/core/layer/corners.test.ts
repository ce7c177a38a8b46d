/**
 * Corners whose turns multiply to -1: paper gone through itself. For corners folded flat, published checks have it exactly
 * where mountains less valleys leave 2 on division by 4 (tests/outside/quaternion-sign.test.ts, where the sign is -1 the
 * other way round since sector turns count there).
 */

import { describe, expect, test } from 'vitest';
import { askAtRest } from '../../../src/core/contact/at-rest.ts';
import { cornersGoneThrough } from '../../../src/core/layer/corners.ts';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { conflictSentence } from '../../../src/words/findings.ts';
import { radians, vertexSheet } from '../../support/patterns.ts';

const corner = (sectors: readonly number[], degrees: readonly number[]) => {
  const sheet = vertexSheet(sectors, degrees);
  const angle = new Float64Array(sheet.creaseKind.length);
  degrees.forEach((one, k) => {
    angle[k] = one * radians;
  });
  return { sheet, angle, placement: placePanels(sheet, angle, 0) };
};

describe('a corner of four right angles, folded flat', () => {
  for (let mask = 0; mask < 16; mask++) {
    const degrees = [0, 1, 2, 3].map((k) => ((mask >> k) & 1 ? -180 : 180));
    const difference = Math.abs(degrees.reduce((sum, one) => sum + Math.sign(one), 0));
    test(`${degrees.join(', ')}: mountains less valleys ${difference}`, () => {
      const { sheet, angle, placement } = corner([90, 90, 90, 90], degrees);
      const gone = difference % 4 !== 2;
      expect(cornersGoneThrough(sheet, angle)).toEqual(gone ? [{ vertex: 0, creases: [0, 1, 2, 3] }] : []);
      for (const answer of [layerOrders(sheet, angle, placement), askAtRest(sheet, angle, placement)])
        if (gone) {
          expect([answer.answer, answer.states, answer.exact]).toEqual(['no', 0n, true]);
          expect(answer.conflicts[0]!.creases).toEqual([0, 1, 2, 3]);
          expect(conflictSentence(answer.conflicts[0]!.why)).toContain('corner 0');
        } else expect(answer.answer).toBe('yes');
    });
  }
});

test('a corner in space a whole turn off: a box corner with one of its folds the wrong way', () => {
  // floor, wall, the corner cut along its diagonal, wall: the gusset folds out along the diagonal, or in, never both ways
  const right = corner([90, 90, 45, 45, 90], [90, 90, 180, -180, 90]);
  expect(cornersGoneThrough(right.sheet, right.angle)).toEqual([]);
  const wrong = corner([90, 90, 45, 45, 90], [90, 90, 180, 180, 90]);
  expect(cornersGoneThrough(wrong.sheet, wrong.angle).map(({ vertex }) => vertex)).toEqual([0]);
});

test('an unassigned crease may go the other way: nothing is said of its corner', () => {
  const { sheet, angle } = corner([90, 90, 90, 90], [180, 180, 180, 180]);
  const open = { ...sheet, creaseKind: sheet.creaseKind.map((kind, e) => (e === 2 ? 2 : kind)) };
  expect(cornersGoneThrough(open, angle)).toEqual([]);
});
