/**
 * Paper that lies folded in one plane, measured in the plane's own coordinates: which part of it lies in a region, what
 * hangs together there, and where a line runs through it.
 */

import type { Stacks } from '../../layer/stacks.ts';
import { COPLANAR, ON_LINE } from '../../numeric/tolerance.ts';
import { between, distance, dot, type Point, type Space } from '../../numeric/vector.ts';
import { type Placement, placePoint } from '../../pose/place.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin, panelContaining, panelRing } from '../../sheet/walk.ts';

/** One plane of a pose and the paper in it. */
export interface LyingPaper {
  readonly sheet: Sheet;
  /** Fold angle per crease of the pose, radians. */
  readonly angle: Float64Array;
  readonly placement: Placement;
  readonly stacks: Stacks;
  readonly group: number;
}

/** Half of the plane: the points to which `inward` (unit length) leads from a point of its rim. */
export interface HalfPlane {
  readonly rim: Point;
  readonly inward: Point;
}

/** What all its half planes have in common: one for the paper beyond a line, two for a wedge. */
export type Region = readonly HalfPlane[];

/** A straight line, or the half of it that leaves `from`. */
export interface Ray {
  readonly from: Point;
  /** Unit length. */
  readonly way: Point;
  readonly endless: boolean;
}

/** The plane's own coordinates of a place in space. */
export function ownPlace({ stacks, group }: LyingPaper, at: Space): Point {
  const { across, along } = stacks.planes.groups[group]!;
  return [dot(at, across), dot(at, along)];
}

const scratch = new Float64Array(3);

/** Where a flat point of a panel lies in the plane. */
export function placeOf(paper: LyingPaper, panel: number, [x, y]: Point): Point {
  placePoint(scratch, 0, paper.placement, panel, x, y);
  return ownPlace(paper, [scratch[0]!, scratch[1]!, scratch[2]!]);
}

/** The left of the way from one point to another, counter-clockwise as the plane's normal sees it. */
export function leftOf(from: Point, to: Point): HalfPlane {
  const length = distance(from, to);
  return { rim: from, inward: [(from[1] - to[1]) / length, (to[0] - from[0]) / length] };
}

export const offRim = ({ rim, inward }: HalfPlane, p: Point) =>
  inward[0] * (p[0] - rim[0]) + inward[1] * (p[1] - rim[1]);

export const isInside = (region: Region, p: Point) => region.every((half) => offRim(half, p) > ON_LINE);

/** The share of a stretch, from 0 to 1, that lies inside a region; null where none does. */
export function shareInside(region: Region, a: Point, b: Point): readonly [number, number] | null {
  let [low, high] = [0, 1];
  for (const half of region) {
    const [p, q] = [offRim(half, a), offRim(half, b)];
    if (p <= ON_LINE && q <= ON_LINE) return null;
    if (p < 0) low = Math.max(low, p / (p - q));
    if (q < 0) high = Math.min(high, p / (p - q));
  }
  const [from, to] = [between(a, b, low), between(a, b, high)];
  return low < high && distance(from, to) > ON_LINE && isInside(region, between(from, to, 0.5))
    ? [low, high]
    : null;
}

export const halfEdgesOf = (sheet: Sheet, panel: number) =>
  sheet.panelRings[panel]!.flatMap((ring) => panelRing(sheet, ring));

const corner = ({ vertexX, vertexY }: Sheet, v: number): Point => [vertexX[v]!, vertexY[v]!];
const endsOf = (sheet: Sheet, h: number): readonly [Point, Point] => [
  corner(sheet, halfEdgeOrigin(sheet, h)),
  corner(sheet, halfEdgeEnd(sheet, h)),
];

/** Does paper of a panel lie inside a region? */
export function reaches(paper: LyingPaper, panel: number, region: Region): boolean {
  return halfEdgesOf(paper.sheet, panel).some((h) => partOf(paper, panel, h, region) !== null);
}

function partOf(paper: LyingPaper, panel: number, h: number, region: Region): readonly [Point, Point] | null {
  const [a, b] = endsOf(paper.sheet, h);
  const share = shareInside(region, placeOf(paper, panel, a), placeOf(paper, panel, b));
  return share && [between(a, b, share[0]), between(a, b, share[1])];
}

/** The part of a panel's outline inside a region, in the plane's own coordinates. */
export function outlineInside(paper: LyingPaper, panel: number, region: Region): Point[] {
  const { sheet } = paper;
  let outline = panelRing(sheet, sheet.panelRings[panel]![0]!).map((h) =>
    placeOf(paper, panel, corner(sheet, halfEdgeOrigin(sheet, h))),
  );
  for (const half of region)
    outline = outline.flatMap((here, k) => {
      const next = outline[(k + 1) % outline.length]!;
      const [p, q] = [offRim(half, here), offRim(half, next)];
      const own = p >= 0 ? [here] : [];
      return p >= 0 === q >= 0 ? own : [...own, between(here, next, p / (p - q))];
    });
  return outline;
}

/** A crease that joins a panel to another, and the part of it in question, on the flat sheet. */
export interface Joint {
  readonly crease: number;
  readonly beyond: number;
  readonly from: Point;
  readonly to: Point;
}

const joins = (sheet: Sheet, h: number) =>
  sheet.halfEdgePanel[h ^ 1] !== NONE && kindJoinsPanels(sheet.creaseKind[h >> 1]!);

/** Where a panel hangs together with others inside a region. */
export function jointsInside(paper: LyingPaper, panel: number, region: Region): Joint[] {
  return halfEdgesOf(paper.sheet, panel).flatMap((h): Joint[] => {
    const part = joins(paper.sheet, h) ? partOf(paper, panel, h, region) : null;
    return part
      ? [{ crease: h >> 1, beyond: paper.sheet.halfEdgePanel[h ^ 1]!, from: part[0], to: part[1] }]
      : [];
  });
}

const alongRay = ({ from, way }: Ray, p: Point) => (p[0] - from[0]) * way[0] + (p[1] - from[1]) * way[1];
const offRay = ({ from, way }: Ray, p: Point) => (p[1] - from[1]) * way[0] - (p[0] - from[0]) * way[1];

/**
 * Creases of a panel that run along a line, whole.
 * @param cut those too that begin before the line does: the part on it
 */
export function jointsAlong(paper: LyingPaper, panel: number, ray: Ray, cut = false): Joint[] {
  return halfEdgesOf(paper.sheet, panel).flatMap((h): Joint[] => {
    if (!joins(paper.sheet, h)) return [];
    let [from, to] = endsOf(paper.sheet, h);
    const places = [placeOf(paper, panel, from), placeOf(paper, panel, to)] as const;
    const [p, q] = places.map((place) => alongRay(ray, place)) as [number, number];
    const begins = ray.endless || Math.min(p, q) >= -ON_LINE;
    const lies = places.every((place) => Math.abs(offRay(ray, place)) <= ON_LINE) && (begins || cut);
    if (lies && !begins) {
      if (Math.max(p, q) <= ON_LINE) return [];
      const start = between(from, to, p / (p - q));
      [from, to] = p < 0 ? [start, to] : [from, start];
    }
    return lies ? [{ crease: h >> 1, beyond: paper.sheet.halfEdgePanel[h ^ 1]!, from, to }] : [];
  });
}

/** The pieces of a line that run through the inside of a panel, on the flat sheet. */
export function piecesThrough(paper: LyingPaper, panel: number, ray: Ray): (readonly [Point, Point])[] {
  const { sheet } = paper;
  const cuts: { readonly flat: Point; readonly along: number }[] = [];
  const meets = (flat: Point) => cuts.push({ flat, along: alongRay(ray, placeOf(paper, panel, flat)) });
  for (const h of halfEdgesOf(sheet, panel)) {
    const [a, b] = endsOf(sheet, h);
    const [p, q] = [offRay(ray, placeOf(paper, panel, a)), offRay(ray, placeOf(paper, panel, b))];
    if (Math.abs(p) <= COPLANAR) meets(a);
    else if (Math.abs(q) > COPLANAR && p > 0 !== q > 0) meets(between(a, b, p / (p - q)));
  }
  const sorted = cuts.sort((a, b) => a.along - b.along);
  return sorted.slice(1).flatMap((to, k) => {
    let from = sorted[k]!;
    if (!ray.endless && to.along <= ON_LINE) return [];
    if (!ray.endless && from.along < -ON_LINE)
      from = { flat: between(from.flat, to.flat, from.along / (from.along - to.along)), along: 0 };
    const middle = between(from.flat, to.flat, 0.5);
    const isPiece =
      to.along - from.along > ON_LINE &&
      panelContaining(sheet, ...middle) === panel &&
      !liesOnBoundary(sheet, panel, middle);
    return isPiece ? [[from.flat, to.flat] as const] : [];
  });
}

/** A line that runs along a crease is there already. */
function liesOnBoundary(sheet: Sheet, panel: number, middle: Point): boolean {
  return halfEdgesOf(sheet, panel).some((h) => {
    const [a, b] = endsOf(sheet, h);
    const length = distance(a, b);
    const way: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const ray = { from: a, way, endless: true };
    const t = alongRay(ray, middle);
    return Math.abs(offRay(ray, middle)) < ON_LINE && t > 0 && t < length;
  });
}
