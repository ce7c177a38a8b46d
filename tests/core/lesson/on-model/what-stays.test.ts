/** The half that is shaded is the half that moves, whichever panel was still before. */
import { expect, test } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import { withStaying } from '../../../../src/core/lesson/on-model/what-stays.ts';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { panelContaining } from '../../../../src/core/sheet/walk.ts';
import { foldAll, folded, lineOn, placeOf, planned } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

test.each([1, 2, 3, 4, 5, 6])('seed %i: two folds, either side of a random line', (seed) => {
  const random = seededRandom(seed * 77);
  let lesson = square;
  let still: readonly [number, number] = [random(), random()];
  for (let fold = 0; fold < 2; fold++) {
    const before = foldAll(lesson, still);
    const [a, b] = [[0.3 + 0.2 * random(), -1] as const, [0.3 + 0.2 * random(), 2] as const];
    const [from, to] = random() < 0.5 ? [a, b] : [b, a];
    const panels = [...before.sheet.panelRings.keys()];
    const folding = foldAcross({ ...before, ...lineOn(before, from, to, 1), panels, whole: false });
    // a line beside all paper folds nothing
    if ('refused' in folding) continue;
    const plan = planned(folding);
    const own = panelContaining(before.sheet, ...still);
    lesson = withStaying(folded(before, plan), { paper: before, plan, still: own });
    const seen = foldAll({ ...lesson, steps: lesson.steps.slice(0, -1) }, lesson.still!);
    const after = foldAll(lesson, lesson.still!);
    const way = [to[0] - from[0], to[1] - from[1]] as const;
    for (let k = 0; k < 40; k++) {
      const [x, y] = [random(), random()];
      const [px, py] = placeOf(before, x, y);
      const side = way[0] * (py - from[1]) - way[1] * (px - from[0]);
      const [here, there] = [placeOf(seen, x, y), placeOf(after, x, y)];
      const moved = Math.hypot(...here.map((one, i) => one - there[i]!));
      if (Math.abs(side) < 0.02) continue;
      expect(moved > 1e-6).toBe(side > 0);
    }
    still = lesson.still!;
  }
});
