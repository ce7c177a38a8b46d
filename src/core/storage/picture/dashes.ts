/** Dash patterns: learned from the drawing that is read, or as they are commonly drawn. */
import { medianOf } from '../../numeric/quantile.ts';
import type { DashStyle } from '../drawing/dash.ts';
import { type Piece, STEP } from './profile.ts';

export interface DashPattern {
  readonly dash: DashStyle;
  /** Lengths drawn and left out in turn, pixels; empty for a solid line. */
  readonly lengths: readonly number[];
  readonly learned: boolean;
}

/** Inks this many times as long as others in one line are its long dashes. */
const LONG = 1.9;
/** Sequences that tell a pattern. */
const ENOUGH = 2;
/** Lengths in mm, common practice, no source; and the width of a line drawn with them. */
const USUAL: readonly Pick<DashPattern, 'dash' | 'lengths'>[] = [
  { dash: 'dashed', lengths: [3, 1.5] },
  { dash: 'dash-dot-dot', lengths: [5, 1.2, 0.6, 1.2, 0.6, 1.2] },
];

interface RunLengths {
  /** Ink, gap, ink, ... ink: whole ones only. */
  readonly lengths: readonly number[];
}

/** The patterns of dashes that the drawing shows by itself: each with its median lengths. */
export function learnedPatterns(pieces: readonly Piece[]): DashPattern[] {
  const samples = new Map<DashStyle, number[][]>();
  for (const { profile } of pieces)
    for (const run of wholeRuns(profile)) {
      const sample = sampleOf(run);
      if (sample) samples.set(sample.dash, [...(samples.get(sample.dash) ?? []), sample.lengths]);
    }
  return [...samples].flatMap(([dash, all]): DashPattern[] => {
    if (all.length < ENOUGH) return [];
    const lengths = all[0]!.map((_, k) => medianOf(all.map((sample) => sample[k]!)));
    return [{ dash, lengths: spread(dash, lengths), learned: true }];
  });
}

/** The usual patterns at a scale. @param scale pixels a millimetre */
export const usualPatterns = (scale: number): DashPattern[] =>
  USUAL.map(({ dash, lengths }) => ({
    dash,
    lengths: lengths.map((length) => length * scale),
    learned: false,
  }));

/** Scales that a learned pattern speaks for, pixels a millimetre: it may be another one whose dots were lost. */
export function scalesOfLearned(learned: readonly DashPattern[]): number[] {
  const whole = (all: readonly number[]) => all.reduce((sum, length) => sum + length, 0);
  return learned.flatMap(({ lengths }) => USUAL.map((usual) => whole(lengths) / whole(usual.lengths)));
}

/** dash, gap, dot as a whole pattern */
function spread(dash: DashStyle, [long, gap, dot]: readonly number[]): number[] {
  if (dash === 'dash-dot-dot') return [long!, gap!, dot!, gap!, dot!, gap!];
  if (dash === 'dash-dot') return [long!, gap!, dot!, gap!];
  return [long!, gap!];
}

/** Runs of ink and gaps, cut where half of the full ink is crossed; none that touches what cannot be seen. */
function wholeRuns(profile: Float32Array): RunLengths[] {
  const runs: RunLengths[] = [];
  let cuts: { at: number; rises: boolean }[] = [];
  const flush = () => {
    const first = cuts.findIndex(({ rises }) => rises);
    const lengths = (first < 0 ? [] : cuts.slice(first + 1)).map(
      ({ at }, k) => (at - cuts[first + k]!.at) * STEP,
    );
    // an even count ends with a gap, which may not be whole
    if (lengths.length > 0)
      runs.push({ lengths: lengths.slice(0, lengths.length - ((lengths.length + 1) % 2)) });
    cuts = [];
  };
  for (let k = 1; k < profile.length; k++) {
    const [a, b] = [profile[k - 1]!, profile[k]!];
    if (Number.isNaN(a) || Number.isNaN(b)) {
      flush();
      continue;
    }
    if (a < 0.5 === b < 0.5) continue;
    cuts.push({ at: k - 1 + (0.5 - a) / (b - a), rises: b >= 0.5 });
  }
  flush();
  return runs;
}

/** What one sequence tells: style with dash and gap, or dash, gap and dot. */
function sampleOf({ lengths }: RunLengths): { dash: DashStyle; lengths: number[] } | null {
  const inks = lengths.filter((_, k) => k % 2 === 0);
  const gaps = lengths.filter((_, k) => k % 2 === 1);
  if (inks.length < 3) return null;
  const longest = Math.max(...inks);
  const isLong = inks.map((ink) => ink * LONG > longest);
  const long = medianOf(inks.filter((_, k) => isLong[k]));
  const gap = medianOf(gaps);
  if (gaps.some((one) => one > 1.5 * gap || one * 1.5 < gap)) return null;
  if (isLong.every(Boolean)) return { dash: 'dashed', lengths: [long, gap] };
  const dot = medianOf(inks.filter((_, k) => !isLong[k]));
  const places = isLong.flatMap((is, k) => (is ? [k] : []));
  const steps = places.slice(1).map((place, k) => place - places[k]!);
  if (steps.length === 0 && inks.length === 5 && places[0] === 2)
    return { dash: 'dash-dot-dot', lengths: [long, gap, dot] };
  if (steps.length === 0 || steps.some((step) => step !== steps[0])) return null;
  if (steps[0] === 2) return { dash: 'dash-dot', lengths: [long, gap, dot] };
  return steps[0] === 3 ? { dash: 'dash-dot-dot', lengths: [long, gap, dot] } : null;
}

/** Samples that a dash goes on behind its end. */
const PLATEAU = 9;
/** Variances that are none of the picture's: of a slope over three samples, and of values between pixels. */
const OF_SLOPE = (3 * STEP) ** 2 / 12;
const OF_SAMPLING = 1 / 6;

interface Blur {
  /** Standard deviations, pixels: of the picture, and of profiles taken from it. */
  readonly picture: number;
  readonly profile: number;
}

/** The blur at the ends of dashes; null where too few are seen. */
export function blurOf(pieces: readonly Piece[]): Blur | null {
  const slopes: number[] = [];
  for (const { profile } of pieces)
    for (let k = 1; k < profile.length; k++) {
      const [a, b] = [profile[k - 1]!, profile[k]!];
      if (!(a < 0.5 !== b < 0.5)) continue;
      // a dot is never seen at its full height: its sides say nothing
      const way = b > a ? 1 : -1;
      const inside = Array.from({ length: PLATEAU }, (_, n) => profile[k + way * (n + 2)] ?? 0);
      if (!inside.every((value) => value > 0.7)) continue;
      const slope = Math.abs(profile[k + 1]! - profile[k - 2]!) / (3 * STEP);
      if (!Number.isNaN(slope)) slopes.push(slope);
    }
  if (slopes.length < 8) return null;
  const profile = Math.max(0.16, 1 / (2 * Math.PI * medianOf(slopes) ** 2) - OF_SLOPE);
  return { profile: Math.sqrt(profile), picture: Math.sqrt(Math.max(0.08, profile - OF_SAMPLING)) };
}

/** Ink over one period of a pattern as it is seen through the blur. */
export interface Template {
  readonly pattern: DashPattern;
  /** Values `fine` to a sample of a profile; one for a solid line. */
  readonly values: Float32Array;
}

export const FINE = 2;

export function templateOf(pattern: DashPattern, blur: number): Template {
  const { lengths } = pattern;
  if (lengths.length === 0) return { pattern, values: Float32Array.of(1) };
  const period = lengths.reduce((sum, length) => sum + length, 0);
  const count = Math.max(4, Math.round((period * FINE) / STEP));
  const values = Float32Array.from({ length: count }, (_, k) => {
    const at = (k * period) / count;
    let [start, sum] = [0, 0];
    lengths.forEach((length, part) => {
      if (part % 2 === 0)
        for (const turn of [-1, 0, 1])
          sum += step(at - start - turn * period, blur) - step(at - start - length - turn * period, blur);
      start += length;
    });
    return sum;
  });
  return { pattern, values };
}

/** From 0 to 1 as the integral of a bell curve, to 2e-4 (Bowling and others 2009, from memory). */
function step(at: number, blur: number): number {
  const z = at / Math.max(0.2, blur);
  return 1 / (1 + Math.exp(-(1.5976 * z + 0.07056 * z ** 3)));
}
