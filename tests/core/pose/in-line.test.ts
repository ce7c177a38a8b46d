/** Creases of a corner that lie in line, by hand. */
import { expect, test } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { inLine } from '../../../src/core/pose/in-line.ts';

test('opposite ways turn alike, the same way against each other, others not at all; whichever way they look', () => {
  const random = seededRandom(5);
  for (let round = 0; round < 50; round++) {
    const raw = [random() - 0.5, random() - 0.5, random() - 0.5];
    const axis = raw.map((one) => one / Math.hypot(...raw));
    const other = [axis[1]!, axis[2]!, axis[0]!];
    expect(inLine(axis, axis)).toBe(-1);
    expect(
      inLine(
        axis,
        axis.map((one) => -one),
      ),
    ).toBe(1);
    expect(inLine(axis, other)).toBe(0);
  }
  expect(inLine([1, 0, 0], [0, 1, 0])).toBe(0);
  expect(inLine([0, 1, 0], [0, 0, -1])).toBe(0);
  expect(inLine([0, 0, 1], [-1, 0, 0])).toBe(0);
});
