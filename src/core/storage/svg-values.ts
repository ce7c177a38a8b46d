import type { FilePlace } from '../finding/values/place.ts';
import { compose, identity, type Matrix, shift, stretch, turn } from './matrix.ts';
import { type Refusal, readNumber, refusal, unreadable } from './refusal.ts';

/** CSS pixels (1/96 inch) in one unit of each name. */
const pixelsIn: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  pt: 96 / 72,
  pc: 16,
  in: 96,
  mm: 96 / 25.4,
  cm: 96 / 2.54,
  q: 96 / 101.6,
};

/** Splits "210mm" into 210 and "mm". */
function splitLength(text: string, place: FilePlace): { value: number; unit: string } {
  const match = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*([a-z]*|%)\s*$/i.exec(text);
  if (!match) return { value: readNumber(text, place), unit: '' };
  return { value: readNumber(match[1]!, place), unit: match[2]!.toLowerCase() };
}

/** A length in user units. Throws a Refusal for percentages and for units that depend on a type face. */
export function lengthOf(text: string | undefined, place: FilePlace, fallback = 0): number {
  if (text === undefined || text.trim() === '') return fallback;
  const { value, unit } = splitLength(text, place);
  const pixels = pixelsIn[unit];
  if (pixels === undefined) {
    throw refusal('number-invalid', { how: 'length', place, text: text.slice(0, 40) });
  }
  return value * pixels;
}

/** Millimetres of a length that is written with a unit; null without one or for relative units. */
export function millimetresOf(text: string | undefined, place: FilePlace): number | null {
  if (text === undefined) return null;
  const { value, unit } = splitLength(text, place);
  const pixels = pixelsIn[unit];
  return unit === '' || pixels === undefined ? null : (value * pixels * 25.4) / 96;
}

/** Numbers apart by spaces or commas. */
export function numbersOf(text: string, place: FilePlace): number[] {
  const pieces = text.match(/[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?|[^\s,]+/gi) ?? [];
  return pieces.map((piece) => readNumber(piece, place));
}

/** Reads a `transform` attribute. */
export function transformOf(text: string | undefined, place: FilePlace): Matrix {
  if (!text || text.trim() === 'none') return identity;
  let whole = identity;
  let rest = text;
  for (const [call, name, inside] of text.matchAll(/([a-zA-Z]+)\s*\(([^)]*)\)/g)) {
    rest = rest.replace(call, '');
    const numbers = numbersOf(inside!.replace(/(px|deg)\b/g, ''), place);
    const one = singleTransform(name!, numbers);
    if (!one) throw unknownTransform(call, place);
    whole = compose(whole, one);
  }
  if (rest.replace(/[\s,]/g, '') !== '') throw unknownTransform(rest.trim(), place);
  return whole;
}

function singleTransform(name: string, n: readonly number[]): Matrix | null {
  const [first = 0, second, third] = n;
  switch (name) {
    case 'matrix':
      return n.length === 6 ? (n as unknown as Matrix) : null;
    case 'translate':
      return shift(first, second ?? 0);
    case 'scale':
      return stretch(first, second ?? first);
    case 'rotate':
      return second === undefined || third === undefined
        ? turn(first)
        : compose(shift(second, third), compose(turn(first), shift(-second, -third)));
    case 'skewX':
      return [1, 0, Math.tan((first * Math.PI) / 180), 1, 0, 0];
    case 'skewY':
      return [1, Math.tan((first * Math.PI) / 180), 0, 1, 0, 0];
    default:
      return null;
  }
}

function unknownTransform(text: string, place: FilePlace): Refusal {
  return unreadable({ how: 'svg-transform', place, text: text.slice(0, 60) });
}

/** Colour as #rrggbb where it is given by numbers or is black or white by name; other names as written. */
export function colourOf(text: string): string {
  const plain = text.trim().toLowerCase();
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/.exec(plain);
  if (short) return `#${short[1]}${short[1]}${short[2]}${short[2]}${short[3]}${short[3]}`;
  const parts = /^rgba?\(\s*(\d+)\s*[, ]\s*(\d+)\s*[, ]\s*(\d+)/.exec(plain);
  if (parts)
    return `#${parts
      .slice(1, 4)
      .map((part) => Math.min(255, Number(part)).toString(16).padStart(2, '0'))
      .join('')}`;
  return plain === 'black' ? '#000000' : plain === 'white' ? '#ffffff' : plain.replace(/\s+/g, '');
}
