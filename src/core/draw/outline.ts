/** Sheets to begin with, corners counter-clockwise from the lower left, in mm. */

import { sheetSizes } from '../lesson/lesson.ts';
import { tidy } from '../numeric/tidy.ts';
import { type Point, turnAt } from '../numeric/vector.ts';
import { sizeOf } from './pattern.ts';

export const rectangle = (width: number, height: number): Point[] => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];

export const square = (side: number): Point[] => rectangle(side, side);

/** Widths and heights in mm. A sizes: ISO 216, in the ratio 1 : root 2 before rounding to mm. Letter: ANSI A, 8.5 x 11 in. */
export const paperSizes = {
  A3: [297, 420],
  A4: [210, 297],
  A5: [148, 210],
  A6: [105, 148],
  Letter: [215.9, 279.4],
} as const;

/** A sheet in the ratio 1 : root 2 exactly, as the A sizes are meant. */
export const rootTwo = (height: number): Point[] => rectangle(height / Math.SQRT2, height);

/** What keeps a list of corners from being a sheet: corners counted from 0, lengths in mm. */
export type OutlineTrouble =
  | { readonly how: 'few-corners' | 'no-numbers' | 'one-line' }
  | { readonly how: 'corners-meet' | 'sides-cross'; readonly corners: readonly [number, number] }
  | { readonly how: 'size'; readonly size: number; readonly least: number; readonly most: number };

/** Null where nothing does. */
export function outlineTrouble(outline: readonly Point[]): OutlineTrouble | null {
  if (outline.length < 3) return { how: 'few-corners' };
  if (outline.some((corner) => !corner.every(Number.isFinite))) return { how: 'no-numbers' };
  const n = outline.length;
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++) {
      const [p, q, r, s] = [outline[a]!, outline[(a + 1) % n]!, outline[b]!, outline[(b + 1) % n]!];
      if (p[0] === r[0] && p[1] === r[1]) return { how: 'corners-meet', corners: [a, b] };
      const neighbours = b === a + 1 || (a === 0 && b === n - 1);
      if (!neighbours && crosses(p, q, r, s)) return { how: 'sides-cross', corners: [a, b] };
    }
  const { least, most } = sheetSizes;
  const size = sizeOf({ outline });
  if (size < least || size > most) return { how: 'size', size: tidy(size), least, most };
  return Math.abs(areaOf(outline)) > 0 ? null : { how: 'one-line' };
}

const crosses = (p: Point, q: Point, r: Point, s: Point) =>
  turnAt(p, q, r) * turnAt(p, q, s) <= 0 && turnAt(r, s, p) * turnAt(r, s, q) <= 0;

function areaOf(outline: readonly Point[]): number {
  return outline.reduce((sum, [x, y], k) => {
    const [u, w] = outline[(k + 1) % outline.length]!;
    return sum + (x * w - u * y) / 2;
  }, 0);
}
