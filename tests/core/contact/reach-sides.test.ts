/**
 * A tube forty times as long as it is wide: no hand gets in at its ends. Its last side lies on the first, inside or outside
 * as the layers say; by hand, a step that turns it by two degrees is out of reach inside and within reach outside.
 */
import { expect, test } from 'vitest';
import { panelsOutOfReach } from '../../../src/core/contact/reach.ts';
import type { OrderedPair } from '../../../src/core/layer/asked.ts';
import { radians } from '../../support/patterns.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

const strip = hingedStrip([1, 1, 1, 1, 1], 40);
const [first, last] = [strip.panels[0]!, strip.panels[4]!];

/** @param order the last side on the first, or the first on the last: both face alike, so that the side turns round */
function outOfReach(order: OrderedPair, turnsTo: number): number[][] {
  const target = new Float64Array(strip.sheet.creaseKind.length).fill(Number.NaN);
  target[strip.creases[3]!] = turnsTo * radians;
  const poses = runOf(strip, [
    [90, 90, 90, 90],
    [90, 90, 90, turnsTo],
  ]);
  return panelsOutOfReach({ sheet: strip.sheet, poses, still: first, target, order: [order] });
}

test('inside, whichever way the order of the two is told', () => {
  // valleys all: the side up at the start looks inward, and further folding lifts the last side off inward
  expect(outOfReach([last, first, 1], 92)).toEqual([[last]]);
  expect(outOfReach([first, last, -1], 92)).toEqual([[last]]);
});

test('outside', () => {
  expect(outOfReach([last, first, -1], 88)).toEqual([]);
  expect(outOfReach([first, last, 1], 88)).toEqual([]);
});
