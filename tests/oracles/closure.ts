/** Closure the slow and obvious way: products of 4 x 4 matrices, and its derivative by central differences. */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { foldingCreases } from '../../src/core/pose/moving.ts';
import { closureLoops } from '../../src/core/sheet/loops.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin } from '../../src/core/sheet/walk.ts';

/** Turn by `angle` about the line through (x, y, 0) along (dx, dy, 0): Rodrigues, as a 4 x 4 matrix. */
function turnAbout(x: number, y: number, dx: number, dy: number, angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const rotation = [
    [c + dx * dx * (1 - c), dx * dy * (1 - c), dy * s],
    [dx * dy * (1 - c), c + dy * dy * (1 - c), -dx * s],
    [-dy * s, dx * s, c],
  ];
  const shift = rotation.map((row, k) => (k === 0 ? x : k === 1 ? y : 0) - row[0]! * x - row[1]! * y);
  return new Matrix([...rotation.map((row, k) => [...row, shift[k]!]), [0, 0, 0, 1]]);
}

function product(sheet: Sheet, halfEdges: Iterable<number>, pose: Float64Array): Matrix {
  let whole = Matrix.eye(4, 4);
  for (const h of halfEdges) {
    const a = halfEdgeOrigin(sheet, h);
    const b = halfEdgeEnd(sheet, h);
    const dx = sheet.vertexX[b]! - sheet.vertexX[a]!;
    const dy = sheet.vertexY[b]! - sheet.vertexY[a]!;
    const length = Math.hypot(dx, dy);
    whole = whole.mmul(
      turnAbout(sheet.vertexX[a]!, sheet.vertexY[a]!, dx / length, dy / length, pose[h >> 1]!),
    );
  }
  return whole;
}

/** Rotation (0 to half a turn: matrices do not know the sign) and shift left over round a loop. */
export function loopResidual(sheet: Sheet, halfEdges: Iterable<number>, pose: Float64Array) {
  const m = product(sheet, halfEdges, pose);
  const axis = [m.get(2, 1) - m.get(1, 2), m.get(0, 2) - m.get(2, 0), m.get(1, 0) - m.get(0, 1)];
  const trace = m.get(0, 0) + m.get(1, 1) + m.get(2, 2);
  return {
    rotation: Math.atan2(Math.hypot(...axis), trace - 1),
    gap: Math.hypot(m.get(0, 3), m.get(1, 3), m.get(2, 3)),
  };
}

/** Rank of closure at a pose: singular values of the differenced matrix entries above 1e-5. */
export function numericalRank(sheet: Sheet, pose: Float64Array): number {
  const matrix = closureMatrix(sheet, pose);
  if (!matrix) return 0;
  return new SingularValueDecomposition(matrix, { autoTranspose: true }).diagonal.filter((s) => s > 1e-5)
    .length;
}

/** How closure changes with each folding crease, a column each; null where nothing has to close. */
export function closureMatrix(sheet: Sheet, pose: Float64Array): Matrix | null {
  const folding = foldingCreases(sheet);
  const columns: number[][] = [];
  const loops = closureLoops(sheet);
  const entries = (shifted: Float64Array) =>
    loops.flatMap((loop) => {
      const m = product(sheet, loop.halfEdges, shifted);
      const turn = [m.get(2, 1), m.get(0, 2), m.get(1, 0)];
      return loop.kind === 'hole' ? [...turn, m.get(0, 3), m.get(1, 3), m.get(2, 3)] : turn;
    });
  const step = 1e-5;
  for (let e = 0; e < folding.length; e++) {
    if (!folding[e]) continue;
    const up = pose.slice();
    const down = pose.slice();
    up[e]! += step;
    down[e]! -= step;
    const high = entries(up);
    const low = entries(down);
    columns.push(high.map((value, k) => (value - low[k]!) / (2 * step)));
  }
  return columns.length === 0 || columns[0]!.length === 0 ? null : new Matrix(columns).transpose();
}
