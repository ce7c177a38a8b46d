/**
 * Patterns that are easily answered wrongly, each with what is right. What is right was worked out by hand from plane
 * geometry (strips in cross-section, maps, corners), beside each file in a word.
 */
import type { Verdict } from '../../../src/core/run/verdict.ts';

export interface HardCase {
  /** In tests/fixtures/hard. */
  readonly file: string;
  readonly words: readonly string[];
  /** What the five questions must be answered with; those left out are not asserted here. */
  readonly verdict: Partial<Verdict>;
  readonly exit: 0 | 1;
  /** Codes of findings that there must be, with their severity. */
  readonly findings: readonly string[];
}

const no = (...findings: readonly string[]) => ({ exit: 1, findings }) as const;
const yes = (...findings: readonly string[]) => ({ exit: 0, findings }) as const;

/** Whole files, asked to fold as they are. */
export const wholeCases: readonly HardCase[] = [
  // strip 2, 1, 1, 2, three right angles: the last panel comes down across the first
  {
    file: 'strip-through-itself.fold',
    words: [],
    verdict: { moves: 'yes', contact: 'no', layers: 'no' },
    ...no('error panels-cross'),
  },
  // strip 3, 1, 1, 3 rolled up: each end would have to lie inside the other
  {
    file: 'strip-ends-in-each-other.fold',
    words: [],
    verdict: { closes: 'yes', layers: 'no' },
    ...no('error layer-none'),
  },
  {
    file: 'lid-shut-then-flap-in.json',
    words: [],
    verdict: { moves: 'yes', contact: 'no' },
    ...no('error panels-cross'),
  },
  // strip 40, 20, 20, 30: 30 > 20, so that the last panel ends 10 mm beyond the first
  {
    file: 'tube-that-overlaps.json',
    words: [],
    verdict: { moves: 'yes', contact: 'no' },
    ...no('error panels-cross'),
  },
  {
    file: 'map-3-by-3-without-order.fold',
    words: [],
    verdict: { closes: 'yes', layers: 'no' },
    ...no('error layer-none'),
  },
  {
    file: 'chain-deepest-late.json',
    words: [],
    verdict: { moves: 'yes', contact: 'no' },
    ...no('error panels-cross'),
  },
  {
    file: 'two-mechanisms.fold',
    words: [],
    verdict: { moves: 'no', reaches: 'no' },
    ...no('error motion-fails'),
  },
  {
    file: 'corner-beside-a-vertex-1.json',
    words: [],
    verdict: { moves: 'yes', layers: 'yes', contact: 'yes' },
    ...yes(),
  },
  {
    file: 'corner-beside-a-vertex-3.json',
    words: [],
    verdict: { moves: 'yes', layers: 'yes', contact: 'yes' },
    ...yes(),
  },
  {
    file: 'corner-beside-a-vertex-4.json',
    words: [],
    verdict: { moves: 'yes', layers: 'yes', contact: 'yes' },
    ...yes(),
  },
  {
    file: 'four-flaps-tucked-in-order.json',
    words: [],
    verdict: { layers: 'yes', contact: 'tight' },
    ...yes('warning tuck-blocked'),
  },
  {
    file: 'four-flaps-all-at-once.json',
    words: [],
    verdict: { layers: 'yes', contact: 'no' },
    ...no('error panels-cross'),
  },
  {
    file: 'four-flaps-folded-plainly.json',
    words: [],
    verdict: { layers: 'yes', contact: 'no' },
    ...no('error panels-cross'),
  },
];

/** Parts of the way, single creases, finished states. */
export const partCases: readonly (HardCase & { readonly verb: 'fold' | 'check' })[] = [
  ...['0.99', '0.5'].map(
    (part) =>
      ({
        verb: 'fold',
        file: 'four-valleys.fold',
        words: ['--to', part],
        verdict: { closes: 'yes', reaches: 'no' },
        ...no('error state-missed'),
      }) as const,
  ),
  {
    verb: 'fold',
    file: 'six-valleys.fold',
    words: ['--to', '0.5'],
    verdict: { closes: 'yes', reaches: 'no' },
    ...no('error state-missed'),
  },
  {
    verb: 'fold',
    file: 'pleated-saddle.fold',
    words: ['--to', '0.5'],
    verdict: { closes: 'yes', reaches: 'no' },
    ...no('error state-missed'),
  },
  {
    verb: 'fold',
    file: 'corner-beside-a-vertex-2.fold',
    words: ['--hold', '0=180'],
    verdict: { moves: 'yes', layers: 'yes', contact: 'yes' },
    ...yes(),
  },
  // a hair open, the ends still lie in each other
  ...['179.9', '179.5', '178'].map(
    (angle) =>
      ({
        verb: 'check',
        file: `strip-ends-in-each-other-${angle}.fold`,
        words: ['--folded'],
        verdict: { closes: 'yes', layers: 'no' },
        ...no('error layer-none'),
      }) as const,
  ),
  {
    verb: 'check',
    file: 'strip-a-millimetre-deep.fold',
    words: ['--folded'],
    verdict: { closes: 'yes', layers: 'no' },
    ...no('error layer-none'),
  },
  {
    verb: 'check',
    file: 'tab-through-a-slit-in-space.fold',
    words: ['--folded'],
    verdict: { closes: 'yes', layers: 'yes', contact: 'yes' },
    ...yes(),
  },
];

/** How many layer orders there are, counted by hand. */
export const layerCases = [
  ['strip-through-itself.fold', '0'],
  ['strip-a-millimetre-deep.fold', '0'],
  ['tab-through-a-slit-in-space.fold', '1'],
  // over the slit, or through it
  ['tab-through-a-slit.fold', '2'],
  ['tab-through-an-open-slit.fold', '2'],
  ['slit-with-its-line-continued.fold', '2'],
] as const;
