/**
 * Squares folded along random lines through all layers. By hand: after each fold the stack is the old one with the part
 * that moved turned over on top of it, or under it; there is nothing to choose. The stack is kept by elementary reflections
 * (tests/support/straight-folds.ts). CREASEWAY_SEED=n runs others, CREASEWAY_SOAK=1 all 500.
 */
import { describe, expect, test } from 'vitest';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { layersOfStep } from '../../../src/core/run/step-layers.ts';
import { insidePoint } from '../../../src/core/sheet/inside-point.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import type { Part } from '../../support/simple-folds.ts';
import { anglesAfter, evenMotion } from '../../support/stack-motions.ts';
import { lessonOfFolds, straightFolds } from '../../support/straight-folds.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const count = soak ? 500 : 60;
const inATest = 20;

/** Place in the stack, and whether it is turned over, of each panel of the sheet. */
function placesOf(sheet: Sheet, stack: readonly Part[]): { rank: number; over: boolean }[] {
  return sheet.panelRings.map((_, panel) => {
    const [x, y] = insidePoint(sheet, panel);
    const rank = stack.findIndex(({ flat }) => isIn(flat, x, y));
    return { rank, over: stack[rank]!.over };
  });
}

/** A point within a convex part, whichever way round that is listed. */
function isIn(flat: Part['flat'], x: number, y: number): boolean {
  const turns = flat.map(([ax, ay], k) => {
    const [bx, by] = flat[(k + 1) % flat.length]!;
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  });
  return turns.every((turn) => turn >= -1e-12) || turns.every((turn) => turn <= 1e-12);
}

function foldAndCompare(seed: number): number {
  const random = seededRandom(seed * 7919);
  const folds = straightFolds(random, 2 + (seed % 3));
  const sheet = sheetOfLesson(lessonOfFolds(folds)).sheet!;
  let angle: Float64Array = new Float64Array(sheet.creaseKind.length);
  let before: LayerOrder = [];
  let compared = 0;
  folds.forEach(({ creases, stack }, step) => {
    const what = `seed ${seed}, step ${step + 1}`;
    const end = anglesAfter(sheet, angle, creases);
    const motion = { step, title: '', stepKind: 'fold', sheet, sheetSize: 200, asked: [] } as const;
    const still = seed % sheet.panelRings.length;
    const layers = layersOfStep(
      { ...motion, still, before, poses: evenMotion(angle, end) },
      () => () => false,
    );
    expect(layers.findings, what).toEqual([]);
    expect([layers.answer, layers.states, layers.asks], what).toEqual(['yes', '1', false]);
    const places = placesOf(sheet, stack);
    for (const [f, g, side] of layers.order) {
      const inFront = places[f]!.rank > places[g]!.rank;
      expect(side, `${what}: panels ${f}, ${g}`).toBe(inFront !== places[g]!.over ? 1 : -1);
      compared++;
    }
    angle = end;
    before = layers.order;
  });
  return compared;
}

describe('the old stack with the moved part turned over on it', () => {
  for (let first = firstSeed; first < firstSeed + count; first += inATest)
    test(`${inATest} lessons from seed ${first}`, () => {
      let compared = 0;
      for (let seed = first; seed < first + inATest; seed++) compared += foldAndCompare(seed);
      expect(compared).toBeGreaterThan(10 * inATest);
    });
});
