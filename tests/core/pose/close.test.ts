import { describe, expect, it } from 'vitest';
import { foldingCreases } from '../../../src/core/pose/moving.ts';
import { PoseSolver } from '../../../src/core/pose/solve.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { PatternMaker } from '../../support/patterns.ts';

/** A strip with one line along its middle, cut into pieces by lines square to it: a corner at each crossing. */
function crossed(corners: number): { sheet: Sheet; along: number[]; across: number[] } {
  const maker = new PatternMaker();
  const rows = [0, 1, 2].map((y) => Array.from({ length: corners + 2 }, (_, x) => maker.point(x, y)));
  const along: number[] = [];
  const across: number[] = [];
  for (let x = 0; x <= corners; x++) {
    maker.line(rows[0]![x]!, rows[0]![x + 1]!, 'edge');
    maker.line(rows[2]![x]!, rows[2]![x + 1]!, 'edge');
    along.push(maker.crease(rows[1]![x]!, rows[1]![x + 1]!, 180));
  }
  for (let x = 0; x <= corners + 1; x++)
    for (const y of [0, 1]) {
      const [from, to] = [rows[y]![x]!, rows[y + 1]![x]!];
      if (x === 0 || x === corners + 1) maker.line(from, to, 'edge');
      else across.push(maker.crease(from, to, 0));
    }
  return { sheet: maker.sheet(), along, across };
}

/** Every piece folded by 1 rad but the first, which is held at another angle; none of the others may come below 1. */
function closed(first: number) {
  const { sheet, along, across } = crossed(4);
  const solver = new PoseSolver(sheet, foldingCreases(sheet));
  const { creaseOf, size } = solver.system;
  const pose = new Float64Array(sheet.creaseKind.length);
  for (const crease of along) pose[crease] = crease === along[0] ? first : 1;
  const lower = new Float64Array(size).fill(-Math.PI);
  const upper = new Float64Array(size).fill(Math.PI);
  creaseOf.forEach((crease, u) => {
    if (crease === along[0]) lower[u] = upper[u] = first;
    else if (along.includes(crease)) lower[u] = 1;
  });
  return { left: solver.close(pose, { lower, upper }), along: along.map((e) => pose[e]!), across, pose };
}

// folded along the middle the strip folds nowhere else (geometry of a crossing), so all pieces have one angle
describe('closing a straight fold whose pieces stand at the end of their range', () => {
  it('where the first is folded on, all others follow, also those whose corners are closed before', () => {
    const { left, along, across, pose } = closed(1.3);
    expect(left).toBeLessThan(1e-14);
    for (const angle of along) expect(angle).toBeCloseTo(1.3, 12);
    for (const crease of across) expect(pose[crease]).toBeCloseTo(0, 12);
  });

  it('where it is folded back they may not follow: they stay, and it gapes by as much as it was folded', () => {
    const { left, along } = closed(0.7);
    expect(along).toEqual([0.7, 1, 1, 1, 1]);
    expect(left).toBeCloseTo(0.3, 9);
  });
});
