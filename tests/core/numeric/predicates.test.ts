import { describe, expect, test } from 'vitest';
import { convexHull, groupNearPoints, hullPerimeter } from '../../../src/core/numeric/plane.ts';
import { cross, isOn, meet, side } from '../../../src/core/numeric/predicates.ts';

describe('predicates, y up', () => {
  // common practice, no source: signs that can be seen on squared paper
  test('left is positive', () => {
    expect(side(0, 0, 1, 0, 0, 1)).toBe(1);
    expect(side(0, 0, 1, 0, 0, -1)).toBe(-1);
    expect(side(0, 0, 1, 0, 5, 0)).toBeCloseTo(0, 300);
  });

  // source: Kettner et al., Classroom examples of robustness problems, Comput. Geom. 40 (2008): points next to the
  // line through (12, 12) and (24, 24), where rounded arithmetic gets the sign wrong
  test('signs are exact a last digit off the line', () => {
    const step = 2 ** -53;
    for (let i = 0; i < 32; i++) {
      for (let j = 0; j < 32; j++) {
        const sign = Math.sign(side(12, 12, 24, 24, 0.5 + i * step, 0.5 + j * step));
        expect(sign).toBe(Math.sign(0.5 + j * step - (0.5 + i * step)));
      }
    }
  });

  test('crossing is inside both; touching is meeting but not crossing', () => {
    expect(cross(0, 0, 2, 2, 0, 2, 2, 0)).toBe(true);
    expect(cross(0, 0, 2, 2, 0, 0, 2, 0)).toBe(false);
    expect(cross(0, 0, 2, 0, 1, 0, 1, 5)).toBe(false);
    expect(cross(0, 0, 2, 0, 1, 0, 3, 0)).toBe(false);
    expect(meet(0, 0, 2, 0, 1, 0, 1, 5)).toBe(true);
    expect(meet(0, 0, 2, 0, 1, 0, 3, 0)).toBe(true);
    expect(meet(0, 0, 2, 0, 3, 0, 4, 0)).toBe(false);
    expect(isOn(0, 0, 2, 2, 1, 1)).toBe(true);
    for (const [x, y] of [
      [2, 1],
      [-2, 1],
      [2, -1],
      [-2, -1],
      [2, 0],
      [0, -2],
    ] as const) {
      expect([isOn(0, 0, x, y, 0, 0), isOn(0, 0, x, y, x, y)]).toEqual([true, true]);
      expect([isOn(0, 0, x, y, -x, -y), isOn(0, 0, x, y, 2 * x, 2 * y)]).toEqual([false, false]);
    }
    expect(isOn(0, 0, 2, 2, 3, 3)).toBe(false);
    expect(isOn(0, 0, 0, 2, 0, 3)).toBe(false);
  });
});

describe('plane', () => {
  // common practice, no source
  test('the hull of a square with points inside and on its sides', () => {
    const x = Float64Array.of(0, 1, 1, 0, 0.5, 0.5, 1);
    const y = Float64Array.of(0, 0, 1, 1, 0.5, 0, 0.5);
    expect(convexHull(x, y)).toEqual([0, 1, 2, 3]);
    expect(hullPerimeter(x, y)).toBe(4);
  });

  test('points are grouped by hops, also across cells and where many are equal', () => {
    const x = Float64Array.from({ length: 400 }, (_, k) => (k % 200) * 0.9e-3 - 0.05);
    const y = Float64Array.from({ length: 400 }, (_, k) => (k < 200 ? 0 : 1));
    const groups = groupNearPoints(x, y, 400, 1e-3);
    expect(new Set(Array.from(x.keys(), (k) => groups.find(k))).size).toBe(2);
    expect(new Set(Array.from(x.keys(), (k) => groupNearPoints(x, y, 400, 0.8e-3).find(k))).size).toBe(400);
    const same = new Float64Array(50_000).fill(0.3);
    const start = performance.now();
    expect(groupNearPoints(same, same, 50_000, 1e-4).find(49_999)).toBe(0);
    expect(performance.now() - start).toBeLessThan(1000);
  });
});
