/** The ways on which a tab can slide out of its pocket. */
import { SAME_DEPTH, SQUARE } from '../../numeric/tolerance.ts';
import { flatDot, type Point } from '../../numeric/vector.ts';
import { back, farthest, hullNormals, type Region, square } from './measure.ts';

/**
 * The shortest way out of a pocket: until the last of the tab has passed the pocket's end. Every direction is free that
 * goes against no barrier; the way is least square to a side of one of the two hulls or beside a barrier. Of equal ways
 * the one that goes toward the tab's own hinge.
 * @param tab what of the tab lies in the pocket
 * @param barred outward normals of what stands in the way
 * @returns null where every way is barred
 */
export function shortestWay(
  tab: Region,
  pocket: Region,
  barred: readonly Point[],
  toward: Point,
): { way: Point; depth: number } | null {
  const free = (way: Point) => barred.every((normal) => flatDot(way, normal) < SQUARE);
  const ways = [...hullNormals(tab), ...hullNormals(pocket), ...barred.map(square)]
    .flatMap((way) => [way, back(way)])
    .filter(free)
    .map((way) => ({
      way,
      depth: farthest(pocket, way) + farthest(tab, back(way)),
      toward: flatDot(way, toward),
    }));
  if (ways.length === 0) return null;
  const least = Math.min(...ways.map(({ depth }) => depth)) + SAME_DEPTH;
  return ways
    .filter(({ depth }) => depth <= least)
    .reduce((best, one) => (one.toward > best.toward + SQUARE ? one : best));
}
