/**
 * Edges that all but coincide: strips whose lengths differ by more and more. The count must be that of equal lengths up
 * to some difference, and from there on that of lengths which clearly differ, both told by the oracle; CREASEWAY_SEED=n
 * draws others.
 */
import { describe, expect, it } from 'vitest';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { layerOracle, type Pattern } from '../../oracles/layers.ts';
import { sheetOfFaces } from '../../support/faces.ts';

const firstSeed = Number(process.env.CREASEWAY_SEED ?? 1);
const strips = process.env.CREASEWAY_SOAK === '1' ? 200 : 30;
const OFFSETS = [
  1e-9, 1e-8, 3e-8, 6e-8, 9e-8, 1e-7, 1.2e-7, 1.6e-7, 2e-7, 3e-7, 5e-7, 8e-7, 9.9e-7, 1e-6, 1.1e-6, 2e-6,
  1e-5, 1e-4, 1e-3,
];

/** Lengths in whole numbers but for one, which has an offset more; angles in degrees, undefined: a half turn, either way. */
function strip(seed: number, angles: readonly (number | undefined)[]) {
  const random = seededRandom(seed * 7919);
  for (let k = 0; k < 5; k++) random();
  const of = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const count = 3 + Math.floor(random() * 4);
  const whole = Array.from({ length: count }, () => of([1, 1, 1, 2]));
  // one panel is a hair longer or shorter, so that two edges either coincide or are one offset apart
  const odd = Math.floor(random() * count);
  const degrees = Array.from({ length: count - 1 }, () => of(angles));
  return (offset: number): Pattern => {
    let x = 0;
    const ends = [0, ...whole.map((length, k) => (x += length + (k === odd ? offset : 0)))];
    return {
      vertices: ends.flatMap((end) => [[end, 0] as const, [end, 1] as const]),
      faces: whole.map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]),
      degreesOf: (a, b) => degrees[Math.min(a, b) / 2 - 1],
    };
  };
}

function countOf({ vertices, faces, degreesOf }: Pattern): number {
  const sheet = sheetOfFaces(vertices, faces, degreesOf);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return Number(new LayerProblem(sheet, angle, placePanels(sheet, angle, 0)).count().states);
}

describe('edges that all but coincide', () => {
  for (const [name, angles] of [
    ['flat', [180, -180, undefined]],
    ['in space', [90, -90, 180, -180, undefined, 0]],
  ] as const)
    it(`${strips} strips ${name} from seed ${firstSeed}, offsets from 1e-9 to 1e-3`, () => {
      let differs = 0;
      for (let seed = firstSeed; seed < firstSeed + strips; seed++) {
        const pattern = strip(seed, angles);
        const [less, none, more] = [-1e-3, 0, 1e-3].map((offset) => layerOracle(pattern(offset)).states);
        if (less !== none || more !== none) differs++;
        for (const [sign, apart] of [
          [1, more],
          [-1, less],
        ] as const) {
          const counts = OFFSETS.map((offset) => countOf(pattern(sign * offset)));
          const first = counts.findIndex((states) => states !== none);
          const expected = OFFSETS.map((_, k) => (first < 0 || k < first ? none : apart));
          expect(counts, `${name}, seed ${seed}, offsets ${sign < 0 ? 'less' : 'more'}`).toEqual(expected);
          expect([counts[0], counts.at(-1)]).toEqual([none, apart]);
        }
      }
      expect(differs).toBeGreaterThan(3);
    });
});

describe('coordinates written to a few decimals', () => {
  const rounded = (n: number, decimals: number): Pattern => {
    const ends = Array.from({ length: n + 1 }, (_, k) => Number((k / n).toFixed(decimals)));
    return {
      vertices: ends.flatMap((end) => [[end, 0] as const, [end, 1] as const]),
      faces: Array.from({ length: n }, (_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]),
      degreesOf: () => undefined,
    };
  };
  it('stamps of a sixth and a seventh of the sheet, five to seven decimals: 144 and 462 (A000136)', () => {
    for (const decimals of [5, 6, 7]) {
      expect(countOf(rounded(6, decimals))).toBe(144);
      expect(countOf(rounded(7, decimals))).toBe(462);
    }
  });
});
