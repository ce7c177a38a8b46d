/** Creases as lines in space. */

import { ON_LINE } from '../../numeric/tolerance.ts';
import { cross, type Space } from '../../numeric/vector.ts';
import { type Placement, placePoint } from '../../pose/place.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { creasesAround } from '../../sheet/walk.ts';
import type { Folded } from './sides.ts';

/**
 * Creases that are one fold: on one line as folded, and either from corner to corner or, past a cut, on one
 * line of the flat sheet too. What merely comes to lie there is another fold.
 */
export function foldOf(folded: Folded, crease: number): ReadonlySet<number> {
  const known = knownOf(folded).folds;
  return (known[crease] ??= findFold(folded, crease));
}

/** What is the same for all orders of layers of a pose; per crease. */
interface KnownLines {
  readonly folds: ReadonlySet<number>[];
  readonly ends: Space[][];
}

const linesKnown = new WeakMap<Placement, KnownLines>();

function knownOf({ placement }: Folded): KnownLines {
  let known = linesKnown.get(placement);
  if (!known) linesKnown.set(placement, (known = { folds: [], ends: [] }));
  return known;
}

function findFold(folded: Folded, crease: number): Set<number> {
  const { sheet } = folded;
  const [space, flat] = [endsOf(folded, crease), flatEnds(sheet, crease)];
  const onLine = Array.from(sheet.creaseKind.keys()).filter(
    (one) => kindJoinsPanels(sheet.creaseKind[one]!) && isOn(space, endsOf(folded, one)),
  );
  const fold = new Set(onLine.filter((one) => isOn(flat, flatEnds(sheet, one))));
  for (const one of fold)
    for (const vertex of [sheet.creaseFrom[one]!, sheet.creaseTo[one]!])
      for (const h of creasesAround(sheet, vertex)) if (onLine.includes(h >> 1)) fold.add(h >> 1);
  return fold;
}

const isOn = (line: readonly Space[], points: readonly Space[]) =>
  points.every((point) => offLine(line, point) < ON_LINE);

const flatEnds = ({ creaseFrom, creaseTo, vertexX, vertexY }: Sheet, crease: number) =>
  [creaseFrom[crease]!, creaseTo[crease]!].map((v): Space => [vertexX[v]!, vertexY[v]!, 0]);

/** Where the ends of a crease stand. */
export function endsOf(folded: Folded, crease: number): readonly Space[] {
  return (knownOf(folded).ends[crease] ??= placeEnds(folded, crease));
}

function placeEnds({ sheet, placement }: Folded, crease: number): Space[] {
  const panel = Math.max(sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!);
  const at = new Float64Array(3);
  return [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!].map((v) => {
    placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
    return [at[0]!, at[1]!, at[2]!];
  });
}

function offLine([a, b]: readonly Space[], p: Space): number {
  const u: Space = [b![0] - a![0], b![1] - a![1], b![2] - a![2]];
  return Math.hypot(...cross(u, [p[0] - a![0], p[1] - a![1], p[2] - a![2]])) / Math.hypot(...u);
}
