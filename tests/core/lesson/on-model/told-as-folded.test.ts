/**
 * What a proposed sentence says of a fold is held against the poses: the side named is where paper moves, and as many layers
 * are named as move. Judged by where 400 random points of the sheet lie before and after.
 */
import { expect, test } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import { withStaying } from '../../../../src/core/lesson/on-model/what-stays.ts';
import { proposedSentence } from '../../../../src/core/lesson/sentences.ts';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { placePanels } from '../../../../src/core/pose/place.ts';
import { panelContaining } from '../../../../src/core/sheet/walk.ts';
import { foldAll, folded, lineOn, placeOf, planned } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

const SEEDS = 70;

test(`${SEEDS} random models, three folds each: sentence and poses agree`, () => {
  let told = 0;
  for (let seed = 1; seed <= SEEDS; seed++) {
    const random = seededRandom(seed * 313);
    let lesson = square;
    let still: readonly [number, number] = [0.02, 0.03];
    for (let fold = 0; fold < 3; fold++) {
      const before = foldAll(lesson, still);
      const [u, v] = [0.25 + 0.5 * random(), 0.25 + 0.5 * random()];
      const upright = random() < 0.5;
      const ends = upright
        ? ([
            [u, -2],
            [u + 0.02, 3],
          ] as const)
        : ([
            [-2, v],
            [3, v + 0.02],
          ] as const);
      const [from, to] = random() < 0.5 ? ends : ([ends[1], ends[0]] as const);
      const toward = random() < 0.5 ? 1 : -1;
      const panels = [...before.sheet.panelRings.keys()];
      const folding = foldAcross({ ...before, ...lineOn(before, from, to, toward), panels, whole: false });
      if ('refused' in folding) break;
      const plan = planned(folding);
      const own = panelContaining(before.sheet, ...still);
      lesson = withStaying(folded(before, plan), { paper: before, plan, still: own });
      still = lesson.still!;
      const start = foldAll({ ...lesson, steps: lesson.steps.slice(0, -1) }, still);
      const after = foldAll(lesson, still);
      const { sheet } = after;
      const [a, b] = [start.angle, after.angle];
      const move = {
        ...{ step: lesson.steps.at(-1)!, sheet, end: b },
        turned: [...a.keys()].filter((e) => Math.abs(a[e]! - b[e]!) > 0.009),
        before: placePanels(sheet, a, panelContaining(sheet, ...still)),
        after: placePanels(sheet, b, panelContaining(sheet, ...still)),
      };
      const sentence = proposedSentence(move);
      const points = Array.from({ length: 400 }, () => {
        const [x, y] = [random(), random()];
        const [p, q] = [placeOf(start, x, y), placeOf(after, x, y)];
        return { at: p, moved: Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) > 1e-6 };
      });
      const middle = (list: typeof points, k: 0 | 1) => {
        const all = list.map(({ at }) => at[k]);
        return (Math.min(...all) + Math.max(...all)) / 2;
      };
      const moved = points.filter((one) => one.moved);
      if (moved.length < 20 || moved.length > 380) continue;
      const off = [middle(moved, 0) - middle(points, 0), middle(moved, 1) - middle(points, 1)] as const;
      const say = `seed ${seed}, fold ${fold + 1}: ${sentence}`;
      if (/left/.test(sentence)) expect(off[0], say).toBeLessThan(0);
      if (/right/.test(sentence)) expect(off[0], say).toBeGreaterThan(0);
      if (/bottom/.test(sentence)) expect(off[1], say).toBeLessThan(0);
      if (/top/.test(sentence)) expect(off[1], say).toBeGreaterThan(0);
      // how many layers move at one place: points of the folded sheet that come to lie there
      const stacks = moved.slice(0, 60).map(({ at: [x, y] }) => {
        const here = panels.length === 1 ? 1 : layersAt(start, x, y);
        return here;
      });
      const deepest = Math.max(...stacks);
      expect(/all layers together/.test(sentence), say).toBe(deepest > 1);
      expect(sentence, say).not.toMatch(/layers? of/);
      told++;
    }
  }
  expect(told).toBeGreaterThan(120);
});

/** Layers at a place of a model that lies flat, by the panels whose placed outline goes round it. */
function layersAt(model: ReturnType<typeof foldAll>, x: number, y: number): number {
  const { sheet } = model;
  const grid = 41;
  const panels = new Set<number>();
  for (let i = 0; i < grid; i++)
    for (let j = 0; j < grid; j++) {
      const [u, v] = [(i + 0.5) / grid, (j + 0.5) / grid];
      const [px, py] = placeOf(model, u, v);
      if (Math.hypot(px - x, py - y) < 0.5 / grid) panels.add(panelContaining(sheet, u, v));
    }
  return panels.size;
}
