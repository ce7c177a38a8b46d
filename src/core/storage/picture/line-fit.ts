/** A straight line through points that lie on it, by total least squares with weights. */
import type { Point } from '../../numeric/vector.ts';

/** Points p with normal . p = offset; it runs along (-normal y, normal x). Pixels. */
export interface FittedLine {
  readonly nx: number;
  readonly ny: number;
  readonly offset: number;
  /** Where its points lie along it: first, last, their mean, and the sum of squares about that. */
  readonly from: number;
  readonly to: number;
  readonly mean: number;
  readonly spread: number;
  readonly count: number;
  /** Root mean square of how far the points lie beside it. */
  readonly rough: number;
  /** How far its middle lies beside its ends, as a parabola through the points; the sign says on which side. */
  readonly bow: number;
}

export const along = (line: FittedLine, x: number, y: number): number => -line.ny * x + line.nx * y;

export const beside = (line: FittedLine, x: number, y: number): number =>
  line.nx * x + line.ny * y - line.offset;

export const pointOn = (line: FittedLine, at: number): Point => [
  line.nx * line.offset - line.ny * at,
  line.ny * line.offset + line.nx * at,
];

export const directionOf = (line: FittedLine): number => Math.atan2(line.nx, -line.ny);

/** What a line is uncertain by beside itself at a place along it, pixels; no better than the steps of pixels allow. */
export function uncertainty(line: FittedLine, at: number): number {
  const rough = Math.max(0.15, line.rough);
  const far = line.spread > 0 ? (at - line.mean) ** 2 / line.spread : 0;
  return Math.sqrt((rough * rough) / Math.max(1, line.count) + rough * rough * far + 1e-4);
}

/** @param points indices into x and y, two at least */
export function fitLine(points: readonly number[], x: Float64Array, y: Float64Array): FittedLine {
  let [sumX, sumY] = [0, 0];
  for (const p of points) {
    sumX += x[p]!;
    sumY += y[p]!;
  }
  const [mx, my] = [sumX / points.length, sumY / points.length];
  let [xx, xy, yy] = [0, 0, 0];
  for (const p of points) {
    const [dx, dy] = [x[p]! - mx, y[p]! - my];
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
  }
  const direction = 0.5 * Math.atan2(2 * xy, xx - yy);
  const [nx, ny] = [-Math.sin(direction), Math.cos(direction)];
  return measured({ nx, ny, offset: nx * mx + ny * my }, points, x, y);
}

function measured(
  { nx, ny, offset }: Pick<FittedLine, 'nx' | 'ny' | 'offset'>,
  points: readonly number[],
  x: Float64Array,
  y: Float64Array,
): FittedLine {
  let [from, to, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (const p of points) {
    const at = -ny * x[p]! + nx * y[p]!;
    from = Math.min(from, at);
    to = Math.max(to, at);
    sum += at;
  }
  const mean = sum / points.length;
  const half = Math.max(1, (to - from) / 2);
  let [spread, squares, bent, bends, curve] = [0, 0, 0, 0, 0];
  for (const p of points) {
    const at = -ny * x[p]! + nx * y[p]!;
    const off = nx * x[p]! + ny * y[p]! - offset;
    spread += (at - mean) ** 2;
    squares += off * off;
    curve += ((at - mean) / half) ** 2;
  }
  const middle = curve / points.length;
  for (const p of points) {
    const at = -ny * x[p]! + nx * y[p]!;
    const shape = ((at - mean) / half) ** 2 - middle;
    bent += shape * (nx * x[p]! + ny * y[p]! - offset);
    bends += shape * shape;
  }
  const rough = Math.sqrt(squares / points.length);
  const bow = bends > 0 ? -bent / bends : 0;
  return { nx, ny, offset, from, to, mean, spread, count: points.length, rough, bow };
}
