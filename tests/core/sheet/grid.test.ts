import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { commonGrid } from '../../../src/core/sheet/grid.ts';
import { trueUp } from '../../../src/core/sheet/true-up.ts';
import { PatternMaker } from '../../support/patterns.ts';

/** Lines across a square at the given places, both ways, ends and crossings rounded to `step`. */
function crossed(places: readonly number[], step: number) {
  const maker = new PatternMaker();
  const round = (v: number) => (step > 0 ? Math.round(v / step) * step : v);
  const all = [0, ...places, 1];
  const id = (i: number, j: number) => j * all.length + i;
  for (const y of all) for (const x of all) maker.point(round(x), round(y));
  for (let j = 0; j < all.length; j++)
    for (let i = 0; i < all.length; i++) {
      const rim = (k: number) => k === 0 || k === all.length - 1;
      if (i + 1 < all.length)
        maker.line(id(i, j), id(i + 1, j), rim(j) ? 'edge' : 'valley', rim(j) ? Number.NaN : Math.PI);
      if (j + 1 < all.length)
        maker.line(id(i, j), id(i, j + 1), rim(i) ? 'edge' : 'flat', rim(i) ? Number.NaN : 0);
    }
  return maker.sheet();
}

describe('the even grid that a drawing was meant on', () => {
  it('finds eighths, sevenths and twelfths through rounding, and no grid in random places (seed 4)', () => {
    expect(commonGrid(crossed([1 / 8, 2 / 8, 6 / 8, 7 / 8], 1 / 1500), 1 / 1500)).toBe(8);
    expect(commonGrid(crossed([1 / 7, 3 / 7, 4 / 7, 6 / 7], 1 / 2100), 1 / 2100)).toBe(7);
    expect(commonGrid(crossed([1 / 12, 4 / 12, 9 / 12], 1 / 1500), 1 / 1500)).toBe(12);
    const random = seededRandom(4);
    for (let trial = 0; trial < 40; trial++) {
      const places = Array.from({ length: 5 }, () => 0.02 + 0.96 * random()).sort((a, b) => a - b);
      expect(commonGrid(crossed(places, 0), 1 / 1500), String(places)).toBeNull();
    }
  });

  it('an exact drawing is left alone', () => {
    const sheet = crossed([1 / 8, 7 / 8], 0);
    expect(trueUp(sheet, 0.01)).toMatchObject({ moved: expect.closeTo(0, 12), findings: [] });
  });
});
