/** Names of our own form: `valley 74.4577`, `mountain 180`, `edge`, `flat`, `cut`, also with - or _ between. */
import { type LineKind, lineKinds } from '../../sheet/kind.ts';
import { refusal } from '../refusal.ts';

/** What a name says: kind, and the finished angle in degrees (valley positive) if it is given. */
export interface NamedLine {
  readonly kind: LineKind;
  readonly angle?: number;
}

const form = new RegExp(
  `^(${lineKinds.join('|')})(?:(?:[ _]+|-|[ _]*-[ _]+)(-?\\d+(?:\\.\\d+)?)(?:deg|°)?)?$`,
  'i',
);

/**
 * Reads a layer, group, id or class name. Returns null for names of any other form.
 * Throws a Refusal when the name asks for more than a half turn.
 */
export function lineOfName(name: string): NamedLine | null {
  const match = form.exec(name.trim());
  if (!match) return null;
  const kind = match[1]!.toLowerCase() as LineKind;
  if (match[2] === undefined) return { kind };
  const size = Math.abs(Number(match[2]));
  if (!(size <= 180)) throw refusal('number-invalid', { how: 'angle-of-name', name: name.trim() });
  if (kind === 'edge' || kind === 'cut' || kind === 'flat') return { kind };
  if (kind === 'unassigned') return { kind, angle: Number(match[2]) };
  return { kind, angle: kind === 'mountain' ? -size : size };
}

/** The same without a blank, as an id has to be. */
export const idOfLine = (name: string): string => name.replace(' ', '-');

/** The name of our own form for a kind and an angle in degrees (undefined where the line has none). */
export function nameOfLine(kind: LineKind, angle: number | undefined): string {
  if (angle === undefined) return kind;
  return `${kind} ${kind === 'unassigned' ? angle : Math.abs(angle)}`;
}

const words: readonly (readonly [RegExp, LineKind])[] = [
  [/mountain|\bmtn\b/i, 'mountain'],
  [/valley/i, 'valley'],
  [/unassigned|either way/i, 'unassigned'],
  [/\b(edges?|border|outline|boundary|rim|sheet|paper)\b/i, 'edge'],
  [/\b(cuts?|slits?|knife)\b/i, 'cut'],
  [/\b(flat|marks?|guides?|construction|existing|landmarks?)\b/i, 'flat'],
];

/** The kind that a name says in passing ("Valley folds"), or null. */
export function kindSaidBy(name: string): LineKind | null {
  const spaced = name.replace(/[_-]+/g, ' ');
  for (const [word, kind] of words) if (word.test(spaced)) return kind;
  return null;
}
