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
  const { ROUNDING, CLOSED, SNAP, ARRIVED, MISS, TURNED, COPLANAR, TOUCH, UNSEEN, TIGHT, STRAIGHT } =
    tolerance;
  const { TRACK_STEP, JUMP } = tolerance;
  for (const row of [
    [0, ROUNDING, CLOSED, SNAP, MISS],
    [ARRIVED, TURNED, MISS, TRACK_STEP, JUMP],
    [CLOSED, COPLANAR, STRAIGHT, TOUCH, UNSEEN, TIGHT],
  ])
    for (const [k, size] of row.slice(1).entries()) expect(size).toBeGreaterThan(row[k]!);
});
