/**
 * How each piece of a line is broken up: along every line the cheapest sequence of patterns and phases (Viterbi 1967), a
 * change of the pattern or of its phase where pieces meet costs something. Two styles that cost nearly the same leave
 * the piece undecided.
 */
import type { DashStyle } from '../drawing/dash.ts';
import { FINE, type Template } from './dashes.ts';
import type { Piece } from './profile.ts';

export interface PieceStyle {
  readonly dash: DashStyle;
  /** How much worse the next best style is, in natural logarithms of likelihood. */
  readonly margin: number;
  /** Root mean square of what is left of the profile; NaN where nothing is seen. */
  readonly misfit: number;
}

/** Standard deviation of ink about a template, and samples that are as good as one: neighbours see the same noise. */
const DEVIATION = 0.17;
const SAMPLES_AS_ONE = 4;
const MOST_COST = 4.5;
/** Costs of another pattern, of another phase, and of a phase a step off. */
const CHANGE = 3;
const DRIFT = 0.3;
/** Samples in one go; longer pieces are cut up, so that a period that is a little off does not add up. */
const STRETCH = 120;

/** Pieces that tell the scale of a drawing. */
const SOME = 40;

interface Stretch {
  readonly piece: number;
  readonly values: Float32Array;
}

/** @param order the pieces of one line in their order; pieces that do not touch may stand in one list */
export function stylesAlong(
  pieces: readonly Piece[],
  order: readonly number[],
  templates: readonly Template[],
): Map<number, PieceStyle> {
  const stretches = order.flatMap((piece) => cutUp(pieces[piece]!.profile, piece));
  const first: number[] = [];
  let states = 0;
  for (const { values } of templates) {
    first.push(states);
    states += values.length;
  }
  const own = stretches.map(({ values }) => costsOf(values, templates, states));
  const forward = chain(stretches, own, templates, first, false);
  const backward = chain(stretches, own, templates, first, true);
  const result = new Map<number, PieceStyle>();
  stretches.forEach(({ piece }, k) => {
    if (result.has(piece)) return;
    const best = new Map<DashStyle, number>();
    templates.forEach(({ pattern, values }, t) => {
      let cost = Number.POSITIVE_INFINITY;
      for (let s = first[t]!; s < first[t]! + values.length; s++)
        cost = Math.min(cost, forward[k]![s]! + backward[k]![s]! - own[k]![s]!);
      best.set(pattern.dash, Math.min(cost, best.get(pattern.dash) ?? Number.POSITIVE_INFINITY));
    });
    const sorted = [...best].sort((a, b) => a[1] - b[1]);
    const [dash, cost] = sorted[0]!;
    const next = sorted.find(([other]) => familyOf(other) !== familyOf(dash));
    const margin = next ? next[1] - cost : Number.POSITIVE_INFINITY;
    result.set(piece, { dash, margin, misfit: 0 });
  });
  for (const [piece, style] of result) {
    const parts = stretches.flatMap((stretch, k) => (stretch.piece === piece ? [k] : []));
    result.set(piece, { ...style, misfit: misfitOf(parts, stretches, own, templates, first, style.dash) });
  }
  return result;
}

/** One dot or two between dashes are drawn for the same. */
const familyOf = (dash: DashStyle) => (dash === 'dash-dot' ? 'dash-dot-dot' : dash);

/** What the templates cost for some of the pieces, each by itself, the longest first. */
export function costOfSome(pieces: readonly Piece[], templates: readonly Template[]): number {
  const states = templates.reduce((sum, { values }) => sum + values.length, 0);
  const longest = [...pieces].sort((a, b) => b.length - a.length).slice(0, SOME);
  let sum = 0;
  for (const { profile } of longest)
    for (const { values } of cutUp(profile, 0).slice(0, 2))
      sum += costsOf(values, templates, states).reduce((a, b) => Math.min(a, b));
  return sum;
}

function cutUp(profile: Float32Array, piece: number): Stretch[] {
  const count = Math.max(1, Math.round(profile.length / STRETCH));
  return Array.from({ length: count }, (_, k) => ({
    piece,
    values: profile.subarray(
      Math.round((k * profile.length) / count),
      Math.round(((k + 1) * profile.length) / count),
    ),
  }));
}

/** Cost of every pattern at every phase; the phase is that of the first value. */
function costsOf(values: Float32Array, templates: readonly Template[], states: number): Float64Array {
  const costs = new Float64Array(states);
  const scale = 1 / (2 * DEVIATION ** 2 * SAMPLES_AS_ONE);
  let state = 0;
  for (const template of templates) {
    const { length } = template.values;
    for (let phase = 0; phase < length; phase++) {
      let cost = 0;
      for (let k = 0; k < values.length; k++) {
        const value = values[k]!;
        if (Number.isNaN(value)) continue;
        const off = value - template.values[length === 1 ? 0 : (phase + FINE * k) % length]!;
        cost += Math.min(MOST_COST, off * off * scale * SAMPLES_AS_ONE) / SAMPLES_AS_ONE;
      }
      costs[state++] = cost;
    }
  }
  return costs;
}

/** Least cost of each state with all stretches before it (or after it), its own included. */
function chain(
  stretches: readonly Stretch[],
  own: readonly Float64Array[],
  templates: readonly Template[],
  first: readonly number[],
  backward: boolean,
): Float64Array[] {
  const count = stretches.length;
  const costs: Float64Array[] = Array.from({ length: count });
  for (let n = 0; n < count; n++) {
    const k = backward ? count - 1 - n : n;
    const before = backward ? k + 1 : k - 1;
    const here = own[k]!.slice();
    if (n > 0) {
      const known = costs[before]!;
      const isSame = stretches[k]!.piece === stretches[before]!.piece;
      const length = stretches[backward ? k : before]!.values.length;
      let least = Number.POSITIVE_INFINITY;
      for (const cost of known) least = Math.min(least, cost);
      templates.forEach(({ values }, t) => {
        const period = values.length;
        let leastHere = Number.POSITIVE_INFINITY;
        for (let s = first[t]!; s < first[t]! + period; s++) leastHere = Math.min(leastHere, known[s]!);
        const jump = isSame ? leastHere + CHANGE : Math.min(leastHere, least) + CHANGE;
        for (let phase = 0; phase < period; phase++) {
          const move = backward ? phase + FINE * length : phase - FINE * length;
          let best = jump;
          for (let drift = -3; drift <= 3; drift++) {
            const from = (((move + drift) % period) + period) % period;
            best = Math.min(best, known[first[t]! + from]! + DRIFT * Math.abs(drift));
          }
          here[first[t]! + phase]! += best;
        }
      });
    }
    costs[k] = here;
  }
  return costs;
}

function misfitOf(
  parts: readonly number[],
  stretches: readonly Stretch[],
  own: readonly Float64Array[],
  templates: readonly Template[],
  first: readonly number[],
  dash: DashStyle,
): number {
  let [cost, samples] = [0, 0];
  for (const k of parts) {
    let least = Number.POSITIVE_INFINITY;
    templates.forEach(({ pattern, values }, t) => {
      if (pattern.dash !== dash) return;
      for (let s = first[t]!; s < first[t]! + values.length; s++) least = Math.min(least, own[k]![s]!);
    });
    cost += least;
    for (const value of stretches[k]!.values) if (!Number.isNaN(value)) samples++;
  }
  return samples === 0 ? Number.NaN : DEVIATION * Math.sqrt((2 * SAMPLES_AS_ONE * cost) / samples);
}
