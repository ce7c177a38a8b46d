/** How a line is broken up, in words. */
export type DashStyle = 'solid' | 'dashed' | 'dotted' | 'dash-dot' | 'dash-dot-dot';

/** A dash at least this many times as long as the shortest one counts as a long dash. */
const LONG = 1.8;

/** A dash no longer than this many line widths reads as a dot, if the gaps are as long at least. */
const DOT = 1.6;

/**
 * Names the style of a dash pattern: lengths drawn and left out in turn, the unit of `width`.
 * An empty pattern, or one that leaves nothing out, is solid.
 */
export function dashStyleOf(pattern: readonly number[], width: number): DashStyle {
  const lengths = pattern.length % 2 === 1 ? [...pattern, ...pattern] : pattern;
  const dashes = lengths.filter((_, index) => index % 2 === 0);
  const gaps = lengths.filter((_, index) => index % 2 === 1);
  if (!gaps.some((gap) => gap > 0)) return 'solid';
  const shortest = Math.min(...dashes);
  const longest = Math.max(...dashes);
  if (dashes.length === 1 || longest < LONG * shortest) {
    return longest <= DOT * width && Math.min(...gaps) >= longest ? 'dotted' : 'dashed';
  }
  const short = dashes.filter((dash) => dash * LONG <= longest).length;
  return short > dashes.length - short ? 'dash-dot-dot' : 'dash-dot';
}

/** Line type names in general use among drafting programs, longest match first; from memory. */
const lineTypeWords: readonly (readonly [RegExp, DashStyle])[] = [
  [/^(by.*|continuous)$/, 'solid'],
  [/phantom|divide|dash-?dot-?dot|iso05|iso12|iso09|iso15/, 'dash-dot-dot'],
  [/dash-?dot|center|centre|border|iso04|iso08|iso10|iso06|iso11|iso13|iso14/, 'dash-dot'],
  [/dash|hidden|iso02|iso03/, 'dashed'],
  [/dot|iso07/, 'dotted'],
];

/** Names the style of a drafting line type: by its pattern (dash positive, gap negative, dot 0), else by its name. */
export function dashStyleOfLineType(name: string, pattern: readonly number[]): DashStyle {
  if (pattern.some((length) => length < 0)) return dashStyleOf(pattern.map(Math.abs), 0);
  const lower = name.toLowerCase();
  return lineTypeWords.find(([word]) => word.test(lower))?.[1] ?? 'solid';
}
