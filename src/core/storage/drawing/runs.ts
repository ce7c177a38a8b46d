/** Shapes as they are drawn without lifting the pen, and as points on the drawing: curves as fine polylines. */
import type { Curve } from '../../finding/values/file.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import type { Point } from '../../numeric/vector.ts';
import { apply, type Matrix } from '../matrix.ts';
import { checkNumber } from '../refusal.ts';

export type CurveShape = Extract<Curve, { how: 'shape' }>['shape'];

/** Where a straight piece ends: x, y. Or two control points of a cubic curve and its end. */
export type Piece = readonly number[];

/** One part of a shape, drawn without lifting the pen. */
export interface Run {
  readonly start: readonly [number, number];
  readonly pieces: Piece[];
  closed: boolean;
  /** The first curve in it, or null where all of it is straight. */
  curve: CurveShape | null;
}

/** A polyline keeps this near to its curve: a share of the box around its control points, five times its own size at most. */
const NEAR = 2e-4;

/** The points of a run under a map; the first comes again at the end of a curve that is closed. */
export function pointsOf(run: Run, matrix: Matrix, place: FilePlace): Point[] {
  const points: Point[] = [apply(matrix, ...run.start)];
  if (!run.curve) {
    for (const piece of run.pieces) points.push(apply(matrix, piece[0]!, piece[1]!));
    return points;
  }
  const pieces = run.pieces.map((piece) => mapped(piece, matrix));
  const near = NEAR * sizeOf([points[0]!, ...pieces], place);
  for (const piece of pieces) addPiece(points, piece, near);
  if (run.closed) points.push(points[0]!);
  return points;
}

function mapped(piece: Piece, matrix: Matrix): Piece {
  const found: number[] = [];
  for (let i = 0; i < piece.length; i += 2) found.push(...apply(matrix, piece[i]!, piece[i + 1]!));
  return found;
}

function sizeOf(pieces: readonly Piece[], place: FilePlace): number {
  const least = [Infinity, Infinity];
  const most = [-Infinity, -Infinity];
  for (const piece of pieces) {
    piece.forEach((value, i) => {
      checkNumber(value, place);
      least[i % 2] = Math.min(least[i % 2]!, value);
      most[i % 2] = Math.max(most[i % 2]!, value);
    });
  }
  return Math.max(most[0]! - least[0]!, most[1]! - least[1]!);
}

/** A cubic strays from its chords by no more than an eighth of its second derivative over their number squared. */
function addPiece(points: Point[], piece: Piece, near: number): void {
  const [x0, y0] = points.at(-1)!;
  if (piece.length === 2) {
    points.push([piece[0]!, piece[1]!]);
    return;
  }
  const [x1, y1, x2, y2, x3, y3] = piece as [number, number, number, number, number, number];
  const bend = Math.max(
    Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2),
    Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3),
  );
  const count = near > 0 ? Math.max(1, Math.ceil(Math.sqrt((6 * bend) / (8 * near)))) : 1;
  for (let i = 1; i < count; i++) {
    const t = i / count;
    const s = 1 - t;
    const [a, b, c, d] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
    points.push([a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3]);
  }
  points.push([x3, y3]);
}
