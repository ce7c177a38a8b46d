/** Stacks of which only some pairs are told. Expected from the order that the pairs were taken from; no source. */
import { expect, it } from 'vitest';
import { groupByPlane } from '../../../src/core/layer/planes.ts';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { stacksOf } from '../../../src/core/layer/stacks.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

/** A strip of squares pleated into one stack, its planes, and an order that tells these pairs, the lower one first. */
function pleated(count: number) {
  const strip = hingedStrip(new Array(count).fill(1), 1);
  const { angle } = runOf(strip, [strip.creases.map((_, k) => (k % 2 ? -180 : 180))])[0]!;
  const planes = groupByPlane(strip.sheet, placePanels(strip.sheet, angle, 0));
  const telling = (pairs: readonly (readonly [number, number])[]): LayerOrder =>
    pairs.map(([low, high]) => [high, low, planes.up[low]! > 0 ? 1 : -1]);
  const stackOf = (order: LayerOrder) => {
    const { over, untold } = stacksOf(planes, order);
    return { stack: over[0]!.find((panels) => panels.length === count)!, untold };
  };
  return { telling, stackOf };
}

it('what nobody told is stacked by number, and said to be untold', () => {
  const { stackOf } = pleated(3);
  expect(stackOf([])).toEqual({
    stack: [0, 1, 2],
    untold: [
      [0, 1],
      [0, 2],
      [1, 2],
    ],
  });
});

it('the first lies over the last, and of the one between nothing is told: the first still lies over the last', () => {
  const { telling, stackOf } = pleated(3);
  const { stack, untold } = stackOf(telling([[2, 0]]));
  expect(stack.indexOf(0)).toBeGreaterThan(stack.indexOf(2));
  expect(untold).toEqual([
    [0, 1],
    [1, 2],
  ]);
});

it('whatever pairs of a stack are told, none of them is turned round, seeds 1-60', () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = seededRandom(seed);
    const count = 3 + (seed % 6);
    const { telling, stackOf } = pleated(count);
    const whole = Array.from({ length: count }, (_, k) => ({ k, at: random() }))
      .sort((a, b) => a.at - b.at)
      .map(({ k }) => k);
    const pairs = whole.flatMap((low, at) => whole.slice(at + 1).map((high) => [low, high] as const));
    const told = pairs.filter(() => random() < 0.4);
    const { stack, untold } = stackOf(telling(told));
    for (const [low, high] of told)
      expect(stack.indexOf(low), `seed ${seed}`).toBeLessThan(stack.indexOf(high));
    expect(untold.length).toBe(pairs.length - told.length);
    expect(stackOf(telling(pairs)).stack).toEqual(whole);
  }
});
