/**
 * Invented patterns drawn by a rasteriser of the tests' own and read back. What is right is what was drawn; dashes and
 * width of lines are common practice, no source. CREASEWAY_SOAK=1 reads all 40 patterns in every manner and 200 bad
 * pictures.
 */
import { describe, expect, test } from 'vitest';
import { readPicture } from '../../../../src/core/storage/picture/read-picture.ts';
import { drawPicture, type Manner, worn } from '../../../support/picture-drawn.ts';
import { type Judged, judge } from '../../../support/picture-judge.ts';
import { type DrawnPattern, invented } from '../../../support/picture-patterns.ts';
import { cornersIn, stressed } from '../../../support/picture-stress.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const SERIES = 1;
const MINUTES = 60_000;

function readBack(pattern: DrawnPattern, manner: Manner): Judged {
  const drawn = drawPicture(pattern, manner);
  const reading = readPicture(drawn.raster);
  if (reading.kind === 'refused') throw new Error(`${pattern.name}: refused, ${JSON.stringify(reading.why)}`);
  return judge(pattern, drawn, reading);
}

interface Summary {
  files: number;
  creases: number;
  found: number;
  invented: number;
  wrongKind: number;
  right: number;
  silent: number;
}

function summed(all: readonly Judged[]): Summary {
  const sum = (of: (one: Judged) => number) => all.reduce((total, one) => total + of(one), 0);
  return {
    files: all.length,
    creases: sum(({ creases }) => creases),
    found: sum(({ found }) => found),
    invented: sum((one) => one.invented),
    wrongKind: sum(({ wrongKind }) => wrongKind),
    right: sum(({ right }) => Number(right)),
    silent: sum(({ silent }) => silent),
  };
}

/** At least so many creases with both ends within a pixel, at most so many invented, no wrong kind. */
function expectGood(all: readonly Judged[], found: number, inventions: number): void {
  const summary = summed(all);
  const what = JSON.stringify(summary);
  expect(summary.found / summary.creases, what).toBeGreaterThanOrEqual(found);
  expect(summary.invented / summary.creases, what).toBeLessThanOrEqual(inventions);
  expect(summary.wrongKind, what).toBe(0);
  expect(summary.right / summary.files, what).toBeGreaterThanOrEqual(0.95);
}

describe('patterns drawn and read back', () => {
  const manners: readonly [string, (number: number) => Manner, number, number, number][] = [
    ['worn at 5 pixels a millimetre', (number) => worn(5, number), 0.995, 0.003, 1],
    ['worn at 3 pixels a millimetre', (number) => worn(3, number), 0.98, 0.01, 2],
    ['clean at 5 pixels a millimetre', (seed) => ({ fine: 5, seed }), 0.995, 0.003, 1],
    ['clean at 3 pixels a millimetre', (seed) => ({ fine: 3, seed }), 0.98, 0.01, 1],
  ];
  manners.forEach(([name, manner, found, inventions, few], at) => {
    test(name, { timeout: soak ? 20 * MINUTES : 3 * MINUTES }, () => {
      const numbers = Array.from({ length: soak ? 40 : few }, (_, k) => (soak ? k : k + 2 * at));
      const all = numbers.map((number) => readBack(invented(number, SERIES), manner(number)));
      expectGood(all, found, inventions);
    });
  });
});

test('a bad picture is refused, or every wrong place in it is marked', { timeout: 60 * MINUTES }, () => {
  const numbers = soak ? Array.from({ length: 200 }, (_, k) => k) : [3];
  const silent = numbers.flatMap((number) => {
    const { name, manner, told } = stressed(number);
    // only these have a rectangle for a sheet
    const pattern = invented(told && number % 5 === 1 ? number + 1 : number, SERIES);
    const drawn = drawPicture(pattern, manner);
    const height = Math.max(...pattern.lines.map(({ y1 }) => y1));
    const reading = readPicture(drawn.raster, told ? { corners: cornersIn(drawn.place, height) } : {});
    if (reading.kind === 'refused') return [];
    const judged = judge(pattern, drawn, reading);
    return judged.silent > 0 ? [`${number} ${name} ${pattern.name}: ${judged.silent}`] : [];
  });
  expect(silent).toEqual([]);
});

test('three hundred pixels are refused with the figure', { timeout: MINUTES }, () => {
  const reading = readPicture(drawPicture(invented(0, SERIES), worn(300 / 234, 1)).raster);
  expect(reading.kind).toBe('refused');
  if (reading.kind !== 'refused') return;
  expect(reading.why.how).toBe('blurred');
});

test('a sheet seen at a slant is read straight when its corners are told, and its slant is told when not', {
  timeout: MINUTES,
}, () => {
  const pattern = invented(2, SERIES);
  const drawn = drawPicture(pattern, { fine: 4, perspective: 0.06, seed: 3 });
  const height = Math.max(...pattern.lines.map(({ y1 }) => y1));
  const told = readPicture(drawn.raster, { corners: cornersIn(drawn.place, height) });
  if (told.kind !== 'read') throw new Error('refused');
  expect(judge(pattern, drawn, told).right).toBe(true);
  const alone = readPicture(drawn.raster);
  if (alone.kind !== 'read') throw new Error('refused');
  expect(alone.report.slant).toBeGreaterThan(0.02);
  expect(alone.report.corners).toHaveLength(4);
});

test('corners on a line, and a blank picture, are refused; progress goes up to the end', {
  timeout: MINUTES,
}, () => {
  const blank = { width: 600, height: 600, data: new Uint8ClampedArray(4 * 360_000).fill(250) };
  expect(readPicture(blank)).toEqual({ kind: 'refused', why: { how: 'no-lines' } });
  const onLine = [
    [0, 0],
    [100, 100],
    [200, 200],
    [0, 300],
  ] as const;
  expect(readPicture(blank, { corners: onLine })).toEqual({ kind: 'refused', why: { how: 'corners' } });
  const done: number[] = [];
  readPicture(drawPicture(invented(3, SERIES), { fine: 3 }).raster, {
    progress: (share) => done.push(share),
  });
  expect(done).toEqual([...done].sort((a, b) => a - b));
  expect(done.at(-1)).toBe(1);
});
