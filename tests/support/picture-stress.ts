/** Pictures that a reading may fail on: it must then say so. */

import { seededRandom } from '../../src/core/numeric/random.ts';
import type { Point } from '../../src/core/numeric/vector.ts';
import { type Manner, worn } from './picture-drawn.ts';

export interface Stress {
  readonly name: string;
  readonly manner: Manner;
  /** The corners of the sheet are told. */
  readonly told: boolean;
}

const red: readonly [number, number, number] = [200, 30, 30];
const blue: readonly [number, number, number] = [30, 50, 190];

/** The trouble goes by the number. */
export function stressed(number: number): Stress {
  const random = seededRandom(number + 4000);
  const fine = 4 + 3 * random();
  const usual = worn(fine, number);
  const kinds: readonly (() => Stress)[] = [
    () => ({ name: 'letters', manner: { ...usual, letters: 3 + Math.floor(8 * random()) }, told: false }),
    () => ({ name: 'blur 2', manner: { ...usual, fine: 2.5 + 3.5 * random(), blur: 2 }, told: false }),
    () => ({
      name: 'perspective',
      manner: { ...usual, perspective: 0.03 + 0.05 * random() },
      told: random() < 0.6,
    }),
    () => ({ name: '300 px', manner: { ...usual, fine: 300 / 234, blur: random() }, told: false }),
    () => ({ name: 'dashes', manner: { ...usual, dashes: otherDashes(random) }, told: false }),
    () => ({ name: 'bow', manner: { ...usual, bow: 0.004 + 0.02 * random() }, told: false }),
    () => ({ name: 'coarse', manner: { ...usual, fine: 1.8 + random() }, told: false }),
    () => ({
      name: 'solid colours',
      manner: {
        ...usual,
        dashes: { mountain: [500], valley: [500] },
        colours: { edge: [0, 0, 0], mountain: red, valley: blue },
      },
      told: false,
    }),
  ];
  return kinds[number % kinds.length]!();
}

const otherDashes = (random: () => number) => {
  const [dash, gap] = [1.5 + 4 * random(), 0.8 + 1.5 * random()];
  const [long, space, dot] = [4 + 6 * random(), 0.9 + 0.8 * random(), 0.5 + 0.6 * random()];
  const mountain = random() < 0.5 ? [long, space, dot, space] : [long, space, dot, space, dot, space];
  return { valley: [dash, gap], mountain };
};

/** The corners of a rectangular sheet as it lies in the picture, from the upper left one round. */
export const cornersIn = (place: (p: Point) => Point, height: number): Point[] =>
  (
    [
      [0, height],
      [1, height],
      [1, 0],
      [0, 0],
    ] as const
  ).map(place);
