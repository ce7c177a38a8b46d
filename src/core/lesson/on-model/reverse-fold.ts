/**
 * The reverse folds: the tip of a flap is mirrored in a line as by a straight fold of all its layers, but it goes in
 * between its two halves (inside) or round them (outside). Both halves then fold to opposite sides, so that the two new
 * creases at a folded edge turn alike; for the corner where they meet it to have two more folds of one kind than of the
 * other, the edge beyond the line turns inside out.
 */
import { FOLDED_FLAT, ON_LINE } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';
import { creasesAround, creasesInLine, halfEdgeEnd, halfEdgeOrigin } from '../../sheet/walk.ts';
import { creasesAcross, type DrawnLine, movingSide } from './fold-across.ts';
import { donePlans, type FoldPlan, type NewCrease, type Refusal, refuse, withoutDoubles } from './folded.ts';
import { hangingTogether } from './hang.ts';
import {
  type HalfPlane,
  type Joint,
  type LyingPaper,
  leftOf,
  offRim,
  placeOf,
  type Ray,
  reaches,
} from './in-plane.ts';
import { type Packs, packsOf } from './packs.ts';

interface ReverseFold extends LyingPaper, DrawnLine {
  /** Panels of the flap; what hangs on them beyond the line is taken along. */
  readonly panels: readonly number[];
  readonly way: 'inside' | 'outside';
}

/** Every way to reverse a flap, in the order of `packsOf`, or why there is none. */
export function reverseFolds(fold: ReverseFold): readonly FoldPlan[] | Refusal {
  const { side, line } = movingSide(fold, fold);
  const taken = hangingTogether(fold, [[side]], fold.panels, true);
  if ('refused' in taken) return taken;
  const moving = [...taken].filter((panel) => reaches(fold, panel, [side])).sort((a, b) => a - b);
  const parted = packsOf(fold, moving, [side]).filter(
    ({ ridges }) => cutRidges(fold, ridges, side).length > 0,
  );
  if (parted.length === 0) return refuse({ how: 'reverse-needs-flap' }, ...moving);
  const packs = parted.filter(({ ridges }) => opensOnOneSide(fold, ridges, line));
  if (packs.length === 0) return refuse({ how: 'reverse-closed' }, ...moving);
  const plans = packs.map((one) => planOf(fold, one, side, line, moving));
  return donePlans(plans);
}

function planOf(
  fold: ReverseFold,
  packs: Packs,
  side: HalfPlane,
  line: Ray,
  panels: readonly number[],
): FoldPlan | Refusal {
  const inward = fold.way === 'inside' ? 1 : -1;
  const creases: NewCrease[] = [];
  const changed: NewCrease[] = [];
  for (const panel of panels) {
    const toward = (packs.upper.has(panel) ? -inward : inward) as 1 | -1;
    const across = creasesAcross(fold, panel, line, toward, { side: [side], moving: new Set(panels) });
    if ('refused' in across) return across;
    creases.push(...across.creases);
    changed.push(...across.changed);
  }
  // the flap opens flat first: from there its two halves go to either side
  const closed = withoutDoubles(packs.ridges.flatMap(({ crease }) => wholeEdge(fold, crease)));
  const turned = packs.ridges.map(
    ({ crease, from, to }): NewCrease => ({ from, to, angle: -fold.angle[crease]! }),
  );
  return {
    creases,
    changed: withoutDoubles([...changed, ...turned]),
    closed,
    through: [[...creases, ...closed].map((one) => ({ ...one, angle: 0 }))],
    panels,
    region: [side],
    apart: [...packs.upper],
  };
}

/** Does the paper of a flap lie on one and the same side of all its ridges, along the line? */
function opensOnOneSide(paper: LyingPaper, ridges: readonly Joint[], { way }: Ray): boolean {
  const sides = ridges.map(({ crease }) => {
    // paper lies on the left of a half-edge; a panel that is turned over lies on its right as the normal sees it
    const h = 2 * crease;
    const panel = paper.sheet.halfEdgePanel[h]!;
    const [from, to] = [halfEdgeOrigin(paper.sheet, h), halfEdgeEnd(paper.sheet, h)].map((v) =>
      placeOf(paper, panel, [paper.sheet.vertexX[v]!, paper.sheet.vertexY[v]!]),
    ) as [Point, Point];
    const { inward } = leftOf(from, to);
    return Math.sign(paper.stacks.planes.up[panel]! * (inward[0] * way[0] + inward[1] * way[1]));
  });
  return new Set(sides).size === 1;
}

/** Ridges that the line crosses: their whole edge goes on past the part beyond it. */
function cutRidges(paper: LyingPaper, ridges: readonly Joint[], side: HalfPlane): Joint[] {
  return ridges.filter((ridge) =>
    wholeEdge(paper, ridge.crease).some(({ from, to }) =>
      [from, to].some((p) => offRim(side, placeOf(paper, ridge.beyond, p)) < -ON_LINE),
    ),
  );
}

/** The folded edge that a crease is part of: creases that run on straight from it past corners where nothing else folds. */
function wholeEdge({ sheet, angle }: LyingPaper, crease: number): NewCrease[] {
  const alike = creasesInLine(sheet, [crease]).filter(
    (one) => Math.abs(angle[one]! - angle[crease]!) < FOLDED_FLAT,
  );
  const goesOn = (v: number) =>
    creasesAround(sheet, v).every((h) => Math.abs(angle[h >> 1]!) < FOLDED_FLAT || alike.includes(h >> 1));
  const endsOf = (one: number) => [sheet.creaseFrom[one]!, sheet.creaseTo[one]!];
  const edge = new Set([crease]);
  const ends = new Set(endsOf(crease).filter(goesOn));
  for (let before = -1; before !== edge.size; ) {
    before = edge.size;
    for (const one of alike) {
      if (!endsOf(one).some((v) => ends.has(v))) continue;
      edge.add(one);
      for (const v of endsOf(one).filter(goesOn)) ends.add(v);
    }
  }
  const corner = (v: number): Point => [sheet.vertexX[v]!, sheet.vertexY[v]!];
  return [...edge].map((one) => ({
    from: corner(sheet.creaseFrom[one]!),
    to: corner(sheet.creaseTo[one]!),
    angle: angle[one]!,
  }));
}
