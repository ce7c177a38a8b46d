/** The constructions as a hand uses them: what each is told, and the creases it then offers. */
import { between, distance, type Point } from '../numeric/vector.ts';
import { equalParts, gridOf, mirrored, parallelsAt, repeated } from './construct.ts';
import type { DrawnLine } from './edit-lines.ts';
import { acrossPaper, forLength, toNextCrease, withinPaper } from './extent.ts';
import { footOn, type Line, lineThrough, type Stretch } from './line.ts';
import * as fold from './one-fold.ts';
import { distanceTo, nearness, type Pattern, sidesOf } from './pattern.ts';
import { type Construction, type DrawSettings, type Given, wantedBy } from './told.ts';

/** Creases that belong together; their own looks where they have them (mirrored and repeated ones). */
export type Proposal = readonly (Stretch & Partial<DrawnLine>)[];

/** Every answer of a construction that has been told all it wants, on the paper; none where there is no answer. */
export function proposalsOf(
  pattern: Pattern,
  construction: Construction,
  given: readonly Given[],
  settings: DrawSettings,
): Proposal[] {
  if (given.length < wantedBy[construction].length) return [];
  if (construction === 'grid') return [gridOf(pattern, settings.count)];
  if (construction === 'repeat') return [onPaper(pattern, repeated(pattern, settings.chosen))].filter(isSome);
  const lines = given.flatMap((one) =>
    one.kind === 'line' ? (lineThrough(one.stretch.from, one.stretch.to) ?? []) : [],
  );
  const points = given.flatMap((one) => (one.kind === 'point' ? [one.at] : []));
  const middle = meanOf(given.map(({ at }) => at));
  if (construction === 'mirror')
    return lines[0] ? [onPaper(pattern, mirrored(settings.chosen, lines[0]))].filter(isSome) : [];
  if (construction === 'parts') {
    const parts = lines[1] ? equalParts(lines[0]!, lines[1], settings.count, middle) : [];
    return [
      parts.flatMap((line) => stretchesOf(pattern, line, footOn(line, middle), points, settings)),
    ].filter(isSome);
  }
  return linesOf(construction, points, lines, settings)
    .map((line) => stretchesOf(pattern, line, startOf(construction, line, points, middle), points, settings))
    .filter(isSome);
}

const isSome = (one: Proposal) => one.length > 0;

const meanOf = (points: readonly Point[]): Point => [
  points.reduce((sum, p) => sum + p[0], 0) / points.length,
  points.reduce((sum, p) => sum + p[1], 0) / points.length,
];

function linesOf(
  construction: Exclude<Construction, 'grid' | 'repeat' | 'mirror' | 'parts'>,
  points: readonly Point[],
  lines: readonly Line[],
  { distance: away }: DrawSettings,
): Line[] {
  const [p, q] = points;
  const [a, b] = lines;
  switch (construction) {
    case 'through':
      return fold.foldThrough(p!, q!);
    case 'point-onto-point':
      return fold.foldPointOntoPoint(p!, q!);
    case 'line-onto-line':
      return fold.foldLineOntoLine(a!, b!);
    case 'square':
      return fold.foldSquare(p!, a!);
    case 'point-onto-line':
      return fold.foldPointOntoLine(p!, a!, q!);
    case 'two-onto-two':
      return fold.foldTwoOntoTwo(p!, a!, q!, b!);
    case 'onto-line-square':
      return fold.foldPointOntoLineSquare(p!, a!, b!);
    case 'parallel':
      return parallelsAt(a!, away);
  }
}

/** The place on the crease from which it runs to the next one, or for its length. */
function startOf(construction: Construction, line: Line, points: readonly Point[], middle: Point): Point {
  if (construction === 'square') return points[0]!;
  if (construction === 'point-onto-line') return points[1]!;
  return footOn(line, middle);
}

function stretchesOf(
  pattern: Pattern,
  line: Line,
  start: Point,
  points: readonly Point[],
  { extent, length }: DrawSettings,
): Stretch[] {
  const one = (stretch: Stretch | null) => (stretch ? [stretch] : []);
  const [p, q] = points;
  const joins = p && q && [p, q].every((end) => distance(footOn(line, end), end) <= nearness(pattern));
  if (extent === 'between' && joins) return one(withinPaper(pattern, { from: p, to: q }));
  if (extent === 'next') return one(toNextCrease(pattern, line, start));
  if (extent === 'length') {
    const whole = acrossPaper(pattern, line)[0];
    const toward = joins ? q : whole ? between(whole.from, whole.to, 0.5) : start;
    return one(forLength(pattern, line, joins ? p : start, length, toward));
  }
  return acrossPaper(pattern, line);
}

function onPaper<T extends Stretch>(pattern: Pattern, stretches: readonly T[]): T[] {
  return stretches.flatMap((one) => {
    const part = withinPaper(pattern, one);
    return part ? [{ ...one, ...part }] : [];
  });
}

/** The one side of the outline that a point lies on, corners left out; null where there is none. */
export function edgeThrough(pattern: Pattern, p: Point): Stretch | null {
  const sides = sidesOf(pattern).filter((side) => distanceTo(side, p) <= nearness(pattern));
  return sides.length === 1 ? sides[0]! : null;
}

/** Distance of a point from the nearest crease of a proposal. */
export function distanceToProposal(proposal: Proposal, p: Point): number {
  return Math.min(...proposal.map((stretch) => distanceTo(stretch, p)));
}
