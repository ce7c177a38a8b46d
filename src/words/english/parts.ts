/** Turns of phrase that sentences share. */
import type { FilePlace, PatternPlace, Place, StepNamed } from '../../core/finding/values/place.ts';
import { calling } from '../calling.ts';
import { figuresText, fixedText, numberText, plural } from '../numbers.ts';

export const capital = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** "(30, 60)", in the pattern's own unit; on screen "(30, 60 mm)". */
export const placeText = (place: PatternPlace) =>
  placeBy(place, (value) => {
    const digits = Math.min(12, Math.max(0, 3 - Math.floor(Math.log10(place.size))));
    return numberText(value, digits);
  });

/** The same to three figures. */
export const roughPlace = (place: PatternPlace) => placeBy(place, (value) => figuresText(value, 3));

/** The same to about a thousandth of the sheet. */
export const nearPlace = (place: PatternPlace) =>
  placeBy(place, (value) => {
    const grain = 10 ** (Math.floor(Math.log10(place.size)) - 2);
    return numberText(Math.round(value / grain) * grain, 12);
  });

const placeBy = ({ at }: PatternPlace, told: (value: number) => string): string =>
  calling().place?.(at) ?? `(${told(at[0])}, ${told(at[1])})`;

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

/** `panels 1, 2`, `"lid"`, `"lid" and panel 3`: those with a name first, then the others by their numbers. */
export function panelsText(panels: readonly number[], told = numbered): string {
  const { nameOf } = calling();
  const names = panels.flatMap((panel) => nameOf(panel) ?? []).map((name) => `"${name}"`);
  const others = panels.filter((panel) => nameOf(panel) === undefined);
  if (others.length > 0) names.push(told(others));
  return listed(names);
}

/** "a", "a and b", "a, b and c" */
export const listed = (texts: readonly string[]) =>
  texts.length < 2 ? (texts[0] ?? '') : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;

const numbered = (panels: readonly number[]) => `panel${panels.length > 1 ? 's' : ''} ${panels.join(', ')}`;

/** The same as a list that ends in "and" and is not too long. */
export const allPanels = (panels: readonly number[]) =>
  panelsText(panels, (others) => namedAll('panel', others));

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
    case 'page-shape':
      return `shape ${place.index + 1} of the page`;
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
