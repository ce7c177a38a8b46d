/** Strokes of a section: rounded where paper folds, alike on both sides of a fold. */

import { describe, expect, it } from 'vitest';
import type { Section } from '../../../src/core/layer/section.ts';
import { type PathPiece, sectionPaths } from '../../../src/core/layer/section-path.ts';
import type { Point } from '../../../src/core/numeric/vector.ts';

const gap = 0.1;

/** Cuts one after the other, each with the layers it is set off by. */
function drawn(cuts: readonly (readonly [Point, Point, number])[]) {
  const section = {
    cuts: cuts.map(([from, to, rise], panel) => ({ panel, from, to, rise })),
    joins: cuts.slice(1).map((_, k) => ({ before: k, after: k + 1, crease: 7 + k })),
  } as unknown as Section;
  return sectionPaths(section, gap);
}

function bendOf(path: readonly PathPiece[]) {
  const bend = path.find(({ kind }) => kind === 'bend');
  if (bend?.kind !== 'bend') throw new Error('no bend');
  return bend;
}

const close = (one: Point, [x, y]: Point) => {
  expect(one[0]).toBeCloseTo(x, 12);
  expect(one[1]).toBeCloseTo(y, 12);
};

describe('one fold', () => {
  it('flat: half a circle from layer to layer, whose handles are four thirds of its radius (from memory)', () => {
    const [path, ...more] = drawn([
      [[0, 0], [1, 0], 0],
      [[1, 0], [0, 0], 1],
    ]);
    expect(more).toEqual([]);
    expect(path!.map(({ kind }) => kind)).toEqual(['line', 'bend', 'line']);
    const { from, fromHandle, toHandle, to, crease } = bendOf(path!);
    expect(crease).toBe(7);
    close(from, [1, 0]);
    close(to, [1, gap]);
    close(fromHandle, [1 + (4 / 3) * (gap / 2), 0]);
    close(toHandle, [1 + (4 / 3) * (gap / 2), gap]);
  });

  it('at a right angle: alike on both sides, and within the corner', () => {
    const { from, fromHandle, toHandle, to } = bendOf(
      drawn([
        [[0, 0], [1, 0], 0],
        [[1, 0], [1, 1], 0],
      ])[0]!,
    );
    // the mirror line of the corner swaps x - 1 with -y
    close(to, [1 - from[1], 1 - from[0]]);
    close(toHandle, [1 - fromHandle[1], 1 - fromHandle[0]]);
    expect([from[1], fromHandle[1]]).toEqual([0, 0]);
    expect(from[0]).toBeLessThan(1);
    expect(fromHandle[0]).toBeGreaterThan(from[0]);
    expect(fromHandle[0]).toBeLessThan(1);
  });

  it('straight on to another layer: half a turn about the middle carries it into itself', () => {
    const { from, fromHandle, toHandle, to } = bendOf(
      drawn([
        [[0, 0], [1, 0], 0],
        [[1, 0], [2, 0], 1],
      ])[0]!,
    );
    close(to, [2 - from[0], -gap - from[1]]);
    close(toHandle, [2 - fromHandle[0], -gap - fromHandle[1]]);
    expect(from[0]).toBeLessThan(1);
    expect(fromHandle[0]).toBeGreaterThan(from[0]);
    expect(fromHandle[0]).toBeLessThanOrEqual(to[0]);
  });
});

it('paper that hangs together is one path from raw edge to raw edge, and a ring is one too', () => {
  const corners: readonly Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  const cuts = corners.map((from, panel) => ({ panel, from, to: corners[(panel + 1) % 4]!, rise: 0 }));
  const join = (before: number, after: number) => ({ before, after, crease: before });
  const linesOf = (joins: readonly ReturnType<typeof join>[]) =>
    sectionPaths({ cuts, joins } as unknown as Section, gap).map((path) =>
      path.flatMap((piece) => (piece.kind === 'line' ? [piece.cut] : [])),
    );
  expect(linesOf([])).toEqual([[0], [1], [2], [3]]);
  expect(linesOf([join(2, 3), join(0, 1), join(1, 2)])).toEqual([[0, 1, 2, 3]]);
  expect(linesOf([join(3, 0), join(1, 2)])).toEqual([
    [1, 2],
    [3, 0],
  ]);
  expect(linesOf([join(0, 1), join(1, 2), join(2, 3), join(3, 0)])).toEqual([[0, 1, 2, 3]]);
});
