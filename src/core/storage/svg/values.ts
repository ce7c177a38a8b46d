import type { FilePlace } from '../../finding/values/place.ts';
import { compose, identity, type Matrix, shift, stretch, turn } from '../matrix.ts';
import { type Refusal, readNumber, unreadable } from '../refusal.ts';
import { pixelsIn } from './lengths.ts';

const pieces = /[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?|[^\s,]+/gi;

/** Numbers apart by spaces or commas. */
export function numbersOf(text: string, place: FilePlace): number[] {
  return (text.match(pieces) ?? []).map((piece) => readNumber(piece, place));
}

/** Reads the attribute or the property `transform` (CSS Transforms 1; flat functions only). */
export function transformOf(text: string, place: FilePlace): Matrix {
  if (text.trim() === '' || text.trim().toLowerCase() === 'none') return identity;
  let whole = identity;
  const call = /[\s,]*([a-z]+)\s*\(([^()]*)\)/iy;
  for (let read = 0; ; read = call.lastIndex) {
    const match = call.exec(text);
    if (!match) {
      const rest = text.slice(read).trim();
      if (/^,?$/.test(rest)) return whole;
      throw unknownTransform(rest, place);
    }
    const one = singleTransform(match[1]!.toLowerCase(), argumentsOf(match[2]!, place));
    if (!one) throw unknownTransform(match[0].trim(), place);
    whole = compose(whole, one);
  }
}

/** Degrees or pixels in one unit of each name. */
const unitsOfArguments: ReadonlyMap<string, number> = new Map([
  ...pixelsIn,
  ['deg', 1],
  ['grad', 0.9],
  ['rad', 180 / Math.PI],
  ['turn', 360],
]);

function argumentsOf(text: string, place: FilePlace): number[] {
  const number = /([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?)([a-z]*)|[^\s,]+/gi;
  return [...text.matchAll(number)].map(([whole, value, unit]) => {
    const units = value === undefined ? undefined : unitsOfArguments.get((unit ?? '').toLowerCase());
    return units === undefined ? readNumber(whole, place) : readNumber(value!, place) * units;
  });
}

const tangent = (degrees: number) => Math.tan((degrees * Math.PI) / 180);

function singleTransform(name: string, n: readonly number[]): Matrix | null {
  const [first = 0, second, third] = n;
  switch (name) {
    case 'matrix':
      return n.length === 6 ? (n as unknown as Matrix) : null;
    case 'translate':
      return shift(first, second ?? 0);
    case 'translatex':
      return shift(first, 0);
    case 'translatey':
      return shift(0, first);
    case 'scale':
      return n.length === 0 ? null : stretch(first, second ?? first);
    case 'scalex':
      return stretch(first, 1);
    case 'scaley':
      return stretch(1, first);
    case 'rotate':
      return second === undefined || third === undefined
        ? turn(first)
        : compose(shift(second, third), compose(turn(first), shift(-second, -third)));
    case 'skew':
      return [1, tangent(second ?? 0), tangent(first), 1, 0, 0];
    case 'skewx':
      return [1, 0, tangent(first), 1, 0, 0];
    case 'skewy':
      return [1, tangent(first), 0, 1, 0, 0];
    default:
      return null;
  }
}

function unknownTransform(text: string, place: FilePlace): Refusal {
  return unreadable({ how: 'svg-transform', place, text: text.slice(0, 60) });
}
