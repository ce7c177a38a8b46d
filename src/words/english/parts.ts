/** Turns of phrase that sentences share. */
import type { FilePlace, PatternPlace, Place, StepNamed } from '../../core/finding/values/place.ts';
import { figuresText, fixedText, numberText, plural } from '../numbers.ts';

export const capital = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** "(30, 60)", in the pattern's own unit. */
export function placeText({ at: [x, y], size }: PatternPlace): string {
  const digits = Math.min(12, Math.max(0, 3 - Math.floor(Math.log10(size))));
  return `(${numberText(x, digits)}, ${numberText(y, digits)})`;
}

/** The same to three figures. */
export const roughPlace = ({ at: [x, y] }: PatternPlace) => `(${figuresText(x, 3)}, ${figuresText(y, 3)})`;

/** The same to about a thousandth of the sheet. */
export function nearPlace({ at: [x, y], size }: PatternPlace): string {
  const grain = 10 ** (Math.floor(Math.log10(size)) - 2);
  const tidy = (value: number) => numberText(Math.round(value / grain) * grain, 12);
  return `(${tidy(x)}, ${tidy(y)})`;
}

/** A place as it stands in a file. */
export const givenPlace = (place: Place) => `(${place.join(', ')})`;

export const lineText = ({ from, to }: { readonly from: Place; readonly to: Place }) =>
  `the line from ${givenPlace(from)} to ${givenPlace(to)}`;

/** `step 4 ("Flap under")` */
export const stepText = ({ number, title }: StepNamed) => `step ${number + 1} ("${title}")`;
export const stepOrBefore = (step: StepNamed | null) => (step ? stepText(step) : 'before the first step');

/** Degrees to a tenth, small ones to a hundredth. */
export const turnText = (degrees: number) => `${fixedText(degrees, Math.abs(degrees) < 1.0027 ? 2 : 1)}°`;

/** "Creases 1, 2, 3", with no more than so many named. */
export function namedFew(noun: string, numbers: readonly number[], most = 6): string {
  const more = numbers.length > most ? ` and ${numbers.length - most} more` : '';
  const shown = numbers.slice(0, most).join(', ');
  return `${plural(numbers.length, { one: noun, other: `${noun}s` })} ${shown}${more}`;
}

/** A sentence names no more than this; the lists beside it hold all. */
const MOST_NAMED = 10;

/** "panels 1, 2 and 3" */
export function namedAll(noun: string, numbers: readonly number[]): string {
  if (numbers.length === 1) return `${noun} ${numbers[0]}`;
  const first = numbers.length > MOST_NAMED ? numbers.slice(0, MOST_NAMED - 2) : numbers.slice(0, -1);
  const rest = first.length === numbers.length - 1 ? numbers.at(-1) : `${numbers.length - first.length} more`;
  return `${noun}s ${first.join(', ')} and ${rest}`;
}

/** Where something stands in a file or drawing. */
export function filePlace(place: FilePlace): string {
  switch (place.how) {
    case 'line': {
      const { line, element, id, layer } = place;
      const named = `${element}${id ? ` "${id}"` : ''}${layer === undefined ? '' : ` on layer "${layer}"`}`;
      return element ? `line ${line} (${named})` : `line ${line}`;
    }
    case 'entry':
      return `${place.list}, entry ${place.entry}`;
    case 'page':
      return `the ${place.of} of the drawing`;
    case 'stroke':
      return `line ${place.index + 1} of the drawing`;
    case 'edge':
      return `edge ${place.index}`;
    case 'corner':
      return `outline, corner ${place.index + 1}`;
    case 'pattern-line':
      return `pattern line ${place.index + 1}`;
  }
}
