/**
 * Squash and petal folds: the folded edge comes to lie on the line, corners obey the single-vertex rules (Kawasaki and
 * Justin; Maekawa and Justin; Hull 2003, as in sheet/flat-vertex.ts), the layers have an order, and stiff paper gets there.
 */

import { describe, expect, it } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import type { FoldPlan } from '../../../../src/core/lesson/on-model/folded.ts';
import { canLie } from '../../../../src/core/lesson/on-model/lies.ts';
import { spreadFolds } from '../../../../src/core/lesson/on-model/spread-fold.ts';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { checkSheet } from '../../../../src/core/sheet/check.ts';
import { words } from '../../../../src/words/words.ts';
import { type Folding, foldAll, folded, lineOn, placeOf, planned } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

type Flat = readonly [number, number];

function foldedAll(before: Folding, from: Flat, to: Flat, toward: 1 | -1) {
  const panels = Array.from(before.sheet.panelRings.keys());
  const fold = { ...before, ...lineOn(before, from, to, toward), panels, whole: false };
  return folded(before, planned(foldAcross(fold)));
}

/** The highest (1) or lowest (-1) panel where most layers lie. */
function outermost({ stacks }: Folding, side: 1 | -1): number {
  const tallest = stacks.over[0]!.reduce((best, one) => (one.length > best.length ? one : best));
  return side * stacks.planes.groups[0]!.normal[2] > 0 ? tallest.at(-1)! : tallest[0]!;
}

function spreadOf(before: Folding, from: Flat, to: Flat, side: 1 | -1, way: 'squash' | 'petal') {
  return spreadFolds({
    ...{ ...before, ...lineOn(before, from, to, side), panels: [outermost(before, side)], way },
  });
}

/** What lies on the left of the line from one point to the other is squashed or petal-folded, seen from a side. */
function spread(before: Folding, from: Flat, to: Flat, side: 1 | -1, way: 'squash' | 'petal'): FoldPlan {
  const plans = spreadOf(before, from, to, side, way);
  if ('refused' in plans) throw new Error(words.foldTrouble(plans.refused));
  const plan = plans.find((one) => canLie(before.lesson, before, one, () => false));
  expect(plan).toBeDefined();
  return plan!;
}

describe('the corner of a square folded in half, squashed onto random lines', () => {
  for (let seed = 1; seed <= 6; seed++)
    it(`seed ${seed}: stiffly, with the edge on the line`, () => {
      const random = seededRandom(seed * 211);
      const still = [0.05, 0.05] as const;
      const side = seed % 2 ? 1 : -1;
      const half = foldAll(foldedAll(foldAll(square, still), [1, 0.5], [0, 0.5], 1), still);
      const at: Flat = [0.35 + 0.45 * random(), 0.5];
      const slope = 0.25 + 2 * random();
      const way: Flat = [Math.cos(slope), -Math.sin(slope)];
      const to: Flat = [at[0] + 0.4 * way[0], at[1] + 0.4 * way[1]];
      const plan = spread(half, at, to, side, 'squash');
      const after = foldAll(folded(half, plan), still);
      expect(after.outcomes).toEqual(['rigid', 'rigid']);
      expect(after.troubles).toEqual([]);
      expect(checkSheet(after.sheet)).toEqual([]);
      for (let k = 0; k < 10; k++) {
        const d = (1 - at[0]) * random();
        const [x, y, z] = placeOf(after, at[0] + d, 0.5);
        expect(x).toBeCloseTo(at[0] + d * way[0], 5);
        expect(y).toBeCloseTo(at[1] + d * way[1], 5);
        expect(z).toBeCloseTo(0, 5);
      }
    });
});

describe('the top flap of a square folded to a quarter', () => {
  const still = [0.25, 0.1] as const;
  const quarter = () => {
    const half = foldAll(foldedAll(foldAll(square, still), [0, 0.5], [1, 0.5], 1), still);
    return foldAll(foldedAll(half, [0.5, 0.5], [0.5, 0], 1), still);
  };

  it.each([
    ['over the edge that it hangs on, which unfolds', 0.5, 2],
    ['over a line inside it', 0.25, 1],
  ])('is squashed %s, with no paper in the way', (_, x, unfolded) => {
    const before = quarter();
    const plan = spread(before, [x, 0], [0.5, 0.5], 1, 'squash');
    expect(plan.changed.filter(({ angle }) => angle === 0).length).toBe(unfolded);
    const after = foldAll(folded(before, plan), still);
    expect(after.outcomes).toEqual(['rigid', 'rigid', 'rigid']);
    expect(after.troubles).toEqual([]);
    expect(checkSheet(after.sheet)).toEqual([]);
  });
});

describe('from a square to the base with four points', () => {
  it('two squashes and two petal folds, all stiff, in eight layers', () => {
    const still = [0.4, 0.8] as const;
    const middle: Flat = [0.5, 0.5];
    let pose = foldAll(foldedAll(foldAll(square, still), [0, 0], [1, 1], 1), still);
    pose = foldAll(foldedAll(pose, middle, [0, 1], 1), still);
    for (const side of [1, -1] as const)
      pose = foldAll(folded(pose, spread(pose, [0, 1], middle, side, 'squash')), still);
    // now a smaller square, closed at the middle, all corners of the sheet at (0, 1)
    for (const [x, y] of [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ] as const) {
      const [px, py] = placeOf(pose, x, y);
      expect(Math.hypot(px, py - 1)).toBeLessThan(1e-6);
    }
    const cut = 0.5 * Math.tan(Math.PI / 8);
    const [left, right]: [Flat, Flat] = [
      [cut, 0.5],
      [0.5, 1 - cut],
    ];
    const plan = spread(pose, left, right, 1, 'petal');
    const once = foldAll(folded(pose, plan), still);
    const twice = foldAll(folded(once, spread(once, left, right, -1, 'petal')), still);
    expect(twice.outcomes).toEqual(Array.from({ length: 6 }, () => 'rigid'));
    expect(twice.troubles).toEqual([]);
    expect(checkSheet(twice.sheet)).toEqual([]);
    // two corners stay, two are mirrored in the line
    const ends = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ].map(([x, y]) => placeOf(twice, x!, y!));
    const far = ends.filter(([x, y]) => Math.hypot(x - Math.SQRT1_2, y - 1 + Math.SQRT1_2) < 1e-6);
    const stay = ends.filter(([x, y]) => Math.hypot(x, y - 1) < 1e-6);
    expect([far.length, stay.length]).toEqual([2, 2]);
  });
});

describe('what cannot be squashed or petal-folded', () => {
  const still = [0.05, 0.05] as const;
  const half = () => foldAll(foldedAll(foldAll(square, still), [1, 0.5], [0, 0.5], 1), still);

  it('a line that starts at no folded edge, or reaches no second one', () => {
    const squash = spreadOf(half(), [0.5, 0.2], [0.7, 0.1], 1, 'squash');
    expect('refused' in squash && words.foldTrouble(squash.refused)).toMatch(
      /starts at a point of that edge/,
    );
    const petal = spreadOf(half(), [0.6, 0.5], [0.8, 0], 1, 'petal');
    expect('refused' in petal && words.foldTrouble(petal.refused)).toMatch(/either side/);
  });

  it('a layer that goes on past the edge', () => {
    // the top flap of a sheet folded in three narrow strips ends at an edge; two layers below go on
    const once = foldAll(foldedAll(foldAll(square, still), [1, 0.6], [0, 0.6], 1), still);
    const plans = spreadFolds({
      ...{ ...once, ...lineOn(once, [0.6, 0.6], [0.8, 0.3], 1) },
      ...{ panels: Array.from(once.sheet.panelRings.keys()), way: 'squash' },
    });
    expect('refused' in plans && words.foldTrouble(plans.refused)).toMatch(/two halves/);
  });
});
