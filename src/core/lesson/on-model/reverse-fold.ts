/**
 * The reverse folds: the tip of a flap is mirrored in a line as by a straight fold of all its layers, but it goes in
 * between its two halves (inside) or round them (outside). Both halves then fold to opposite sides, so that the two new
 * creases at a folded edge turn alike; for the corner where they meet it to have two more folds of one kind than of the
 * other, the edge beyond the line turns inside out.
 */
import { creasesInLine } from '../../sheet/walk.ts';
import { creasesAcross, type DrawnLine, movingSide } from './fold-across.ts';
import { type FoldPlan, type NewCrease, type Refusal, refuse, withoutDoubles } from './folded.ts';
import { hangingTogether } from './hang.ts';
import {
  type Flat,
  type HalfPlane,
  type Joint,
  type LyingPaper,
  offRim,
  placeOf,
  type Ray,
  reaches,
  UNFOLDED,
} from './in-plane.ts';
import { type Packs, packsOf } from './packs.ts';

export interface ReverseFold extends LyingPaper, DrawnLine {
  /** Panels of the flap; what hangs on them beyond the line is taken along. */
  readonly panels: readonly number[];
  readonly way: 'inside' | 'outside';
}

/** Every way to reverse a flap, the likeliest first, or why there is none. */
export function reverseFolds(fold: ReverseFold): readonly FoldPlan[] | Refusal {
  const { side, line } = movingSide(fold, fold);
  const taken = hangingTogether(fold, [side], fold.panels, true);
  if ('refused' in taken) return taken;
  const moving = [...taken].filter((panel) => reaches(fold, panel, [side])).sort((a, b) => a - b);
  const packs = packsOf(fold, moving, [side]).filter(({ ridges }) => cutRidges(fold, ridges, side).length > 0);
  if (packs.length === 0)
    return refuse(
      'A reverse fold needs a flap of two halves that hang together along a folded edge, and a line across that edge: draw it there.',
      ...moving,
    );
  return packs.map((one) => planOf(fold, one, side, line, moving));
}

function planOf(fold: ReverseFold, packs: Packs, side: HalfPlane, line: Ray, panels: readonly number[]): FoldPlan {
  const inward = fold.way === 'inside' ? 1 : -1;
  const across = panels.map((panel) =>
    creasesAcross(fold, panel, line, (packs.upper.has(panel) ? -inward : inward) as 1 | -1),
  );
  const turned = packs.ridges.map(
    ({ crease, from, to }): NewCrease => ({ from, to, angle: -fold.angle[crease]! }),
  );
  return {
    creases: across.flatMap(({ creases }) => creases),
    changed: withoutDoubles([...across.flatMap(({ changed }) => changed), ...turned]),
    opened: withoutDoubles(packs.ridges.flatMap(({ crease }) => wholeEdge(fold, crease))),
    panels,
    region: [side],
    apart: [...packs.upper],
  };
}

/** Ridges that the line crosses: their whole edge goes on past the part beyond it. */
function cutRidges(paper: LyingPaper, ridges: readonly Joint[], side: HalfPlane): Joint[] {
  return ridges.filter((ridge) =>
    wholeEdge(paper, ridge.crease).some(({ from, to }) =>
      [from, to].some((p) => offRim(side, placeOf(paper, ridge.beyond, p)) < -NEAR),
    ),
  );
}

/** Points nearer to a line than this lie on it, sheet units. */
const NEAR = 1e-6;

/** The folded edge that a crease is part of: creases that run on straight from it, folded alike. */
function wholeEdge({ sheet, angle }: LyingPaper, crease: number): NewCrease[] {
  const alike = creasesInLine(sheet, [crease]).filter((one) => Math.abs(angle[one]! - angle[crease]!) < UNFOLDED);
  const ends = new Set([sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!]);
  const edge = new Set<number>();
  for (let before = -1; before !== edge.size; ) {
    before = edge.size;
    for (const one of alike) {
      const own = [sheet.creaseFrom[one]!, sheet.creaseTo[one]!];
      if (!own.some((v) => ends.has(v))) continue;
      edge.add(one);
      for (const v of own) ends.add(v);
    }
  }
  const corner = (v: number): Flat => [sheet.vertexX[v]!, sheet.vertexY[v]!];
  return [...edge].map((one) => ({
    from: corner(sheet.creaseFrom[one]!),
    to: corner(sheet.creaseTo[one]!),
    angle: angle[one]!,
  }));
}
