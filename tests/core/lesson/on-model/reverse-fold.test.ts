/**
 * Reverse folds. The tip ends where a straight fold of all its layers would put it; what tells the two apart are the
 * kinds. They are checked against the single-vertex rules (Kawasaki and Justin; Maekawa and Justin; Hull 2003, as in
 * sheet/flat-vertex.ts), and the layers by the solver.
 */

import { describe, expect, it } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import type { FoldPlan, Refusal } from '../../../../src/core/lesson/on-model/folded.ts';
import { canLie } from '../../../../src/core/lesson/on-model/lies.ts';
import { reverseFolds } from '../../../../src/core/lesson/on-model/reverse-fold.ts';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { checkSheet } from '../../../../src/core/sheet/check.ts';
import { words } from '../../../../src/words/words.ts';
import { type Folding, foldAll, folded, lineOn, placeOf, planned } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

type Flat = readonly [number, number];
const allPanels = ({ sheet }: Folding) => Array.from(sheet.panelRings.keys());
const never = () => false;

function foldedAll(before: Folding, from: Flat, to: Flat, toward: 1 | -1) {
  const fold = { ...before, ...lineOn(before, from, to, toward), panels: allPanels(before), whole: false };
  return folded(before, planned(foldAcross(fold)));
}

function reversed(before: Folding, from: Flat, to: Flat, way: 'inside' | 'outside') {
  return reverseFolds({ ...before, ...lineOn(before, from, to, 1), panels: allPanels(before), way });
}

function firstThatLies(before: Folding, plans: readonly FoldPlan[] | Refusal): FoldPlan | undefined {
  if ('refused' in plans) throw new Error(words.foldTrouble(plans.refused));
  return plans.find((plan) => canLie(before.lesson, before, plan, never));
}

/** Points of the sheet before and after: mirrored beyond the line, where they were elsewhere. */
function expectMirror(before: Folding, after: Folding, from: Flat, to: Flat, points: readonly Flat[]) {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [nx, ny] = [(from[1] - to[1]) / length, (to[0] - from[0]) / length];
  let moved = 0;
  for (const [x, y] of points) {
    const [px, py] = placeOf(before, x, y);
    const off = (px - from[0]) * nx + (py - from[1]) * ny;
    if (off > 0) moved++;
    const [qx, qy, qz] = placeOf(after, x, y);
    expect(qx).toBeCloseTo(off > 0 ? px - 2 * off * nx : px, 5);
    expect(qy).toBeCloseTo(off > 0 ? py - 2 * off * ny : py, 5);
    expect(qz).toBeCloseTo(0, 5);
  }
  expect(moved).toBeGreaterThan(0);
}

describe('a corner of a square folded in half, reversed over random lines', () => {
  for (let seed = 1; seed <= 8; seed++)
    it(`seed ${seed}: the inside reverse fold opens the flap and folds stiffly; it ends as a mirror`, () => {
      const random = seededRandom(seed * 317);
      const still = [0.05, 0.05] as const;
      const start = foldAll(square, still);
      const half = foldAll(foldedAll(start, [1, 0.5], [0, 0.5], seed % 2 ? 1 : -1), still);
      const [from, to]: [Flat, Flat] = [
        [1.2, 0.45 - 0.4 * random()],
        [0.3 + 0.5 * random(), 0.5],
      ];
      // the corner at (1, 0.5) lies on the right of the line from its edge: on the left of this one
      const plan = firstThatLies(half, reversed(half, to, from, 'inside'));
      expect(plan).toBeDefined();
      // both new creases turn as the edge did, and the edge beyond turns over
      const edge = plan!.closed[0]!.angle;
      expect(plan!.creases.map(({ angle }) => Math.sign(angle))).toEqual([Math.sign(edge), Math.sign(edge)]);
      expect(plan!.changed.map(({ angle }) => angle)).toEqual([-edge]);
      const after = foldAll(folded(half, plan!), still);
      expect(after.outcomes).toEqual(['rigid', 'rigid']);
      expect(after.troubles).toEqual([]);
      expect(checkSheet(after.sheet)).toEqual([]);
      const points = Array.from({ length: 80 }, (): Flat => [random(), random()]);
      expectMirror(half, after, to, from, points);
      // outside, the end would have to go through the paper that it starts from
      const outside = reversed(half, to, from, 'outside');
      expect('refused' in outside).toBe(false);
      expect(firstThatLies(half, outside)).toBeUndefined();
    });
});

describe('flaps of more layers', () => {
  const still = [0.3, 0.31] as const;
  /** A kite folded in half along its middle: four layers at its point, all of one edge. */
  const kite = () => {
    const t = Math.tan(Math.PI / 8);
    let lesson = foldedAll(foldAll(square, still), [1, t], [0, 0], 1);
    lesson = foldedAll(foldAll(lesson, still), [0, 0], [t, 1], 1);
    return foldAll(foldedAll(foldAll(lesson, still), [1, 1], [0, 0], -1), still);
  };
  const [from, to]: [Flat, Flat] = [
    [0.25, 0.1],
    [0.1, 0.25],
  ];

  for (const way of ['inside', 'outside'] as const)
    it(`the point of a kite: ${way}, two layers to either side, stiffly`, () => {
      const before = kite();
      const plan = firstThatLies(before, reversed(before, from, to, way));
      expect(plan?.apart.length).toBe(2);
      expect(plan?.creases.length).toBe(4);
      const after = foldAll(folded(before, plan!), still);
      expect(after.outcomes).toEqual(['rigid', 'rigid', 'rigid', 'rigid']);
      expect(after.troubles).toEqual([]);
      expect(checkSheet(after.sheet)).toEqual([]);
      const random = seededRandom(5);
      const points = Array.from({ length: 200 }, (): Flat => [random(), random()]);
      expectMirror(before, after, from, to, points);
    });

  it('a corner of four layers that is closed on one side parts along that edge', () => {
    const still = [0.1, 0.1] as const;
    const half = foldAll(foldedAll(foldAll(square, still), [0.5, 1], [0.5, 0], -1), still);
    const quarter = foldAll(foldedAll(half, [0, 0.5], [1, 0.5], 1), still);
    const plan = firstThatLies(quarter, reversed(quarter, [0.3, 0.5], [0.5, 0.3], 'inside'));
    expect(plan?.closed.length).toBe(2);
    const after = foldAll(folded(quarter, plan!), still);
    expect(after.outcomes).toEqual(['rigid', 'rigid', 'rigid']);
    expect(after.troubles).toEqual([]);
  });
});

describe('what cannot be reversed', () => {
  const still = [0.05, 0.05] as const;

  it('a single layer, and a line that meets no folded edge', () => {
    const flat = foldAll(square, still);
    const plain = reversed(flat, [0.5, 0], [0.7, 1], 'inside');
    expect('refused' in plain && words.foldTrouble(plain.refused)).toMatch(/folded edge/);
    const half = foldAll(foldedAll(flat, [1, 0.5], [0, 0.5], 1), still);
    const across = reversed(half, [0.6, 0], [1, 0.3], 'inside');
    expect('refused' in across && words.foldTrouble(across.refused)).toMatch(/folded edge/);
  });

  it('a flap tied down where stiff paper cannot open it: the state is there, the motion is not made up', () => {
    const still = [0.2, 0.1] as const;
    const diagonal = foldAll(foldedAll(foldAll(square, still), [0, 0], [1, 1], 1), still);
    const twice = foldAll(foldedAll(diagonal, [1, 0], [0.5, 0.5], 1), still);
    const top = [...twice.stacks.over[0]!].sort((a, b) => b.length - a.length)[0]!.at(-1)!;
    const plans = reverseFolds({
      ...twice,
      ...lineOn(twice, [0.3, 0], [0.1, 0.5], 1),
      panels: [top],
      way: 'inside',
    });
    const plan = firstThatLies(twice, plans)!;
    expect(plan.panels.length).toBe(2);
    const after = foldAll(folded(twice, plan), still);
    expect(after.outcomes).toEqual(['rigid', 'rigid', 'fails']);
  });
});
