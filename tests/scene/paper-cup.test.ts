/**
 * A paper cup (traditional), folded on the model: its front flap comes down over both corners and is drawn in front of
 * them, all the way. The point where a corner lands is r = sqrt(2) - 1 along the edge, since 1 - r = r sqrt(2).
 */
import { describe, expect, it } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { foldAcross } from '../../src/core/lesson/on-model/fold-across.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { rasterise } from '../oracles/raster.ts';
import { drawnLesson, sevenViews, wrongPixels } from '../support/drawn-as-ordered.ts';
import { foldAll, folded, lineOn, planned } from '../support/on-model.ts';
import { square } from '../support/square.ts';

type Flat = readonly [number, number];

const r = Math.SQRT2 - 1;
const still = [0.3, 0.3] as const;
/** The corner that is folded over first: the front flap is its tip. */
const tip = [0.98, 0.98] as const;

/** One fold more: what lies left of the line moves, toward the eye (1) or away (-1). */
function fold(lesson: Lesson, title: string, from: Flat, to: Flat, toward: 1 | -1, only?: Flat): Lesson {
  const pose = foldAll(lesson, still);
  const all = Array.from(pose.sheet.panelRings.keys());
  const panels = only ? [panelContaining(pose.sheet, ...only)] : all;
  const line = lineOn(pose, from, to, toward);
  return folded(pose, planned(foldAcross({ ...pose, ...line, panels, whole: !only })), title);
}

function cup(): Lesson {
  const triangle = fold(square, 'Corner to corner', [0, 1], [1, 0], 1);
  const right = fold(triangle, 'Right corner over', [0.5, r / 2], [r, 0], 1);
  const left = fold(right, 'Left corner over', [0, r], [r / 2, 0.5], 1);
  const front = fold(left, 'Front flap down', [r, 0], [0, r], 1, tip);
  return fold(front, 'Back flap down', [r, 0], [0, r], -1, [0.02, 0.02]);
}

describe('a paper cup', () => {
  const lesson = cup();
  const drawn = drawnLesson({ ...lesson, still: [...still] });
  const { sheet } = drawn.run.plan;

  it('folds rigidly in five steps, nothing in the way', () => {
    expect(lesson.steps.length).toBe(5);
    expect(drawn.run.steps.map(({ verdict }) => [verdict.moves, verdict.layers, verdict.contact])).toEqual(
      Array.from({ length: 5 }, () => ['yes', 'yes', 'yes']),
    );
  });

  it('shows its front flap before both corners at its end, seen from the front', () => {
    const { triangles } = drawn.drawnAt(4, 1);
    const flap = panelContaining(sheet, ...tip);
    const seen = rasterise(triangles, [0, 0, -1], 200).filter((hits) => hits.length > 0);
    const covered = seen.filter((hits) => hits.some(({ id }) => id === flap));
    expect(covered.length).toBeGreaterThan(500);
    expect(covered.every(([first]) => first!.id === flap)).toBe(true);
    // and it does lie over the corners
    expect(covered.some((hits) => hits.length > 3)).toBe(true);
  });

  it.each([0, 1, 2, 3, 4])('is drawn as ordered throughout step %i (counted from 0), in 7 views', (step) => {
    const order = drawn.run.steps.at(step)!.look!.order;
    let wrong = 0;
    for (let k = 1; k <= 12; k++) {
      const moment = drawn.drawnAt(step, k / 12);
      for (const view of sevenViews) wrong += wrongPixels(drawn, moment, order, view, 120).length;
    }
    expect(wrong).toBe(0);
  });
});
