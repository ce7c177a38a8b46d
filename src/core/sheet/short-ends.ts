/** Creases that stop a hair short of where they were meant to go. */
import { nearestShare } from '../numeric/plane.ts';
import { between, distance, type Point } from '../numeric/vector.ts';
import { kindFolds } from './kind.ts';
import type { Sheet } from './sheet.ts';
import { creaseCount, creasesAround, vertexCount } from './walk.ts';

/** An end of a crease that touches nothing. */
interface ShortEnd {
  readonly vertex: number;
  /** The corner, or the place on the next line, where it was meant to go; sheet coordinates. */
  readonly to: Point;
  /** How far that is, sheet units. */
  readonly gap: number;
}

/** An end further off than this, 2 mm on a sheet of 200 mm, is meant to end where it does (common practice, no source). */
const REACH = 0.01;
/** A corner is meant sooner than a line that is nearer, if it is no more than this factor further off. */
const CORNER_PULL = 2;

/** All of them, in the order of their corners. */
export function shortEnds(sheet: Sheet): ShortEnd[] {
  return Array.from({ length: vertexCount(sheet) }, (_, vertex) => vertex).flatMap((vertex) => {
    const around = creasesAround(sheet, vertex);
    const crease = around[0]! >> 1;
    if (around.length !== 1 || !kindFolds(sheet.creaseKind[crease]!)) return [];
    return shortEnd(sheet, vertex, crease) ?? [];
  });
}

function shortEnd(sheet: Sheet, vertex: number, own: number): ShortEnd | null {
  const at = cornerAt(sheet, vertex);
  let corner: ShortEnd | null = null;
  let line: ShortEnd | null = null;
  for (let crease = 0; crease < creaseCount(sheet); crease++) {
    if (crease === own) continue;
    const ends = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!].map((one) => cornerAt(sheet, one));
    const [from, to] = ends as [Point, Point];
    for (const end of ends) corner = nearer(corner, { vertex, to: end, gap: distance(at, end) });
    const foot = between(from, to, nearestShare(from, to, at));
    line = nearer(line, { vertex, to: foot, gap: distance(at, foot) });
  }
  if (corner && line && corner.gap <= CORNER_PULL * line.gap) return corner;
  return line;
}

const nearer = (best: ShortEnd | null, one: ShortEnd): ShortEnd | null =>
  one.gap <= REACH && (!best || one.gap < best.gap) ? one : best;

const cornerAt = (sheet: Sheet, vertex: number): Point => [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!];
