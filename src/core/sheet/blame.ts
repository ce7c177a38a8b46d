/**
 * What one mistake may be behind corners that do not close: a crease that goes the wrong way, an angle that is off, a corner
 * out of place. Found by trying: the change makes every corner and hole close. Nothing is said where no single one does.
 */
import type { Finding } from '../finding/finding.ts';
import type { Behind } from '../finding/values/sheet.ts';
import { multiply, setFoldTurn } from '../numeric/rotation.ts';
import { DRAWN, OUT_OF_PLACE, SNAP } from '../numeric/tolerance.ts';
import { checkSheet, finishedAngle } from './check.ts';
import { KIND } from './kind.ts';
import type { Sheet } from './sheet.ts';
import { trueConditions } from './true-conditions.ts';
import { creasesAround, halfEdgeDirection, halfEdgeEnd } from './walk.ts';

/** The findings of `checkSheet`, each with what may be behind all of them, named first. */
export function blamed(sheet: Sheet, found: readonly Finding[], doubted: readonly number[] = []): Finding[] {
  if (found.length === 0) return [];
  const suspects = suspectsOf(sheet, found, doubted);
  const { behind } = suspects;
  return found.map(
    (one) =>
      ({
        ...one,
        ...(behind ? { values: { ...one.values, behind } } : {}),
        creases: firstOf(suspects.creases.length > 0 ? suspects.creases : doubted, one.creases),
        vertices: [...new Set([...suspects.corners, ...one.vertices])],
      }) as Finding,
  );
}

/** A list with those that are looked for first, in their order. */
function firstOf(wanted: readonly number[], list: readonly number[]): number[] {
  const own = new Set(list);
  return [...new Set([...wanted.filter((one) => own.has(one)), ...list])];
}

interface Suspects {
  readonly creases: readonly number[];
  readonly corners: readonly number[];
  readonly behind: Behind | null;
}

function suspectsOf(sheet: Sheet, found: readonly Finding[], doubted: readonly number[]): Suspects {
  const failing = [
    ...new Set(found.flatMap(({ vertices, code }) => (code === 'hole-closure' ? [] : vertices))),
  ];
  const holes = found.filter(({ code }) => code === 'hole-closure');
  const around = (vertex: number) => [...creasesAround(sheet, vertex)].map((half) => half >> 1);
  const lists = [...failing.map(around), ...holes.map(({ creases }) => creases)];
  const shared = lists[0]!.filter((crease) => lists.every((list) => list.includes(crease)));
  const turned = shared.filter((crease) => closes(withTurned(sheet, crease)));
  const angles =
    turned.length > 0 || !failing.length ? [] : shared.map((crease) => reAngled(sheet, crease, failing[0]!));
  const changed = angles.flatMap((angle, k) => (angle === null ? [] : [{ crease: shared[k]!, angle }]));
  if (turned.length + changed.length > 0) return creasesBehind(firstOf(doubted, turned), changed, doubted);
  const moved = failing.length > 0 && holes.length === 0 ? cornerOutOfPlace(sheet, failing) : null;
  return moved ?? { creases: [], corners: [], behind: null };
}

/** Where several would do, those are named that the steps of the lesson bring elsewhere than the pattern says. */
function creasesBehind(
  turned: readonly number[],
  changed: readonly { readonly crease: number; readonly angle: number }[],
  doubted: readonly number[],
): Suspects {
  const creases =
    turned.length > 0
      ? turned
      : firstOf(
          doubted,
          changed.map(({ crease }) => crease),
        );
  const [first] = creases;
  const sure = creases.length === 1 || (doubted.includes(first!) && !doubted.includes(creases[1]!));
  const angle = changed.find(({ crease }) => crease === first)?.angle;
  const behind: Behind =
    turned.length > 0 || angle === undefined
      ? { how: 'turned', creases, sure }
      : { how: 'angle', creases, sure, angle: (angle * 180) / Math.PI };
  return { creases, corners: [], behind };
}

const closes = (sheet: Sheet) => checkSheet(sheet).length === 0;

/** The sheet with a crease folded the other way. */
function withTurned(sheet: Sheet, crease: number): Sheet {
  const kind = sheet.creaseKind[crease]!;
  const other = kind === KIND.mountain ? KIND.valley : kind === KIND.valley ? KIND.mountain : kind;
  return {
    ...sheet,
    creaseKind: sheet.creaseKind.map((one, e) => (e === crease ? other : one)),
    creaseAngle: sheet.creaseAngle.map((one, e) => (e === crease ? -one : one)),
  };
}

/** A crease, and the angle with which alone every corner closes, radians. */
export interface OtherAngle {
  readonly crease: number;
  readonly angle: number;
}

/** Which one angle of a pose has to be another, so that every corner and hole closes. @param angle per crease, radians */
export function otherAngles(sheet: Sheet, angle: Float64Array): OtherAngle[] {
  const posed = { ...sheet, creaseAngle: angle };
  const [first] = checkSheet(posed).flatMap(({ vertices }) => vertices);
  if (first === undefined) return [];
  return [...creasesAround(sheet, first)].flatMap((half) => {
    const other = reAngled(posed, half >> 1, first);
    return other === null ? [] : [{ crease: half >> 1, angle: other }];
  });
}

/** The finished angle of a crease with which every corner closes, all others as they are; null where there is none. */
export function reAngled(sheet: Sheet, crease: number, vertex: number): number | null {
  const around = [...creasesAround(sheet, vertex)];
  const start = around.findIndex((half) => half >> 1 === crease);
  if (start < 0) return null;
  const rest = Float64Array.of(0, 0, 0, 1);
  const one = new Float64Array(4);
  for (const half of [...around.slice(start + 1), ...around.slice(0, start)]) {
    const angle = finishedAngle(sheet, half >> 1);
    const way = halfEdgeDirection(sheet, half);
    setFoldTurn(one, 0, Math.cos(way), Math.sin(way), angle);
    multiply(rest, 0, rest, 0, one, 0);
  }
  // what the crease has to turn back
  const way = halfEdgeDirection(sheet, around[start]!);
  const angle = -2 * Math.atan2(rest[0]! * Math.cos(way) + rest[1]! * Math.sin(way), rest[3]!);
  if (Number.isNaN(angle) || Math.abs(angle) > Math.PI + DRAWN) return null;
  const within = Math.max(-Math.PI, Math.min(Math.PI, angle));
  const isOwnWay = within * finishedAngle(sheet, crease) > 0;
  const changed = { ...sheet, creaseAngle: sheet.creaseAngle.map((own, e) => (e === crease ? within : own)) };
  return isOwnWay && closes(changed) ? within : null;
}

/** The corner that, moved alone, makes all corners close; it and its neighbours are the only ones that may fail then. */
function cornerOutOfPlace(sheet: Sheet, failing: readonly number[]): Suspects | null {
  const near = failing.map((v) => [
    v,
    ...[...creasesAround(sheet, v)].map((half) => halfEdgeEnd(sheet, half)),
  ]);
  const shared = near[0]!.filter((v) => near.every((list) => list.includes(v)));
  const moved = shared
    .map((vertex) => ({ vertex, ...movedAlone(sheet, vertex) }))
    .filter(({ far }) => far < OUT_OF_PLACE)
    .sort((a, b) => Number(b.even) - Number(a.even) || a.far - b.far);
  const [first] = moved;
  if (!first) return null;
  const or = moved.slice(1).map(({ vertex }) => vertex);
  const far = first.far * sheet.frame.scale;
  const behind: Behind = { how: 'moved', corner: first.vertex, far, or };
  const creases = [...creasesAround(sheet, first.vertex)].map((half) => half >> 1);
  return { creases, corners: moved.map(({ vertex }) => vertex), behind };
}

/** Places near a corner that are the mirror images of other corners in one of the sheet's middle lines. */
function mirrorPlaces({ vertexX, vertexY }: Sheet, vertex: number): (readonly [number, number])[] {
  const across = (values: Float64Array) => Math.min(...values) + Math.max(...values);
  const [width, height] = [across(vertexX), across(vertexY)];
  const places = Array.from(vertexX, (x, v) => {
    const y = vertexY[v]!;
    return v === vertex
      ? []
      : ([
          [width - x, y],
          [x, height - y],
        ] as const);
  }).flat();
  const away = ([x, y]: readonly [number, number]) => Math.hypot(x - vertexX[vertex]!, y - vertexY[vertex]!);
  return places.filter((place) => away(place) > SNAP && away(place) < OUT_OF_PLACE);
}

/** Steps of Newton's method double the digits. */
const MOST_STEPS = 12;

/** Where a corner has to be so that every corner closes. */
interface CornerPlace {
  /** How far that is, sheet units; infinite where it does not help. */
  readonly far: number;
  readonly to: readonly [number, number];
  /** It is the mirror image of another corner's place: of several places the one that keeps the drawing even. */
  readonly even: boolean;
}

export function movedAlone(sheet: Sheet, vertex: number): CornerPlace {
  const moved = (place: readonly [number, number]) => {
    const [x, y] = [sheet.vertexX.slice(), sheet.vertexY.slice()];
    [x[vertex], y[vertex]] = place;
    return { ...sheet, vertexX: x, vertexY: y };
  };
  const far = ([x, y]: readonly [number, number]) =>
    Math.hypot(x - sheet.vertexX[vertex]!, y - sheet.vertexY[vertex]!);
  const even = mirrorPlaces(sheet, vertex).find((place) => closes(moved(place)));
  if (even) return { far: far(even), to: even, even: true };
  const to = nearestClosing(sheet, vertex);
  const helps = far(to) < OUT_OF_PLACE && closes(moved(to));
  return { far: helps ? far(to) : Number.POSITIVE_INFINITY, to, even: false };
}

/** By Newton's method; where it leads to none, anywhere. */
function nearestClosing(sheet: Sheet, vertex: number): readonly [number, number] {
  const conditions = trueConditions(sheet, 0).must.filter(
    ({ size, vertices }) => size > 1 && vertices.includes(vertex),
  );
  const [x, y] = [sheet.vertexX.slice(), sheet.vertexY.slice()];
  const residual = () => conditions.flatMap((one) => [...one.evaluate(x, y)]);
  const slope = (values: Float64Array) => {
    const [kept, step] = [values[vertex]!, 1e-6];
    values[vertex] = kept + step;
    const above = residual();
    values[vertex] = kept - step;
    const below = residual();
    values[vertex] = kept;
    return above.map((one, k) => (one - below[k]!) / (2 * step));
  };
  for (let k = 0; k < MOST_STEPS; k++) {
    const [left, a, b] = [residual(), slope(x), slope(y)];
    const dot = (p: readonly number[], q: readonly number[]) =>
      p.reduce((sum, one, i) => sum + one * q[i]!, 0);
    // a trifle on the diagonal, well above what differences leave, so that a direction that changes nothing is not gone along
    const trifle = 1e-6 * (dot(a, a) + dot(b, b));
    const [aa, ab, bb] = [dot(a, a) + trifle, dot(a, b), dot(b, b) + trifle];
    const det = aa * bb - ab * ab;
    if (!(Math.abs(det) > 0)) break;
    x[vertex]! -= (bb * dot(a, left) - ab * dot(b, left)) / det;
    y[vertex]! -= (aa * dot(b, left) - ab * dot(a, left)) / det;
  }
  return [x[vertex]!, y[vertex]!];
}
