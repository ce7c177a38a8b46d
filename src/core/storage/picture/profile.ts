/** The ink along the pieces of lines between two crossings. */
import { medianOf, quantileOf } from '../../numeric/quantile.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import type { CrossedLine, Crossing } from './crossings.ts';
import { type Ink, inkAt } from './ink.ts';
import { directionOf } from './line-fit.ts';
import { angleBetween } from './ridges.ts';

/** Pixels between two samples. */
export const STEP = 0.5;

/** A piece of a line between two crossings. */
export interface Piece {
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly ends: readonly [Point, Point];
  /** Ink every STEP pixels, full ink being 1; NaN where another line is near. */
  readonly profile: Float32Array;
  readonly length: number;
}

/** @param width of lines at half height, pixels */
export function piecesOf(
  ink: Ink,
  crossings: readonly Crossing[],
  crossed: readonly CrossedLine[],
  width: number,
): { pieces: Piece[]; full: number } {
  const raw = crossed.flatMap(({ line, stops }, number) =>
    stops.slice(1).flatMap((stop, k): Piece[] => {
      const from = stops[k]!.crossing;
      const ends = [crossings[from]!.at, crossings[stop.crossing]!.at] as const;
      if (from === stop.crossing || distance(...ends) < 1) return [];
      const masks = [from, stop.crossing].map((end) => {
        const others = crossings[end]!.lines.filter((other) => other !== number);
        const sharpest = Math.min(
          Math.PI / 2,
          ...others.map((other) => angleBetween(directionOf(line), directionOf(crossed[other]!.line))),
        );
        return others.length === 0 ? 0 : (1.1 * width + 0.5) / Math.max(0.15, Math.sin(sharpest));
      }) as [number, number];
      const profile = profileOf(ink, ends, masks, width);
      return [{ line: number, from, to: stop.crossing, ends, profile, length: distance(...ends) }];
    }),
  );
  return evened(raw, crossed.length);
}

function profileOf(
  ink: Ink,
  [a, b]: readonly [Point, Point],
  masks: readonly [number, number],
  width: number,
): Float32Array {
  const length = distance(a, b);
  const [dx, dy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const count = Math.max(1, Math.floor(length / STEP));
  const across = [-0.4, -0.2, 0, 0.2, 0.4].map((share) => share * width);
  return Float32Array.from({ length: count }, (_, k) => {
    const at = ((k + 0.5) * length) / count;
    if (at < masks[0] || length - at < masks[1]) return Number.NaN;
    let sum = 0;
    for (const off of across) sum += inkAt(ink, a[0] + dx * at - dy * off, a[1] + dy * at + dx * off);
    return sum / across.length;
  });
}

/** Profiles with the full ink of their own line as 1; a line without long dashes borrows that of the others. */
function evened(raw: readonly Piece[], lines: number): { pieces: Piece[]; full: number } {
  const ofLine = Array.from({ length: lines }, (): number[] => []);
  for (const { line, profile } of raw)
    for (const value of profile) if (!Number.isNaN(value)) ofLine[line]!.push(value);
  const own = ofLine.map((values) => quantileOf(values, 0.85));
  const full = medianOf(own.filter((value) => value > 0)) || 1;
  const pieces = raw.map((piece) => {
    const level = Math.min(1.6 * full, Math.max(0.75 * full, own[piece.line]!));
    return { ...piece, profile: piece.profile.map((value) => value / level) };
  });
  return { pieces, full };
}

/** Share of a profile that has ink; NaN where nothing of it can be seen. */
export function inkShare(profile: Float32Array): number {
  let [sum, count] = [0, 0];
  for (const value of profile)
    if (!Number.isNaN(value)) {
      sum += Math.min(1, Math.max(0, value));
      count++;
    }
  return count === 0 ? Number.NaN : sum / count;
}
