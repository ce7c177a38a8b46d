/** Panels of any shape are cut into triangles that cover them (every simple polygon has n - 3 diagonals that do). */
import { expect, test } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { addBendLines, bendOf } from '../../../src/core/pose/bend-lines.ts';
import { validateSheet } from '../../../src/core/sheet/validate.ts';
import { panelArea, panelRing } from '../../../src/core/sheet/walk.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';

/** One panel with corners round a point, near and far by turns or at random: seldom convex. */
function star(seed: number) {
  const random = seededRandom(seed * 7919);
  const corners = 4 + (seed % 7);
  const maker = new PatternMaker();
  const turn = random();
  const rim = Array.from({ length: corners }, (_, k) => {
    const reach = (k % 2 ? 0.3 : 1) * (0.6 + 0.4 * random());
    const way = turn + (2 * Math.PI * k) / corners;
    return maker.point(reach * Math.cos(way), reach * Math.sin(way));
  });
  for (const [k, from] of rim.entries()) maker.line(from, rim[(k + 1) % corners]!, 'edge');
  return { sheet: maker.sheet(), corners };
}

test.each([
  ['long', (length: number) => -length],
  ['short', (length: number) => length],
] as const)('%s diagonals first: triangles that cover the panel, seeds 1 to 60', (_, choose) => {
  for (let seed = 1; seed <= 60; seed++) {
    const { sheet, corners } = star(seed);
    const bent = addBendLines(sheet, choose);
    const what = `seed ${seed}, ${corners} corners`;
    expect(validateSheet(bent.sheet), what).toEqual([]);
    expect(bent.bendLines, what).toBe(corners - 3);
    expect([...bent.panelOf], what).toEqual(new Array(corners - 2).fill(0));
    const areas = bent.sheet.panelRings.map((_ring, piece) => panelArea(bent.sheet, piece));
    for (const [piece, area] of areas.entries()) {
      expect(panelRing(bent.sheet, bent.sheet.panelRings[piece]![0]!), what).toHaveLength(3);
      expect(area, what).toBeGreaterThan(0);
    }
    expect(
      areas.reduce((sum, area) => sum + area, 0),
      what,
    ).toBeCloseTo(panelArea(sheet, 0), 12);
  }
});

test('the largest bend of a pose, and the panels that bend by more than is asked', () => {
  const bent = addBendLines(star(2).sheet, (length) => length);
  const angle = new Float64Array(bent.sheet.creaseKind.length);
  const [first, second] = [angle.length - bent.bendLines, angle.length - 1];
  expect(bendOf(bent, angle, 0)).toEqual({ largest: 0, panels: [] });
  angle[first] = 3 * radians;
  angle[second] = -5 * radians;
  // turned edges are no bends
  angle[0] = 40 * radians;
  expect(bendOf(bent, angle, 2 * radians)).toEqual({ largest: 5 * radians, panels: [0] });
  expect(bendOf(bent, angle, 6 * radians)).toEqual({ largest: 5 * radians, panels: [] });
});
