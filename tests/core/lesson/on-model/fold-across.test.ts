/** Folds made on the folded model: paper on the moving side ends as its mirror image in the line, layer upon layer. */

import { describe, expect, it } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import { canLie } from '../../../../src/core/lesson/on-model/lies.ts';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { panelContaining } from '../../../../src/core/sheet/walk.ts';
import { words } from '../../../../src/words/words.ts';
import { foldAll, folded, lineOn, placeOf, planned } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

const still = [0.02, 0.03] as const;

describe('all layers folded across random lines', () => {
  for (let seed = 1; seed <= 10; seed++)
    it(`seed ${seed}: three folds, each a mirror`, () => {
      const random = seededRandom(seed * 101);
      let lesson = square;
      let cut = [1.1, 1.1];
      const points = Array.from({ length: 60 }, () => [random(), random()] as const);
      for (let fold = 0; fold < 3; fold++) {
        const before = foldAll(lesson, still);
        expect(before.stacks.planes.groups.length).toBe(1);
        // a line that leaves the still corner on its right
        cut = cut.map((one) => one * (0.55 + 0.3 * random()));
        const toward = random() < 0.5 ? 1 : -1;
        const [a, b] = [[0, cut[1]!] as const, [cut[0]!, 0] as const];
        const panels = Array.from(before.sheet.panelRings.keys());
        const plan = planned(
          foldAcross({ ...before, ...lineOn(before, a, b, toward), panels, whole: false }),
        );
        expect(canLie(lesson, before, plan, () => false)).toBe(true);
        lesson = folded(before, plan);
        const after = foldAll(lesson, still);
        expect(after.outcomes).toEqual(Array.from({ length: fold + 1 }, () => 'rigid'));
        expect(after.troubles).toEqual([]);
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const [nx, ny] = [(a[1] - b[1]) / length, (b[0] - a[0]) / length];
        for (const [x, y] of points) {
          const [px, py] = placeOf(before, x, y);
          const off = (px - a[0]) * nx + (py - a[1]) * ny;
          const [qx, qy, qz] = placeOf(after, x, y);
          expect(qx).toBeCloseTo(off > 0 ? px - 2 * off * nx : px, 6);
          expect(qy).toBeCloseTo(off > 0 ? py - 2 * off * ny : py, 6);
          expect(qz).toBeCloseTo(0, 6);
        }
      }
    });
});

describe('some layers only', () => {
  const half = folded(foldAll(square, still), {
    ...{ creases: [{ from: [0, 0.5], to: [1, 0.5], angle: Math.PI }], changed: [], closed: [], through: [] },
    ...{ panels: [0], region: [], apart: [] },
  });

  it('one flap of a square folded in half is folded without the other; what hangs on it is named', () => {
    const pose = foldAll(half, still);
    const panels = [panelContaining(pose.sheet, 0.5, 0.9)];
    const [a, b] = [[0, 0.2] as const, [1, 0.2] as const];
    // the raw edge of the upper flap lies at y = 0: fold back what is below y = 0.2
    const flap = foldAcross({ ...pose, ...lineOn(pose, b, a, 1), panels, whole: false });
    expect(planned(flap).creases.length).toBe(1);
    expect(canLie(half, pose, planned(flap), () => false)).toBe(true);
    // the other side holds the folded edge, where both layers hang together
    const edge = foldAcross({ ...pose, ...lineOn(pose, a, b, 1), panels, whole: false });
    expect('refused' in edge && words.foldTrouble(edge.refused)).toMatch(/hangs together/);
    const both = foldAcross({ ...pose, ...lineOn(pose, a, b, 1), panels, whole: true });
    expect(planned(both).creases.length).toBe(2);
  });

  it('a line that was creased and unfolded before is folded, whatever its kind was', () => {
    const marked = {
      ...half,
      pattern: {
        ...half.pattern,
        lines: [...half.pattern.lines, { from: [0, 0.8], to: [1, 0.8], kind: 'flat' } as const],
      },
    };
    const pose = foldAll(marked, still);
    const panels = [panelContaining(pose.sheet, 0.5, 0.9)];
    const plan = planned(
      foldAcross({ ...pose, ...lineOn(pose, [1, 0.2], [0, 0.2], 1), panels, whole: true }),
    );
    expect(plan.creases).toEqual([]);
    expect(plan.changed.length).toBe(1);
    const after = foldAll(folded(pose, plan), still);
    expect(after.outcomes).toEqual(['rigid', 'rigid']);
    expect(placeOf(after, 0.5, 1)[1]).toBeCloseTo(0.4, 6);
  });
});
