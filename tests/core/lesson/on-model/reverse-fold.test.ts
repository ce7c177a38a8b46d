import { describe, expect, it } from 'vitest';
import { foldAcross } from '../../../../src/core/lesson/on-model/fold-across.ts';
import { canLie } from '../../../../src/core/lesson/on-model/lies.ts';
import { reverseFolds } from '../../../../src/core/lesson/on-model/reverse-fold.ts';
import { foldAll, folded, lineOn, planned, square } from '../../../support/on-model.ts';

const still = [0.2, 0.1] as const;
const all = (f: ReturnType<typeof foldAll>) => Array.from(f.sheet.panelRings.keys());

describe('x', () => {
  it('diag', () => {
    const start = foldAll(square, still);
    const diag = folded(
      start,
      planned(
        foldAcross({ ...start, ...lineOn(start, [0, 0], [1, 1], 1), panels: all(start), whole: false }),
      ),
    );
    const pose = foldAll(diag, still);
    for (const way of ['inside', 'outside'] as const) {
      const plans = reverseFolds({
        ...pose,
        ...lineOn(pose, [1, 0.6], [0.6, 1], -1),
        panels: all(pose),
        way,
      });
      if ('refused' in plans) throw new Error(plans.refused);
      console.log(way, JSON.stringify(plans, null, 0));
      console.log(canLie(diag, pose, plans[0]!, () => false));
      const after = foldAll(folded(pose, plans[0]!), still);
      console.log(after.outcomes, after.troubles);
    }
    expect(1).toBe(1);
  });
});
