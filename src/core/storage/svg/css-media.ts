/** Media queries, answered as a browser answers them that shows a drawing on a screen (Media Queries 4). */

type Answer = 'yes' | 'no' | 'unknown';

/** Preferences as they are in a browser in which nothing was set; any other feature is unknown. */
const features: readonly (readonly [RegExp, Answer])[] = [
  [/^color$|^prefers-color-scheme\s*:\s*light$|^prefers-reduced-motion\s*:\s*no-preference$/, 'yes'],
  [/^prefers-color-scheme\s*:\s*dark$|^prefers-reduced-motion\s*:\s*reduce$|^monochrome$/, 'no'],
];

/** Would the rules under this list of media queries count? */
export function mediaAnswer(list: string): Answer {
  const tidy = list.trim().toLowerCase().replace(/\s+/g, ' ');
  if (tidy === '') return 'yes';
  const answers = tidy.split(',').map((query) => answerOf(query.trim()));
  return answers.includes('yes') ? 'yes' : answers.includes('unknown') ? 'unknown' : 'no';
}

function answerOf(query: string): Answer {
  const terms = query.split(' and ');
  const [, not, type] = /^(?:only |(not) )?([a-z-]+)$/.exec(terms[0]!) ?? [];
  const rest = (type ? terms.slice(1) : terms).map(featureAnswer);
  const all = together([type === undefined || type === 'all' || type === 'screen' ? 'yes' : 'no', ...rest]);
  return not ? ({ yes: 'no', no: 'yes', unknown: 'unknown' } as const)[all] : all;
}

function featureAnswer(term: string): Answer {
  const inside = /^\(([^()]*)\)$/.exec(term)?.[1]?.trim();
  if (inside === undefined) return 'unknown';
  return features.find(([sign]) => sign.test(inside))?.[1] ?? 'unknown';
}

const together = (answers: readonly Answer[]): Answer =>
  answers.includes('no') ? 'no' : answers.includes('unknown') ? 'unknown' : 'yes';
