/** The outermost closed quadrilateral of solid lines. */
import { convexOutline } from '../../numeric/plane.ts';
import { distance, flatCross, flatMinus, type Point, turnAt } from '../../numeric/vector.ts';
import { type Homography, homography } from './homography.ts';
import type { Piece } from './profile.ts';

/** Sides that turn by less than this at a point of the hull run on. */
const TURNS = (3 * Math.PI) / 180;
/** A side lies on drawn lines where these are no further from it than this share of the sheet, over most of it. */
const ON_SIDE = 0.006;
const MOST_OF_IT = 0.9;
/** A sheet whose corners are this near to right angles is a rectangle that lies askew, not one seen at a slant. */
export const RIGHT = (1.5 * Math.PI) / 180;

/** Four corners, counter-clockwise as seen with y down from the one nearest to the upper left; null where there is none. */
export function sheetCorners(solid: readonly Piece[]): Point[] | null {
  const hull = convexOutline(solid.flatMap(({ ends }) => ends));
  const corners = hull.filter((point, k) => {
    const [before, next] = [hull.at(k - 1)!, hull[(k + 1) % hull.length]!];
    const [a, b] = [flatMinus(point, before), flatMinus(next, point)];
    return Math.abs(Math.asin(flatCross(a, b) / (Math.hypot(...a) * Math.hypot(...b) || 1))) > TURNS;
  });
  if (corners.length !== 4) return null;
  const size = Math.max(...corners.map((p, k) => distance(p, corners[(k + 1) % 4]!)));
  const isClosed = corners.every((a, k) => {
    const b = corners[(k + 1) % 4]!;
    const side = distance(a, b);
    const far = (p: Point) => Math.abs(turnAt(a, b, p)) / side;
    const drawn = solid
      .filter(({ ends }) => ends.every((p) => far(p) < ON_SIDE * size))
      .reduce((sum, { length }) => sum + length, 0);
    return drawn >= MOST_OF_IT * side;
  });
  if (!isClosed) return null;
  const first = corners.reduce(
    (best, [x, y], k) => (x + y < corners[best]![0] + corners[best]![1] ? k : best),
    0,
  );
  return corners.map((_, k) => corners[(k + first) % 4]!);
}

/** Largest turn of a corner away from a right angle, radians. */
export function offRectangle(corners: readonly Point[]): number {
  return Math.max(
    ...corners.map((point, k) => {
      const [a, b] = [flatMinus(point, corners.at(k - 1)!), flatMinus(corners[(k + 1) % 4]!, point)];
      const cosine = (a[0] * b[0] + a[1] * b[1]) / (Math.hypot(...a) * Math.hypot(...b));
      return Math.abs(Math.asin(Math.min(1, Math.max(-1, cosine))));
    }),
  );
}

/** A rectangle with a margin, as large as the quadrilateral is seen; null where they do not turn the same way, rightwards. */
export function straightOn(
  corners: readonly Point[],
): { width: number; height: number; toPicture: Homography } | null {
  const [a, b, c, d] = corners as [Point, Point, Point, Point];
  const turns = corners.map((point, k) => turnAt(corners.at(k - 1)!, point, corners[(k + 1) % 4]!));
  if (!turns.every((turn) => turn > 1)) return null;
  const across = Math.max(distance(a, b), distance(c, d));
  const down = Math.max(distance(b, c), distance(d, a));
  const margin = Math.ceil(0.04 * Math.max(across, down));
  const target: Point[] = [
    [margin, margin],
    [margin + across, margin],
    [margin + across, margin + down],
    [margin, margin + down],
  ];
  const toPicture = homography(target, corners);
  const [width, height] = [Math.ceil(across + 2 * margin), Math.ceil(down + 2 * margin)];
  return toPicture && { width, height, toPicture };
}
