/**
 * Squash and petal fold: the upper half of a flap turns over a line that starts at a folded edge, the edge opens and is
 * pressed flat onto that line, and the paper beside it follows. At the corner where line and edge meet, the edge as far
 * as it stays closed, the line, and one new crease in either half end. Of the sectors a, b, c, d between them a + c is half a turn,
 * whatever the new creases are, as long as both halves have them at the same place; the edge lies on the line when they
 * halve the angle between the two. A petal fold does so at both ends of its line at once.
 */
import { FOLDED_FLAT, ON_LINE } from '../../numeric/tolerance.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import { creasesAcross, type DrawnLine, movingSide, wayOf } from './fold-across.ts';
import {
  donePlans,
  type Folded,
  type FoldPlan,
  type NewCrease,
  type Refusal,
  refuse,
  withoutDoubles,
} from './folded.ts';
import { hangingTogether } from './hang.ts';
import {
  type HalfPlane,
  halfEdgesOf,
  type Joint,
  jointsAlong,
  type LyingPaper,
  leftOf,
  offRim,
  ownPlace,
  piecesThrough,
  placeOf,
  type Ray,
  type Region,
} from './in-plane.ts';
import { wholeLayers } from './layers-under.ts';

interface SpreadFold extends LyingPaper, DrawnLine {
  /** Layers that turn over the line; what hangs on them in the part that moves is taken along. */
  readonly panels: readonly number[];
  readonly way: 'squash' | 'petal';
}

/** One end of the line: where it meets the folded edge, and what follows from that. */
interface End {
  /** The edge, from the line on; and the crease that halves the angle between the two. */
  readonly edge: Ray;
  readonly halving: Ray;
  /** The flap's side of the edge. */
  readonly inner: HalfPlane;
}

/** Every way to squash or petal-fold, in the order in which the layers have their folded edges, or why there is none. */
export function spreadFolds(fold: SpreadFold): readonly FoldPlan[] | Refusal {
  const { side } = movingSide(fold, fold);
  const [a, b] = [ownPlace(fold, fold.from), ownPlace(fold, fold.to)];
  const [atA, atB] = [endsAt(fold, side, a, b), endsAt(fold, side, b, a)];
  const wanted: End[][] =
    fold.way === 'petal'
      ? atA.flatMap((one) => atB.map((other) => [one, other]))
      : [...atA, ...atB].map((one) => [one]);
  if (wanted.length === 0)
    return refuse({ how: fold.way === 'squash' ? 'squash-needs-edge' : 'petal-needs-edges' });
  return donePlans(wanted.map((ends) => spread(fold, side, ends)));
}

/** The folded edges that leave one end of the line on the moving side. */
function endsAt(fold: SpreadFold, side: HalfPlane, at: Point, other: Point): End[] {
  const { sheet, angle } = fold;
  const line = wayOf(at, other);
  const ends: End[] = [];
  for (const panel of wholeLayers(fold, fold.panels))
    for (const h of halfEdgesOf(sheet, panel)) {
      if (Math.abs(angle[h >> 1]!) <= FOLDED_FLAT || Number.isNaN(angle[h >> 1]!)) continue;
      const places = [sheet.creaseFrom[h >> 1]!, sheet.creaseTo[h >> 1]!].map((v) =>
        placeOf(fold, panel, [sheet.vertexX[v]!, sheet.vertexY[v]!]),
      ) as [Point, Point];
      if (!liesBetween(at, places)) continue;
      const far = places.find((p) => offRim(side, p) > ON_LINE);
      if (!far) continue;
      const edge: Ray = { from: at, way: wayOf(at, far), endless: false };
      if (ends.some((one) => sameWay(one.edge.way, edge.way))) continue;
      const inner = flapSide(edge, line);
      ends.push({ edge, inner, halving: { from: at, way: halfway(line, edge.way), endless: false } });
    }
  return ends;
}

function liesBetween(p: Point, [a, b]: readonly [Point, Point]): boolean {
  const length = distance(a, b);
  const way = wayOf(a, b);
  const along = way[0] * (p[0] - a[0]) + way[1] * (p[1] - a[1]);
  const off = way[0] * (p[1] - a[1]) - way[1] * (p[0] - a[0]);
  return Math.abs(off) < ON_LINE && along > -ON_LINE && along < length + ON_LINE;
}

const sameWay = (a: Point, b: Point) => distance(a, b) < ON_LINE;

function halfway(a: Point, b: Point): Point {
  const length = Math.hypot(a[0] + b[0], a[1] + b[1]);
  return [(a[0] + b[0]) / length, (a[1] + b[1]) / length];
}

/** The side of an edge on which the line runs. */
function flapSide({ from, way }: Ray, line: Point): HalfPlane {
  const left = leftOf(from, [from[0] + way[0], from[1] + way[1]]);
  const isLeft = left.inward[0] * line[0] + left.inward[1] * line[1] > 0;
  return isLeft ? left : { rim: from, inward: [-left.inward[0], -left.inward[1]] };
}

function spread(fold: SpreadFold, side: HalfPlane, ends: readonly End[]): Folded {
  const region: Region = [side, ...ends.map(({ inner }) => inner)];
  const turning = hangingTogether(fold, [region], fold.panels, true);
  if ('refused' in turning) return turning;
  const ridges = ends.map((end) => ridgesAlong(fold, turning, end));
  const beside = ends.map(({ halving, inner }): Region => [side, flapBeside(halving, inner), inner]);
  const following = hangingTogether(
    fold,
    beside,
    ridges.flat().map(({ beyond }) => beyond),
    true,
  );
  if ('refused' in following) return following;
  const moving = [...turning, ...following].sort((p, q) => p - q);
  if (ridges.some((own) => own.length === 0) || [...following].some((panel) => turning.has(panel)))
    return refuse({ how: `${fold.way}-no-halves` }, ...moving);
  const past = moving.find((panel) => ends.some(({ edge }) => piecesThrough(fold, panel, edge).length > 0));
  if (past !== undefined) return refuse({ how: 'past-edge', panel: past }, past);
  if (halvingsCross(fold, ends, moving)) return refuse({ how: 'creases-cross' }, ...moving);
  return planOf(fold, ends, region, { turning, following, ridges: ridges.flat(), beside });
}

/** The folded creases along an edge at which the turning half hangs on other paper. */
function ridgesAlong(fold: SpreadFold, turning: ReadonlySet<number>, { edge }: End): Joint[] {
  return [...turning].flatMap((panel) =>
    jointsAlong(fold, panel, edge, true).filter(
      ({ crease, beyond }) => Math.abs(fold.angle[crease]!) > FOLDED_FLAT && !turning.has(beyond),
    ),
  );
}

/** Do the new creases of a petal fold meet before they leave the paper? */
function halvingsCross(fold: SpreadFold, ends: readonly End[], moving: readonly number[]): boolean {
  const [one, other] = ends.map(({ halving }) => halving);
  if (!one || !other) return false;
  const rim = leftOf(other.from, [other.from[0] + other.way[0], other.from[1] + other.way[1]]);
  return moving.some((panel) =>
    piecesThrough(fold, panel, one).some((piece) => {
      const [p, q] = piece.map((flat) => offRim(rim, placeOf(fold, panel, flat))) as [number, number];
      return Math.min(Math.abs(p), Math.abs(q)) > ON_LINE && p > 0 !== q > 0;
    }),
  );
}

interface Halves {
  /** Panels that turn over the line, and those that only their edge takes along. */
  readonly turning: ReadonlySet<number>;
  readonly following: ReadonlySet<number>;
  readonly ridges: readonly Joint[];
  /** Per end: between the halving crease and the edge. */
  readonly beside: readonly Region[];
}

function planOf(
  fold: SpreadFold,
  ends: readonly End[],
  region: Region,
  { turning, following, ridges, beside }: Halves,
): Folded {
  const { toward } = fold;
  const away = -toward as 1 | -1;
  const moving = new Set([...turning, ...following]);
  const hinge = hingeOf(fold, ends);
  const creases: NewCrease[] = [];
  const changed: NewCrease[] = [];
  const turns: Turning[] = [];
  for (const { crease, from, to } of ridges) {
    changed.push({ from, to, angle: 0 });
    turns.push({ from, to, angle: 0, before: fold.angle[crease]! });
  }
  const along = (panel: number, line: Ray, way: 1 | -1, beyond: Region, half?: number): Refusal | null => {
    const across = creasesAcross(fold, panel, line, way, { side: beyond, moving });
    if ('refused' in across) return across;
    creases.push(...across.creases);
    changed.push(...across.changed);
    const angle = Math.PI * way * fold.stacks.planes.up[panel]!;
    for (const one of [...across.creases, ...across.changed])
      turns.push({ ...one, before: one.angle - angle, ...(half === undefined ? {} : { half }) });
    return null;
  };
  for (const panel of moving) {
    const refused = turning.has(panel) ? along(panel, hinge, toward, region) : null;
    if (refused) return refused;
    for (const [k, { halving, edge }] of ends.entries()) {
      const half = Math.acos(halving.way[0] * edge.way[0] + halving.way[1] * edge.way[1]);
      const stopped = along(panel, halving, turning.has(panel) ? away : toward, beside[k]!, half);
      if (stopped) return stopped;
    }
  }
  return {
    creases,
    changed: withoutDoubles(changed),
    closed: [],
    through: SHARES.map((share) => withoutDoubles(turns.map((one) => onTheWay(one, share)))),
    panels: [...moving].sort((p, q) => p - q),
    region,
    apart: [],
  };
}

/** A crease that turns: the angle it begins at; and of a halving crease, the half angle between edge and line. */
interface Turning extends NewCrease {
  readonly before: number;
  readonly half?: number;
}

/** The poses gone through, in shares of the half turn that the flap makes over the line. */
const SHARES = [1 / 6, 1 / 3, 1 / 2, 2 / 3, 5 / 6];

/**
 * The angle of a crease when the flap has turned over the line by a share of half a turn. Line, edge and the two new
 * creases are a spherical linkage with four equal arms: edge and line open alike, and with a right angle between its
 * diagonals, cos(arm) = cot(opening / 2) * cot(other opening / 2).
 */
function onTheWay({ from, to, angle, before, half }: Turning, share: number): NewCrease {
  if (half === undefined) return { from, to, angle: before + share * (angle - before) };
  const other = 2 * Math.atan2(1, Math.cos(half) * Math.tan((share * Math.PI) / 2));
  return { from, to, angle: before + ((Math.PI - other) / Math.PI) * (angle - before) };
}

/** The line as far as the flap turns over it: from one end, or between the two. */
function hingeOf(fold: SpreadFold, [end]: readonly End[]): Ray {
  const [a, b] = [ownPlace(fold, fold.from), ownPlace(fold, fold.to)];
  const { from } = end!.edge;
  return { from, way: wayOf(from, distance(from, a) < ON_LINE ? b : a), endless: false };
}

/** The side of a halving crease on which its edge lies. */
function flapBeside({ from, way }: Ray, inner: HalfPlane): HalfPlane {
  const left = leftOf(from, [from[0] + way[0], from[1] + way[1]]);
  const isInner = left.inward[0] * inner.inward[0] + left.inward[1] * inner.inward[1] < 0;
  return isInner ? left : { rim: from, inward: [-left.inward[0], -left.inward[1]] };
}
