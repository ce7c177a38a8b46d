/** Where the middle of a line lies, to a tenth of a pixel; by hand: a column of pixels x covers x to x + 1. */
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../../src/core/numeric/random.ts';
import { findLines, MOST_LINES } from '../../../../src/core/storage/picture/find-lines.ts';
import { inkOf } from '../../../../src/core/storage/picture/ink.ts';
import type { Raster } from '../../../../src/core/storage/picture/raster.ts';
import { ridgesOf, seenWidth } from '../../../../src/core/storage/picture/ridges.ts';

const SIZE = 160;

function picture(light: (x: number, y: number) => number): Raster {
  const data = new Uint8ClampedArray(4 * SIZE * SIZE).fill(255);
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) data.fill(light(x, y), 4 * (y * SIZE + x), 4 * (y * SIZE + x) + 3);
  return { width: SIZE, height: SIZE, data };
}

function linesIn(raster: Raster) {
  const ink = inkOf(raster);
  const ridges = ridgesOf(ink, 1.2);
  const lines = findLines(ridges, SIZE * Math.SQRT2, {
    width: seenWidth(ink, ridges),
    gap: 20,
    progress: () => {},
  });
  return { lines, ridges };
}

const isWithin = (at: number) => at >= 20 && at < 140;

describe('a line', () => {
  const cases: readonly [string, (across: number) => boolean, number][] = [
    ['one pixel wide has its middle half a pixel on', (across) => across === 70, 70.5],
    ['exactly between two pixels', (across) => across === 70 || across === 71, 71],
    ['of three pixels', (across) => across >= 70 && across <= 72, 71.5],
  ];
  for (const [name, isInk, middle] of cases)
    test(`${name}, upright and level`, () => {
      for (const upright of [true, false]) {
        const raster = picture((x, y) => {
          const [across, along] = upright ? [x, y] : [y, x];
          return isInk(across) && isWithin(along) ? 0 : 255;
        });
        const { lines } = linesIn(raster);
        expect(lines).toHaveLength(1);
        const [line] = lines;
        expect(Math.abs(line!.offset)).toBeCloseTo(middle, 1);
        expect(line!.to - line!.from).toBeGreaterThan(115);
      }
    });

  test('along the diagonal, between the pixels too', () => {
    for (const shift of [0, 1]) {
      const raster = picture((x, y) => ((x === y || x === y + shift) && isWithin(x) ? 0 : 255));
      const { lines } = linesIn(raster);
      expect(lines).toHaveLength(1);
      expect(Math.abs(lines[0]!.offset)).toBeCloseTo(shift / 2 / Math.SQRT2, 1);
    }
  });
});

test('noise alone makes no endless work', () => {
  const random = seededRandom(5);
  const { lines, ridges } = linesIn(picture(() => 255 * random()));
  expect(lines.length).toBeLessThan(MOST_LINES);
  expect(ridges.count).toBeLessThanOrEqual(SIZE * SIZE);
});
