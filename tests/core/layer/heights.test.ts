/** Heights of layers against the longest chain of layers below each, followed step by step. */
import { expect, test } from 'vitest';
import { layerHeights } from '../../../src/core/layer/heights.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';

test('layers of one stack stand at 0, 1, 2; what lies apart starts anew', () => {
  expect(layerHeights([[4, 2, 7], [], [5]])).toEqual([[0, 1, 2], [], [0]]);
});

test('a panel keeps its height over all its cells', () => {
  // 1 lies on 0 in the first cell; in the second 3 lies on 2 and both under 1
  expect(
    layerHeights([
      [0, 1],
      [2, 3, 1],
    ]),
  ).toEqual([
    [0, 2],
    [0, 1, 2],
  ]);
});

test('panels over one another in a ring step from cell to cell; what lies on them keeps its height', () => {
  const heights = layerHeights([
    [0, 1],
    [1, 2],
    [2, 0, 3],
    [3, 4],
  ]);
  expect(heights).toEqual([
    [0, 1],
    [0, 1],
    [0, 1, 2],
    [2, 3],
  ]);
});

test('random stacks of panels in one order: each stands on the longest chain below it, seeds 1 to 50', () => {
  for (let seed = 1; seed <= 50; seed++) {
    const random = seededRandom(seed * 7919);
    const cells = Array.from({ length: 8 }, () => [...Array(10).keys()].filter(() => random() < 0.4));
    const longest = (panel: number): number =>
      Math.max(
        0,
        ...cells.map((cell) => {
          const place = cell.indexOf(panel);
          return place > 0 ? longest(cell[place - 1]!) + 1 : 0;
        }),
      );
    expect(layerHeights(cells), `seed ${seed}`).toEqual(cells.map((cell) => cell.map(longest)));
  }
});
