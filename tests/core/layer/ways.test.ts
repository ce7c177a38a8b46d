/** The shortest way out of a pocket against every direction, a tenth of a degree apart; seeds 1 to 60. */

import { expect, test } from 'vitest';
import { shortestWay } from '../../../src/core/layer/lock/ways.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import type { Point } from '../../../src/core/numeric/vector.ts';

const dot = (a: Point, b: Point) => a[0] * b[0] + a[1] * b[1];
const at = (turn: number): Point => [Math.cos(turn), Math.sin(turn)];

/** A triangle or more corners round a circle, counter-clockwise. */
function round(random: () => number, middle: Point, size: number): Point[] {
  const corners = 3 + Math.floor(3 * random());
  return Array.from({ length: corners }, (_, k): Point => {
    const [x, y] = at((2 * Math.PI * (k + 0.8 * random())) / corners);
    return [middle[0] + size * x, middle[1] + size * y];
  });
}

/** How far the tab has to go along a direction until its last point has passed the pocket's end. */
const outBy = (tab: readonly Point[], pocket: readonly Point[], way: Point) =>
  Math.max(...pocket.map((p) => dot(p, way))) - Math.min(...tab.map((p) => dot(p, way)));

const everyWay = Array.from({ length: 3600 }, (_, k) => at((k * Math.PI) / 1800));

for (const bars of [0, 1, 2])
  test(`${bars} barriers: free, and no direction is shorter`, () => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = seededRandom(seed * 7919 + bars);
      const [tab, pocket] = [round(random, [0.2, 0], 0.5), round(random, [0, 0], 1)];
      const first = 2 * Math.PI * random();
      const barred = Array.from({ length: bars }, (_, k) => at(first + k * (0.5 + random())));
      const found = shortestWay([tab], [pocket], barred, [0, 0])!;
      const free = everyWay.filter((way) => barred.every((normal) => dot(way, normal) < 1e-6));
      const least = Math.min(...free.map((way) => outBy(tab, pocket, way)));
      for (const normal of barred) expect(dot(found.way, normal), `seed ${seed}`).toBeLessThan(1e-6);
      expect(found.depth, `seed ${seed}`).toBeCloseTo(outBy(tab, pocket, found.way), 9);
      // between two directions of the sample lies a twentieth of a degree of a way no longer than 3
      expect(found.depth, `seed ${seed}`).toBeLessThan(least + 1e-9);
      expect(found.depth, `seed ${seed}`).toBeGreaterThan(least - 3e-3);
    }
  });

test('barred on all sides there is no way', () => {
  const square: Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  const barred = [0, 1, 2].map((k) => at((2 * Math.PI * k) / 3));
  expect(shortestWay([square], [square], barred, [0, 0])).toBeNull();
});

test('of ways as short the one toward the hinge', () => {
  const tab: Point[] = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ];
  for (const [k, toward] of [at(0), at(Math.PI / 2), at(Math.PI), at(-Math.PI / 2)].entries()) {
    const { way, depth } = shortestWay([tab], [tab], [], toward)!;
    expect(dot(way, toward), `${k}`).toBeCloseTo(1, 9);
    expect(depth).toBeCloseTo(2, 9);
  }
});
