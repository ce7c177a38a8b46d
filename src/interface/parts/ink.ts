/**
 * Inks for lines on paper: our own pairs where they can be read, dark or light ink where they cannot. Contrast as
 * in WCAG 2.2 (relative luminance), at least 3:1 for lines.
 */

import { type LineKind, lineKinds } from '../../core/sheet/kind.ts';

/** Lowest contrast of a line against its paper (WCAG 2.2, 1.4.11). */
export const LINE_CONTRAST = 3;

/** The table as its colours stand in the style sheet. */
export const LIGHT_TABLE = '#ebe6dd';
export const DARK_TABLE = '#25221e';

const darkInks: Record<LineKind, string> = {
  mountain: '#7b2d5e',
  valley: '#8a6100',
  unassigned: '#4a5763',
  flat: '#6e675c',
  edge: '#2a2622',
  cut: '#2a2622',
};

const lightInks: Record<LineKind, string> = {
  mountain: '#f3c3df',
  valley: '#f7d98b',
  unassigned: '#d5dee6',
  flat: '#cfc8bb',
  edge: '#fbf8f1',
  cut: '#fbf8f1',
};

const lastResort = ['#171411', '#ffffff'] as const;

/** Relative luminance of #rrggbb, 0 black to 1 white. */
function luminance(colour: string): number {
  const value = Number.parseInt(colour.slice(1), 16);
  const part = (shift: number) => {
    const c = ((value >> shift) & 255) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(16) + 0.7152 * part(8) + 0.0722 * part(0);
}

/** Contrast ratio of two colours, 1 to 21. */
export function contrast(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/** The ink for a kind of line on a paper colour. */
export function inkOn(paper: string, kind: LineKind): string {
  for (const inks of [darkInks, lightInks])
    if (contrast(inks[kind], paper) >= LINE_CONTRAST) return inks[kind];
  return contrast(lastResort[0], paper) >= contrast(lastResort[1], paper) ? lastResort[0] : lastResort[1];
}

/** Inks of all kinds on a paper colour, in the order of `lineKinds`. */
export function inksOn(paper: string): string[] {
  return lineKinds.map((kind) => inkOn(paper, kind));
}

/** What marks the chosen crease or panel: a blue or a gold, whichever stands out from both papers more. */
export function accentOn(papers: readonly string[]): string {
  const least = (accent: string) => Math.min(...papers.map((paper) => contrast(accent, paper)));
  return ['#0b62d6', '#ffb300', '#d6006c'].reduce((best, next) =>
    least(next) > least(best) + 0.6 ? next : best,
  );
}

/** Radius of a ring round a corner on screen, pixels. */
export const RING = 11;
