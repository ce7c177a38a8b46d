import { expect, test } from 'vitest';
import { equalParts, gridOf, parallelsAt, repeated, symmetriesOf } from '../../../src/core/draw/construct.ts';
import { acrossPaper, forLength, toNextCrease, withinPaper } from '../../../src/core/draw/extent.ts';
import { lineThrough } from '../../../src/core/draw/line.ts';
import { outlineTrouble, paperSizes, rectangle, rootTwo, square } from '../../../src/core/draw/outline.ts';
import { snapAngle, snapsOf } from '../../../src/core/draw/snap.ts';
import type { Point } from '../../../src/core/numeric/vector.ts';
import { words } from '../../../src/words/words.ts';

const sheet = { outline: square(150), lines: [] };

test('the sides of an angle are parted into equal angles (trigonometry)', () => {
  const lines = equalParts(lineThrough([0, 0], [1, 0])!, lineThrough([0, 0], [0, 1])!, 4, [50, 20]);
  const degrees = lines.map(({ x, y }) => (Math.atan2(x, -y) * 180) / Math.PI);
  for (const [k, expected] of [22.5, 45, 67.5].entries()) expect(degrees[k]).toBeCloseTo(expected, 11);
  expect(lines.every(({ d }) => Math.abs(d) < 1e-15)).toBe(true);
});

test('the room between parallels is parted evenly, whichever way their normals point', () => {
  const [a, b] = [lineThrough([0, 0], [1, 0])!, lineThrough([5, 150], [1, 150])!];
  expect(equalParts(a, b, 3, [0, 10]).map(({ d }) => d)).toEqual([50, 100]);
  expect(parallelsAt({ x: 1, y: 0, d: 10 }, 5).map(({ d }) => d)).toEqual([15, 5]);
});

test('a line ends where the paper ends, at corners to the last digit; along the edge there is none', () => {
  expect(acrossPaper(sheet, lineThrough([3, 3], [70, 70])!)).toEqual([{ from: [0, 0], to: [150, 150] }]);
  expect(acrossPaper(sheet, { x: 1, y: 0, d: 150 })).toEqual([]);
  const notched = {
    outline: [
      [0, 0],
      [30, 0],
      [30, 30],
      [20, 30],
      [20, 10],
      [10, 10],
      [10, 30],
      [0, 30],
    ] as Point[],
    lines: [],
  };
  expect(acrossPaper(notched, { x: 0, y: 1, d: 20 })).toEqual([
    { from: [0, 20], to: [10, 20] },
    { from: [20, 20], to: [30, 20] },
  ]);
  expect(acrossPaper(notched, { x: 0, y: 1, d: 10 })).toEqual([
    { from: [0, 10], to: [10, 10] },
    { from: [20, 10], to: [30, 10] },
  ]);
  expect(withinPaper(sheet, { from: [-20, 75], to: [40, 75] })).toEqual({ from: [0, 75], to: [40, 75] });
});

test('a crease runs to the next one on either side, or for a length', () => {
  const lines = [40, 100].map((x) => ({
    from: [x, 0] as const,
    to: [x, 150] as const,
    kind: 'valley' as const,
  }));
  const level = { x: 0, y: 1, d: 30 };
  expect(toNextCrease({ ...sheet, lines }, level, [60, 30])).toEqual({ from: [40, 30], to: [100, 30] });
  expect(toNextCrease({ ...sheet, lines }, level, [10, 30])).toEqual({ from: [0, 30], to: [40, 30] });
  expect(forLength(sheet, level, [40, 30], 25, [90, 30])).toEqual({ from: [40, 30], to: [65, 30] });
  expect(forLength(sheet, level, [140, 30], 25, [150, 30])).toEqual({ from: [140, 30], to: [150, 30] });
});

test('a square has eight symmetries, a rectangle four, one with an odd corner none (group theory)', () => {
  expect(symmetriesOf(sheet).length).toBe(7);
  expect(symmetriesOf({ outline: rectangle(210, 297) }).length).toBe(3);
  expect(
    symmetriesOf({
      outline: [
        [0, 0],
        [10, 0],
        [10, 7],
        [0, 9],
      ],
    }).length,
  ).toBe(0);
  const ends = repeated(sheet, [{ from: [0, 10] as Point, to: [20, 10] as Point }]).map(({ from }) => from);
  expect(new Set(ends.map((end) => end.join()))).toEqual(
    new Set(['140,0', '150,140', '10,150', '150,10', '0,140', '10,0', '140,150']),
  );
});

test('a grid of n has n - 1 lines each way', () => {
  expect(gridOf(sheet, 12).length).toBe(22);
  expect(gridOf({ outline: rectangle(210, 297) }, 2, 3).length).toBe(3);
});

test('paper sizes: ISO 216 halves the longer side and keeps 1 : root 2 within its rounding to mm', () => {
  expect(paperSizes.A4).toEqual([210, 297]);
  for (const [big, small] of [
    ['A3', 'A4'],
    ['A4', 'A5'],
    ['A5', 'A6'],
  ] as const) {
    expect(paperSizes[big][0]).toBe(paperSizes[small][1]);
    expect(Math.floor(paperSizes[big][1] / 2)).toBe(paperSizes[small][0]);
  }
  expect(rootTwo(297)[1]![0] * Math.SQRT2).toBeCloseTo(297, 10);
  expect(paperSizes.Letter).toEqual([(85 * 25.4) / 10, 11 * 25.4]);
});

/** What is said of corners that are no sheet. */
const saidOf = (corners: readonly Point[]) => {
  const trouble = outlineTrouble(corners);
  return trouble && words.outlineTrouble(trouble);
};

test('an outline that is no sheet is named in words', () => {
  expect(saidOf(square(10))).toBeNull();
  expect(
    saidOf([
      [0, 0],
      [10, 10],
      [10, 0],
      [0, 10],
    ]),
  ).toContain('cross');
  expect(
    saidOf([
      [0, 0],
      [1, 0],
    ]),
  ).toContain('three corners');
  expect(
    saidOf([
      [0, 0],
      [5, 0],
      [10, 0],
    ]),
  ).not.toBeNull();
});

test('a sheet that no lesson file can hold is not taken', () => {
  expect(saidOf(square(1))).toBeNull();
  expect(saidOf(square(100_000))).toBeNull();
  expect(saidOf(square(0.9))).toContain('0.9 mm');
  expect(saidOf(rectangle(100_001, 5))).toContain('100001 mm');
});

test('places are told apart: corners, crossings, middles, shares', () => {
  const lines = [
    { from: [0, 0] as const, to: [150, 150] as const, kind: 'flat' as const },
    { from: [0, 150] as const, to: [150, 0] as const, kind: 'flat' as const },
  ];
  const snaps = snapsOf({ ...sheet, lines }, 12);
  expect(snaps.near([1, 1], 3)).toMatchObject({ at: [0, 0], is: 'corner' });
  expect(snaps.near([76, 74], 3)).toMatchObject({ at: [75, 75], is: 'crossing' });
  expect(snaps.near([74, 1], 3)).toMatchObject({ at: [75, 0], is: 'middle-of-edge' });
  expect(snaps.near([50.5, 0], 3)).toMatchObject({ at: [50, 0], is: { share: [1, 3] } });
  expect(snaps.near([31, 30], 3)?.is).toBe('on-crease');
  expect(snaps.near([60, 20], 3)).toBeNull();
  expect(snapAngle([0, 0], [10, 10.1], 0.02)?.degrees).toBe(45);
  expect(snapAngle([0, 0], [10, 5.7], 0.02)).toBeNull();
});
