/**
 * What a drawing nearly has: lines square to each other or at half and quarter right angles, lines at one place, equal
 * spacings, mirror lines. Each as conditions that true-up can hold; all are linear once the drawing's own direction and
 * middle are known, and those are taken where they fit best.
 */
import type { Point } from '../numeric/vector.ts';
import { kindJoinsPanels } from './kind.ts';
import type { Sheet } from './sheet.ts';
import type { Condition } from './true-conditions.ts';
import { creaseCount } from './walk.ts';

type RelationName =
  | 'halved angles'
  | 'right angles'
  | 'lines at one place'
  | 'equal spacings'
  | 'mirror lines'
  | 'slants';

export interface Relation {
  readonly name: RelationName;
  readonly conditions: readonly Condition[];
}

/** A straight line: its points in order. */
type Line = readonly number[];

/**
 * Relations that hold when no vertex moves much further than `slack`, the surest first.
 * @param lines all straight lines of the sheet
 * @param direction the sheet's own (radians), see `ownDirection`
 */
export function nearRelations(
  sheet: Sheet,
  lines: readonly Line[],
  slack: number,
  direction: number,
): Relation[] {
  const [c, s] = [Math.cos(direction), Math.sin(direction)];
  const turned: Turned = {
    sheet,
    axes: [
      [c, s],
      [-s, c],
    ],
  };
  const slants = lines.flatMap((line) => slantOf(turned, line, slack));
  const upright = [0, 4].map((eighth) => slants.filter((one) => one.eighth === eighth));
  const placed = upright.map((own, axis) => placesOf(turned, own, axis as 0 | 1, slack));
  const relations: Relation[] = [
    {
      name: 'right angles',
      conditions: slants.filter(({ eighth }) => eighth % 4 === 0).map(parallelTo(turned)),
    },
    { name: 'lines at one place', conditions: placed.flatMap((places) => places.flatMap(samePlace(turned))) },
    { name: 'mirror lines', conditions: mirrors(turned, slack) },
    { name: 'slants', conditions: slants.filter(({ eighth }) => eighth % 4 !== 0).map(parallelTo(turned)) },
    { name: 'equal spacings', conditions: equalSpacings(turned, placed.flat(), slack) },
  ];
  return relations.filter(({ conditions }) => conditions.length > 0);
}

/** A sheet with the direction that most of its lines are parallel or square to. */
interface Turned {
  readonly sheet: Sheet;
  /** Directions along and across, unit length. */
  readonly axes: readonly [Point, Point];
}

const along = ({ vertexX, vertexY }: Sheet, v: number, [dx, dy]: Point) =>
  vertexX[v]! * dx + vertexY[v]! * dy;

const EIGHTH = Math.PI / 8;

/** The direction (radians) that the greatest length of lines follows, by quarter turns, where it fits them best. */
export function ownDirection(sheet: Sheet, lines: readonly Line[], slack: number): number {
  const known = lines.map((line) => directionOf(sheet, line));
  const fits = (angle: number) =>
    known.filter((one) => Math.abs(offBy(one.angle - angle, 4 * EIGHTH)) * one.length <= 2 * slack);
  const total = (list: readonly { length: number }[]) => list.reduce((sum, { length }) => sum + length, 0);
  const best = known
    .map(({ angle }) => ({ angle, own: fits(angle) }))
    .reduce((most, one) => (total(one.own) > total(most.own) + 1e-9 ? one : most), {
      angle: 0,
      own: [] as typeof known,
    });
  // turning a line moves its ends by half its length, so that squares of lengths weigh as moves do
  const weight = best.own.reduce((sum, { length }) => sum + length ** 2, 0);
  const turn = best.own.reduce(
    (sum, one) => sum + one.length ** 2 * offBy(one.angle - best.angle, 4 * EIGHTH),
    0,
  );
  return weight > 0 ? best.angle + turn / weight : 0;
}

/** By how much a direction misses the page's own axes, radians. */
export const offUpright = (direction: number) => offBy(direction, 4 * EIGHTH);

function directionOf({ vertexX, vertexY }: Sheet, line: Line): { angle: number; length: number } {
  const [a, b] = [line[0]!, line.at(-1)!];
  const [dx, dy] = [vertexX[b]! - vertexX[a]!, vertexY[b]! - vertexY[a]!];
  return { angle: Math.atan2(dy, dx), length: Math.hypot(dx, dy) };
}

/** By how much an angle misses the nearest multiple of a step. */
const offBy = (angle: number, step: number) => angle - Math.round(angle / step) * step;

/** A line with the direction it nearly has, in eighths of a half turn from the sheet's own. */
interface Slant {
  readonly line: Line;
  readonly eighth: number;
}

/** A direction that more than this share of all directions would fit is no finding. */
const CHANCE = 1 / 8;

/** The simplest direction within slack: a right angle, else a half, else a quarter of one; none of that fits by chance. */
function slantOf({ sheet, axes }: Turned, line: Line, slack: number): Slant[] {
  const { angle, length } = directionOf(sheet, line);
  const own = angle - Math.atan2(axes[0][1], axes[0][0]);
  for (const step of [4, 2, 1]) {
    const within = (2 * slack) / length;
    if (within / (step * EIGHTH) > CHANCE / 2) return [];
    if (Math.abs(offBy(own, step * EIGHTH)) > within) continue;
    const eighth = (((Math.round(own / (step * EIGHTH)) * step) % 8) + 8) % 8;
    return [{ line, eighth }];
  }
  return [];
}

/** A value that must be 0: products of vertices with constant vectors, less a constant. */
function linear(terms: readonly (readonly [number, Point])[], less = 0): Condition {
  const merged = new Map<number, Point>();
  for (const [v, [dx, dy]] of terms) {
    const [x, y] = merged.get(v) ?? [0, 0];
    merged.set(v, [x + dx, y + dy]);
  }
  const list = [...merged];
  return {
    size: 1,
    vertices: list.map(([v]) => v),
    evaluate: (x, y) =>
      Float64Array.of(list.reduce((sum, [v, [dx, dy]]) => sum + x[v]! * dx + y[v]! * dy, -less)),
  };
}

const scaled = ([x, y]: Point, by: number): Point => [x * by, y * by];

const parallelTo =
  ({ axes }: Turned) =>
  ({ line, eighth }: Slant): Condition => {
    const [c, s] = [Math.cos(eighth * EIGHTH), Math.sin(eighth * EIGHTH)];
    const [[ax, ay], [bx, by]] = axes;
    const square: Point = [c * bx - s * ax, c * by - s * ay];
    return linear([
      [line.at(-1)!, square],
      [line[0]!, scaled(square, -1)],
    ]);
  };

/** Parallel lines at one place across them. */
interface Place {
  readonly lines: readonly Line[];
  /** Direction in which places are counted. */
  readonly axis: 0 | 1;
  readonly at: number;
}

/** @param axis along which the lines run */
function placesOf(turned: Turned, slants: readonly Slant[], axis: 0 | 1, slack: number): Place[] {
  const across = (1 - axis) as 0 | 1;
  const middle = (line: Line) =>
    line.reduce((sum, v) => sum + along(turned.sheet, v, turned.axes[across]), 0) / line.length;
  const lines = slants.map(({ line }) => ({ line, at: middle(line) }));
  return clusters(lines, ({ at }) => at, slack).map((own) => ({
    lines: own.map(({ line }) => line),
    axis: across,
    at: own.reduce((sum, { at }) => sum + at, 0) / own.length,
  }));
}

const samePlace =
  ({ axes }: Turned) =>
  ({ lines, axis }: Place): Condition[] =>
    lines.slice(1).map((line, k) =>
      linear([
        [line[0]!, axes[axis]],
        [lines[k]![0]!, scaled(axes[axis], -1)],
      ]),
    );

/** Values that lie together, sorted; a bunch that is wider than two values may be apart is let be. */
function clusters<T>(list: readonly T[], placeOf: (one: T) => number, slack: number): T[][] {
  const sorted = [...list].sort((a, b) => placeOf(a) - placeOf(b));
  const found: T[][] = [];
  for (const one of sorted) {
    const last = found.at(-1);
    if (last && placeOf(one) - placeOf(last.at(-1)!) <= 2 * slack) last.push(one);
    else found.push([one]);
  }
  return found.flatMap((own) =>
    placeOf(own.at(-1)!) - placeOf(own[0]!) <= 4 * slack ? [own] : own.map((one) => [one]),
  );
}

function equalSpacings({ axes }: Turned, places: readonly Place[], slack: number): Condition[] {
  const gaps = ([0, 1] as const).flatMap((axis) => {
    const own = places.filter((place) => place.axis === axis).sort((a, b) => a.at - b.at);
    return own.slice(1).map((to, k) => ({ from: own[k]!, to, axis, width: to.at - own[k]!.at }));
  });
  return clusters(gaps, ({ width }) => width, 1.5 * slack).flatMap((equal) =>
    equal.slice(1).map((gap, k) => {
      const other = equal[k]!;
      return linear([
        [gap.to.lines[0]![0]!, axes[gap.axis]],
        [gap.from.lines[0]![0]!, scaled(axes[gap.axis], -1)],
        [other.to.lines[0]![0]!, scaled(axes[other.axis], -1)],
        [other.from.lines[0]![0]!, axes[other.axis]],
      ]);
    }),
  );
}

/** Mirror lines that the whole pattern nearly has. */
function mirrors({ sheet, axes }: Turned, slack: number): Condition[] {
  const middle = middleOf(sheet);
  const [[ax, ay]] = axes;
  return mirrorAngles(sheet, middle, Math.atan2(ay, ax), slack).flatMap((angle) => {
    const normal = squareTo(angle);
    const image = imagesIn(sheet, middle, normal, 3 * slack);
    return image ? mirrored(image, middle, normal) : [];
  });
}

const squareTo = (angle: number): Point => [-Math.sin(angle), Math.cos(angle)];

/** A mirror line goes through the middle of all vertices. */
function middleOf({ vertexX, vertexY }: Sheet): Point {
  const mean = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0) / list.length;
  return [mean(vertexX), mean(vertexY)];
}

/**
 * Directions of all mirror lines, 0 to a half turn. Two mirror lines turn a pattern onto itself by twice the angle between
 * them, so that n of them stand evenly, a half turn by n apart; and one of them often lies along the sheet's own lines.
 */
function mirrorAngles(sheet: Sheet, middle: Point, direction: number, slack: number): number[] {
  const found = candidateAngles(sheet, middle, slack)
    .flatMap((angle) => {
      // a direction from one pair of vertices is rough; the one that fits all of them has to serve
      const rough = imagesIn(sheet, middle, squareTo(angle), 6 * slack);
      if (!rough) return [];
      const fitted = fittedMirror(sheet, middle, rough);
      return imagesIn(sheet, middle, squareTo(fitted), 3 * slack) ? [fitted] : [];
    })
    .sort((a, b) => a - b);
  const all = found.filter((angle, k) => k === 0 || angle - found[k - 1]! > NEAR);
  if (all.length > 1 && all.at(-1)! - all[0]! > Math.PI - NEAR) all.pop();
  if (all.length === 0) return [];
  const step = Math.PI / all.length;
  const base = all.reduce((sum, angle, k) => sum + angle - k * step, 0) / all.length;
  if (all.some((angle, k) => Math.abs(angle - base - k * step) > NEAR)) return all.slice(0, 1);
  const even = all.map((_, k) => base + k * step);
  const along = even.find((angle) => Math.abs(offBy(angle - direction, EIGHTH)) <= NEAR / 2);
  const turn = along === undefined ? 0 : offBy(along - direction, EIGHTH);
  return even.map((angle) => angle - turn);
}

/** Mirror lines stand further apart than this, radians: of no more than a hundred of them. */
const NEAR = Math.PI / 100;

/** Directions in which the vertex that is furthest from the middle would have some vertex for its image. */
function candidateAngles({ vertexX, vertexY }: Sheet, [mx, my]: Point, slack: number): number[] {
  const polar = Array.from(vertexX, (x, v) => ({
    far: Math.hypot(x - mx, vertexY[v]! - my),
    angle: Math.atan2(vertexY[v]! - my, x - mx),
  }));
  const first = polar.reduce((most, one) => (one.far > most.far ? one : most));
  return polar
    .filter(({ far }) => first.far - far <= 3 * slack)
    .map(({ angle }) => (first.angle + angle) / 2);
}

/** The direction, 0 to a half turn, of the mirror line that takes vertices nearest to their images (least squares). */
function fittedMirror({ vertexX, vertexY }: Sheet, [mx, my]: Point, image: readonly number[]): number {
  let [along, across] = [0, 0];
  image.forEach((other, v) => {
    const [px, py] = [vertexX[v]! - mx, vertexY[v]! - my];
    const [qx, qy] = [vertexX[other]! - mx, vertexY[other]! - my];
    along += px * qx - py * qy;
    across += px * qy + py * qx;
  });
  const angle = Math.atan2(across, along) / 2;
  return angle < -NEAR / 2 ? angle + Math.PI : angle;
}

/** The mirror image of each vertex, where all vertices and creases have one. */
function imagesIn(sheet: Sheet, middle: Point, normal: Point, within: number): number[] | null {
  const image = Array.from(sheet.vertexX, (x, v) => {
    const y = sheet.vertexY[v]!;
    const off = 2 * ((x - middle[0]) * normal[0] + (y - middle[1]) * normal[1]);
    return nearestVertex(sheet, x - off * normal[0], y - off * normal[1], within);
  });
  if (image.some((other, v) => other < 0 || image[other] !== v)) return null;
  const joins = new Map<string, boolean>();
  const name = (a: number, b: number) => `${Math.min(a, b)},${Math.max(a, b)}`;
  const ends = (e: number) => [sheet.creaseFrom[e]!, sheet.creaseTo[e]!] as const;
  for (let e = 0; e < creaseCount(sheet); e++)
    joins.set(name(...ends(e)), kindJoinsPanels(sheet.creaseKind[e]!));
  for (let e = 0; e < creaseCount(sheet); e++) {
    const [a, b] = ends(e);
    if (joins.get(name(image[a]!, image[b]!)) !== kindJoinsPanels(sheet.creaseKind[e]!)) return null;
  }
  return image;
}

function nearestVertex({ vertexX, vertexY }: Sheet, x: number, y: number, within: number): number {
  let [best, nearest] = [-1, within];
  vertexX.forEach((other, v) => {
    const far = Math.hypot(other - x, vertexY[v]! - y);
    if (far <= nearest) [best, nearest] = [v, far];
  });
  return best;
}

function mirrored(image: readonly number[], middle: Point, normal: Point): Condition[] {
  const square: Point = [-normal[1], normal[0]];
  const twice = 2 * (middle[0] * normal[0] + middle[1] * normal[1]);
  return image.flatMap((other, v) => {
    if (other < v) return [];
    const across = linear(
      [
        [v, normal],
        [other, normal],
      ],
      twice,
    );
    const level = linear([
      [v, square],
      [other, scaled(square, -1)],
    ]);
    return other === v ? [across] : [across, level];
  });
}
