/** The colour of the ink of pieces, as one of a few inks. */
import type { Piece } from './profile.ts';
import type { Raster } from './raster.ts';

/** Colours nearer than this, of 255, are one ink. */
const SAME_INK = 70;
/** Inks with less between their strongest and weakest channel, share of their depth, are black. */
const COLOURED = 0.3;

/** #rrggbb of each piece: the middle of the ink it belongs to. */
export function coloursOf(raster: Raster, pieces: readonly Piece[]): string[] {
  const inks: { sum: number[]; count: number }[] = [];
  const inkOf = pieces.map((piece) => {
    const colour = colourOf(raster, piece);
    const known = inks.findIndex(({ sum, count }) =>
      sum.every((value, k) => Math.abs(value / count - colour[k]!) < SAME_INK),
    );
    if (known < 0) return inks.push({ sum: [...colour], count: 1 }) - 1;
    const ink = inks[known]!;
    ink.count++;
    colour.forEach((value, k) => (ink.sum[k]! += value));
    return known;
  });
  const names = inks.map(({ sum, count }) => hex(sum.map((value) => value / count)));
  return inkOf.map((ink) => names[ink]!);
}

/** Of the deepest third of what lies under a piece, with the lightest pixel near it as white and full ink dark. */
function colourOf({ width, height, data }: Raster, { ends: [a, b], length }: Piece): number[] {
  const samples: number[][] = [];
  const paper = [1, 1, 1];
  for (let k = 2; k < length - 2; k++) {
    const x = Math.floor(a[0] + ((b[0] - a[0]) * k) / length);
    const y = Math.floor(a[1] + ((b[1] - a[1]) * k) / length);
    if (x < 6 || y < 6 || x >= width - 6 || y >= height - 6) continue;
    const at = 4 * (y * width + x);
    samples.push([data[at]!, data[at + 1]!, data[at + 2]!]);
    for (const off of [-6, 6, -6 * width, 6 * width])
      for (let c = 0; c < 3; c++) paper[c] = Math.max(paper[c]!, data[at + 4 * off + c]!);
  }
  if (samples.length === 0) return [0, 0, 0];
  samples.sort((p, q) => Math.min(...p) - Math.min(...q));
  samples.length = Math.ceil(samples.length / 3);
  const taken = paper.map((white, c) => {
    const mean = samples.reduce((sum, sample) => sum + sample[c]!, 0) / samples.length;
    return Math.max(0, 1 - mean / white);
  });
  const [most, least] = [Math.max(...taken), Math.min(...taken)];
  if (most === 0 || (most - least) / most < COLOURED) return [0, 0, 0];
  return taken.map((share) => 255 * (1 - share / most));
}

const hex = (colour: readonly number[]): string =>
  `#${colour.map((value) => Math.round(Math.min(255, value)).toString(16).padStart(2, '0')).join('')}`;
