/**
 * Areas in which parts of a folded sheet lie over one another, measured from the panels themselves: the net of a plane
 * has moved corners by up to its snapping distance, and no figure may jump by that.
 */

import { convexHull } from '../../numeric/plane.ts';
import { NO_AREA } from '../../numeric/tolerance.ts';
import { dot, flatDot, type Point, type Space } from '../../numeric/vector.ts';
import { placePoint } from '../../pose/place.ts';
import { meshOfPanel } from '../../sheet/panel-mesh.ts';
import { cellAt } from '../pieces.ts';
import type { PlaneGroup } from '../planes.ts';
import type { Parts } from './parts.ts';
import { Remembered } from './remembered.ts';
import type { Folded } from './sides.ts';

/** A point or direction in a plane's own coordinates. */
/** Convex pieces, counter-clockwise as the plane's normal looks. */
export type Region = readonly (readonly Point[])[];

export const back = ([x, y]: Point): Point => [-x, -y];
export const square = ([x, y]: Point): Point => [-y, x];

/** The area of the given cells over which all the wanted parts lie. */
export function regionOf(
  folded: Folded,
  parts: Parts,
  group: number,
  wanted: readonly number[],
  cells: ReadonlySet<number>,
): Region {
  const plane = folded.stacks.planes.groups[group]!;
  const name = `${group};${wanted.join()};${[...cells].join()}`;
  return regions.of(folded, name, () => cutOut(folded, parts, plane, wanted, cells));
}

const regions = new Remembered<Region>();

function cutOut(
  folded: Folded,
  parts: Parts,
  plane: PlaneGroup,
  wanted: readonly number[],
  cells: ReadonlySet<number>,
): Region {
  const layers = [...new Set(wanted)].map((part) => trianglesOf(folded, parts, plane, part));
  const [first, ...others] = layers;
  const pieces = others.reduce(
    (left, layer) => left.flatMap((piece) => layer.map((triangle) => clip(piece, triangle)).filter(hasArea)),
    first ?? [],
  );
  return pieces.filter((piece) => cells.has(cellAt(plane, ...middleOf(piece))));
}

/** How far a region's farthest point lies along a direction, from the plane's origin. */
export function farthest(region: Region, way: Point): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const piece of region) for (const point of piece) most = Math.max(most, flatDot(point, way));
  return most;
}

/** How far a region reaches along a direction of the plane, from end to end. */
export function extent(region: Region, way: Point): number {
  return region.length === 0 ? 0 : farthest(region, way) + farthest(region, back(way));
}

/** Directions square to the sides of a region's convex hull, outward, unit length. */
export function hullNormals(region: Region): Point[] {
  const points = region.flat();
  const hull = convexHull(
    Float64Array.from(points, ([x]) => x),
    Float64Array.from(points, ([, y]) => y),
  );
  return hull.flatMap((p, k): Point[] => {
    const [a, b] = [points[p]!, points[hull[(k + 1) % hull.length]!]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return length > 0 ? [[(b[1] - a[1]) / length, (a[0] - b[0]) / length]] : [];
  });
}

/** The mean of a region's corners. */
export function middleOf(points: readonly Point[]): Point {
  const sum = points.reduce(([x, y], [px, py]): Point => [x + px, y + py], [0, 0] as Point);
  return [sum[0] / points.length, sum[1] / points.length];
}

/** A place of space in a plane's own coordinates. */
export const inPlane = ({ across, along: up }: PlaneGroup, place: Space): Point => [
  dot(place, across),
  dot(place, up),
];

export function trianglesOf(folded: Folded, parts: Parts, plane: PlaneGroup, part: number): Point[][] {
  let known = trianglesKnown.get(plane);
  if (!known) trianglesKnown.set(plane, (known = []));
  const own = known;
  return plane.panels
    .filter((panel) => parts.partOf[panel] === part)
    .flatMap((panel) => (own[panel] ??= placeTriangles(folded, plane, panel)));
}

/** Triangles of each panel, which are the same whatever the order of its layers. */
const trianglesKnown = new WeakMap<PlaneGroup, Point[][][]>();

function placeTriangles({ sheet, placement }: Folded, plane: PlaneGroup, panel: number): Point[][] {
  const at = new Float64Array(3);
  const { corners, triangles } = meshOfPanel(sheet, panel);
  const places = corners.map((v) => {
    placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
    return inPlane(plane, [at[0]!, at[1]!, at[2]!]);
  });
  return Array.from({ length: triangles.length / 3 }, (_, k) => {
    const corner = [0, 1, 2].map((i) => places[triangles[3 * k + i]!]!);
    return areaOf(corner) < 0 ? corner.reverse() : corner;
  });
}

/** What of one convex piece lies in another: cut off along the other's sides, one after another. */
function clip(piece: readonly Point[], by: readonly Point[]): Point[] {
  return by.reduce<Point[]>(
    (left, a, k) => {
      const b = by[(k + 1) % by.length]!;
      const off = (p: Point) => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
      return left.flatMap((p, i): Point[] => {
        const q = left[(i + 1) % left.length]!;
        const [offP, offQ] = [off(p), off(q)];
        const kept: Point[] = offP >= 0 ? [p] : [];
        if (offP >= 0 === offQ >= 0) return kept;
        const share = offP / (offP - offQ);
        return [...kept, [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]];
      });
    },
    [...piece],
  );
}

function areaOf(piece: readonly Point[]): number {
  return (
    piece.reduce((sum, [x, y], k) => {
      const [nextX, nextY] = piece[(k + 1) % piece.length]!;
      return sum + x * nextY - y * nextX;
    }, 0) / 2
  );
}

const hasArea = (piece: readonly Point[]) => areaOf(piece) > NO_AREA;
