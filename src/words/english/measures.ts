/** Angles, lengths and areas as they are written. */
import { fixedText, groupedText } from '../numbers.ts';

/** Radians as degrees with one decimal; a zero never shows a sign. */
export function angleText(radians: number): string {
  const value = (radians * 180) / Math.PI;
  const shown = Math.abs(value) < 0.05 ? 0 : value;
  return `${fixedText(shown, 1).replace('-', '−')}°`;
}

export const millimetres = (value: number): string => `${groupedText(value, 1)} mm`;

/** "150 × 60 × 30 mm" */
export const boxText = (lengths: readonly number[]): string =>
  `${lengths.map((value) => groupedText(value, 1)).join(' × ')} mm`;

export const fineMillimetres = (value: number): string =>
  `${value < 0.005 && value > 0 ? 'under 0.01' : groupedText(value, 2)} mm`;

export const squareCentimetres = (value: number): string => `${groupedText(value, 1)} cm²`;
