/** Tolerances that README and DEVELOPERS state in words, held against those words; and the order they stand in. */
import { expect, test } from 'vitest';
import * as tolerance from '../../../src/core/numeric/tolerance.ts';

const degrees = (radians: number) => (radians * 180) / Math.PI;
const mmOn200 = (units: number) => 200 * units;

test('angles as stated', () => {
  expect(degrees(tolerance.ARRIVED)).toBeCloseTo(0.01, 12);
  expect(degrees(tolerance.MISS)).toBeCloseTo(1, 12);
  expect(degrees(tolerance.TRACK_STEP)).toBeCloseTo(4, 12);
  expect(degrees(tolerance.JUMP)).toBeCloseTo(12, 12);
  expect(degrees(tolerance.PRESSED)).toBeCloseTo(10, 12);
  expect(degrees(tolerance.TURNED)).toBeCloseTo(0.1, 2);
});

test('lengths as stated, on a sheet of 200 mm', () => {
  expect(mmOn200(tolerance.SNAP)).toBeCloseTo(0.02, 12);
  expect(mmOn200(tolerance.TOUCH)).toBeCloseTo(0.004, 12);
  expect(mmOn200(tolerance.UNSEEN)).toBeCloseTo(0.02, 12);
  expect(mmOn200(tolerance.TIGHT)).toBeCloseTo(0.1, 12);
});

test('each has its place among the others', () => {
  const t = tolerance;
  for (const row of [
    [0, t.ROUNDING, t.CLOSED, t.SNAP, t.MISS],
    [
      t.CLOSED,
      t.FOLDED_FLAT,
      t.ARRIVED,
      t.STIRRED,
      t.TURNED,
      t.MOVED,
      t.MISS,
      t.TRACK_STEP,
      t.PRESSED,
      t.JUMP,
    ],
    [t.CLOSED, t.COPLANAR, t.STRAIGHT, t.TOUCH, t.UNSEEN, t.TIGHT],
    [t.ROUNDING, t.STILL, t.COPLANAR, t.ON_LINE, t.TOUCH, t.UNSEEN, t.TIGHT, t.VISIBLE_GAP, t.SAME_PLANE],
    [t.SAME_PLANE, t.SCAR, t.OFF_PLANE],
    [t.NO_AREA, t.SLIVER],
    [t.NO_AREA, t.SAME_AREA],
    [t.SAME_POSE, t.ARRIVED],
    [t.SAME_MOMENT, t.NEXT_MOMENT],
  ])
    for (const [k, size] of row.slice(1).entries()) expect(size).toBeGreaterThan(row[k]!);
});

test('those that are told as multiples of others are', () => {
  const t = tolerance;
  expect(t.SNAP / t.ON_LINE).toBeCloseTo(100, 9);
  expect(t.ON_LINE / t.COPLANAR).toBeCloseTo(10, 9);
  expect(t.COPLANAR / t.STILL).toBeCloseTo(100, 9);
  expect(t.MARK / t.SNAP).toBeCloseTo(10, 9);
  expect(t.SCAR / t.MARK).toBeCloseTo(5, 9);
  expect(t.VISIBLE_GAP / t.TIGHT).toBeCloseTo(2, 9);
  expect(t.PARALLEL).toBeCloseTo(t.SAME_WAY ** 2, 20);
  expect([t.SAME_EDGE, t.SHORT, t.SHIFTED]).toEqual([t.SNAP, t.VISIBLE_GAP, t.TURNED]);
});
