import type { FilePlace } from '../../finding/values/place.ts';
import { readNumber, refusal } from '../refusal.ts';

/** CSS pixels (1/96 inch) in one unit of each name (CSS Values 4, section 6). */
export const pixelsIn: ReadonlyMap<string, number> = new Map([
  ['', 1],
  ['px', 1],
  ['pt', 96 / 72],
  ['pc', 16],
  ['in', 96],
  ['mm', 96 / 25.4],
  ['cm', 96 / 2.54],
  ['q', 96 / 101.6],
]);

/** Letter sizes in one unit of each name; half a letter size is common practice for ex and ch. */
const lettersIn: ReadonlyMap<string, number> = new Map([
  ['em', 1],
  ['ex', 0.5],
  ['ch', 0.5],
]);

/** Letter size where none is given (CSS Fonts 4: medium). */
export const LETTER_SIZE = 16;

const absoluteSizes: ReadonlyMap<string, number> = new Map([
  ['xx-small', 9],
  ['x-small', 10],
  ['small', 13],
  ['medium', LETTER_SIZE],
  ['large', 18],
  ['x-large', 24],
  ['xx-large', 32],
  ['xxx-large', 48],
]);

/** What lengths are measured against: the nearest view port, null where its size is not given. */
export interface Measures {
  readonly width: number | null;
  readonly height: number | null;
  readonly letter: number;
}

/** Of which side of the view port a percentage is meant (SVG 2, 8.9). */
export type Along = 'width' | 'height' | 'diagonal';

const written = /^([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?)\s*([a-z]+|%)?$/i;

/** Splits "210mm" into 210 and "mm"; null for what is no length. */
function splitLength(text: string): { value: string; unit: string } | null {
  const match = written.exec(text.trim());
  return match && { value: match[1]!, unit: (match[2] ?? '').toLowerCase() };
}

/** User units in one unit of a length; undefined where that is not known. */
function unitsIn(unit: string, along: Along, measures: Measures): number | undefined {
  if (unit === '%') {
    const { width, height } = measures;
    const wide = width ?? Number.NaN;
    const high = height ?? Number.NaN;
    const whole =
      along === 'width' ? wide : along === 'height' ? high : Math.sqrt((wide ** 2 + high ** 2) / 2);
    return Number.isNaN(whole) ? undefined : whole / 100;
  }
  const letters = unit === 'rem' ? LETTER_SIZE : (lettersIn.get(unit) ?? Number.NaN) * measures.letter;
  return pixelsIn.get(unit) ?? (Number.isNaN(letters) ? undefined : letters);
}

/** A length in user units. Throws a Refusal for what is no number and for units whose size is not known. */
export function lengthOf(
  text: string | undefined,
  along: Along,
  measures: Measures,
  place: FilePlace,
): number {
  if (text === undefined || text.trim() === '') return 0;
  const split = splitLength(text);
  if (!split && /^(auto|[a-z-]+\()/i.test(text.trim())) throw noLength(text, place);
  const value = readNumber(split?.value ?? text, place);
  const units = unitsIn(split?.unit ?? '', along, measures);
  if (units === undefined) throw noLength(text, place);
  return value * units;
}

/** The same for a value of a style, which does not count where it is no length: then null. */
export function styleLength(text: string, along: Along, measures: Measures): number | null {
  const split = splitLength(text);
  const units = split ? unitsIn(split.unit, along, measures) : undefined;
  const value = split && units !== undefined ? Number(split.value) * units : Number.NaN;
  return Number.isFinite(value) ? value : null;
}

const noLength = (text: string, place: FilePlace) =>
  refusal('number-invalid', { how: 'length', place, text: text.trim().slice(0, 40) });

/** Is a length written with a unit, so that it says how large paper is? */
export const hasUnit = (text: string | undefined) => {
  const unit = text === undefined ? '' : (splitLength(text)?.unit ?? '');
  return unit !== '' && unit !== '%';
};

/** The size of letters from the property `font-size` and the size above; null where it is not followed. */
export function letterSizeOf(text: string, above: number): number | null {
  const word = text.toLowerCase();
  if (word === 'larger') return above * 1.2;
  if (word === 'smaller') return above / 1.2;
  const size = styleLength(word, 'width', { width: above, height: above, letter: above });
  return absoluteSizes.get(word) ?? (size !== null && size >= 0 ? size : null);
}
