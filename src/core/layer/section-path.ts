/**
 * A section as strokes to draw: layers set apart by an even gap so that they can be counted, paper rounded where it
 * folds. A drawing, not a measure: only the gap differs from the truth.
 */
import { flatCross, flatDot, flatMinus, type Point } from '../numeric/vector.ts';
import type { Section, SectionCut } from './section.ts';

/** One piece of a stroke, in the section's coordinates. */
export type PathPiece =
  | { readonly kind: 'line'; readonly cut: number; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'bend';
      readonly crease: number;
      readonly from: Point;
      readonly fromHandle: Point;
      readonly toHandle: Point;
      readonly to: Point;
    };

/** Paper that hangs together, from one raw edge to the other or round in a ring; the up side on the right. */
export type SectionPath = readonly PathPiece[];

const add = (a: Point, b: Point, k = 1): Point => [a[0] + k * b[0], a[1] + k * b[1]];

interface Placed {
  from: Point;
  to: Point;
  readonly way: Point;
  readonly length: number;
}

/** @param gap how far apart layers are drawn, sheet units */
export function sectionPaths({ cuts, joins }: Section, gap: number): SectionPath[] {
  const placed = cuts.map((cut) => setApart(cut, gap));
  const after = new Map(joins.map((join) => [join.before, join]));
  const bends = new Map(joins.map((join) => [join.before, bend(placed, join, gap)]));
  const hasBefore = new Set(joins.map((join) => join.after));
  const done = new Set<number>();
  const paths: SectionPath[] = [];
  const walk = (start: number) => {
    const path: PathPiece[] = [];
    for (let cut: number | undefined = start; cut !== undefined && !done.has(cut); ) {
      done.add(cut);
      const { from, to } = placed[cut]!;
      path.push({ kind: 'line', cut, from, to });
      const round = bends.get(cut);
      if (round) path.push(round);
      cut = after.get(cut)?.after;
    }
    if (path.length > 0) paths.push(path);
  };
  cuts.forEach((_, cut) => {
    if (!hasBefore.has(cut)) walk(cut);
  });
  cuts.forEach((_, cut) => {
    walk(cut);
  });
  return paths;
}

/** A cut moved off its plane by its layers. */
function setApart({ from, to, rise }: SectionCut, gap: number): Placed {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const way: Point = length > 0 ? [(to[0] - from[0]) / length, (to[1] - from[1]) / length] : [1, 0];
  const off: Point = [way[1] * rise * gap, -way[0] * rise * gap];
  return { from: add(from, off), to: add(to, off), way, length };
}

/** Below this sine two cuts count as lying along one line. */
const ALONG = 0.3;

/** Rounds the paper from one cut to the next, and shortens both to where the rounding begins. */
function bend(
  placed: Placed[],
  { before, after, crease }: { before: number; after: number; crease: number },
  gap: number,
): PathPiece {
  const [a, b] = [placed[before]!, placed[after]!];
  const between = flatMinus(b.from, a.to);
  const wide = Math.hypot(...between);
  const sine = flatCross(a.way, b.way);
  let [handleA, handleB] = [(2 / 3) * wide, (2 / 3) * wide];
  const shorten = (byA: number, byB: number) => {
    a.to = add(a.to, a.way, Math.max(-0.45 * a.length, byA));
    b.from = add(b.from, b.way, Math.min(0.45 * b.length, byB));
  };
  if (Math.abs(sine) >= ALONG) {
    // the lines meet at a corner, so far beyond the end of one and before the start of the other
    const beyond = flatCross(between, b.way) / sine;
    const ahead = flatCross(between, a.way) / sine;
    const round = Math.min(0.6 * gap, 0.3 * a.length, 0.3 * b.length);
    const corner = add(a.to, a.way, beyond);
    shorten(Math.min(0, beyond) - round, Math.max(0, ahead) + round);
    handleA = 0.6 * Math.max(0, flatDot(flatMinus(corner, a.to), a.way));
    handleB = 0.6 * Math.max(0, flatDot(flatMinus(b.from, corner), b.way));
  } else if (flatDot(a.way, b.way) > 0 && wide > 1e-9) {
    const slope = Math.min(1.2 * wide, 0.4 * a.length, 0.4 * b.length);
    shorten(-slope, slope);
    handleA = slope;
    handleB = slope;
  }
  return {
    kind: 'bend',
    crease,
    from: a.to,
    fromHandle: add(a.to, a.way, handleA),
    toHandle: add(b.from, b.way, -handleB),
    to: b.from,
  };
}
