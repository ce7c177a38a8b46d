/** Angles, lengths and areas as they are written. */
import { fixedText, groupedText } from '../numbers.ts';

export const measures = {
  /** Radians as degrees with one decimal; a zero never shows a sign. */
  angleText: (radians: number): string => {
    const value = (radians * 180) / Math.PI;
    const shown = Math.abs(value) < 0.05 ? 0 : value;
    return `${fixedText(shown, 1).replace('-', '−')}°`;
  },
  millimetres: (value: number): string => `${groupedText(value, 1)} mm`,
  /** "150 × 60 × 30 mm" */
  boxText: (lengths: readonly number[]): string =>
    `${lengths.map((value) => groupedText(value, 1)).join(' × ')} mm`,
  squareCentimetres: (value: number): string => `${groupedText(value, 1)} cm²`,
};

export const fineMillimetres = (value: number): string =>
  `${value < 0.005 && value > 0 ? 'under 0.01' : groupedText(value, 2)} mm`;
