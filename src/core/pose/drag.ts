/**
 * Dragging a vertex: the pose moves along the freedoms it has so that the vertex comes as near as it can to a point.
 * Each step is a Gauss-Newton step on closure, on a mild wish to stay, and on the pull; the pull is a term of rank
 * three, added to the sparse factor by the identity of Sherman, Morrison and Woodbury.
 */
import { SparseCholesky } from '../numeric/cholesky.ts';
import { turn } from '../numeric/rotation.ts';
import { CLOSED } from '../numeric/tolerance.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { angleBounds, foldingCreases } from './moving.ts';
import { halfEdgeLine, type PanelWalk, placePanels, placePoint, walkPanels } from './place.ts';
import { PoseSolver } from './solve.ts';

const STEPS = 4;
/** Weight of staying, of closure and of the pull; lengths are sheet units, angles radians. */
const STAY = 1e-3;
const CLOSURE = 1e4;
const PULL = 1;
const REACH = 0.2;

/**
 * @param angle a pose that closes
 * @param still panel that stays where it is
 * @param goal where the vertex should go, sheet units, in the space of the still panel
 * @param free kinds do not bound the sign
 * @returns the new pose; it closes, and the vertex is as near as a few steps bring it
 */
export function dragVertex(
  sheet: Sheet,
  angle: Float64Array,
  still: number,
  vertex: number,
  goal: readonly [number, number, number],
  free: boolean,
): Float64Array {
  const solver = new PoseSolver(sheet, foldingCreases(sheet));
  const { system } = solver;
  const panel = panelAt(sheet, vertex);
  if (panel === NONE || system.size === 0) return angle.slice();
  const walk = walkPanels(sheet, still);
  const bounds = boundsOf(sheet, system.creaseOf, free);
  const matrix = new SparseCholesky(system.pattern);
  const pose = angle.slice();
  for (let k = 0; k < STEPS; k++) {
    system.evaluate(pose);
    const { columns, place } = pullOf(sheet, pose, still, walk, panel, vertex, system.unknownOf);
    matrix.clear();
    for (let u = 0; u < system.size; u++) matrix.addDiagonal(u, STAY);
    system.addNormalMatrix(matrix, CLOSURE, system.residual, 0);
    if (!matrix.factor()) break;
    const step = new Float64Array(system.size);
    system.addTransposed(
      step,
      system.residual.map((c) => -CLOSURE * c),
    );
    const miss = goal.map((g, a) => g - place[a]!);
    for (let a = 0; a < 3; a++)
      for (let u = 0; u < system.size; u++) step[u]! += PULL * columns[a]![u]! * miss[a]!;
    solveWithPull(matrix, columns, step);
    const longest = step.reduce((most, d) => Math.max(most, Math.abs(d)), 1e-12);
    const scale = Math.min(1, REACH / longest);
    for (let u = 0; u < system.size; u++) {
      const e = system.creaseOf[u]!;
      pose[e] = Math.min(bounds.upper[u]!, Math.max(bounds.lower[u]!, pose[e]! + scale * step[u]!));
    }
    if (longest < 1e-5) break;
  }
  const closure = solver.close(pose, bounds);
  return closure < CLOSED ? pose : angle.slice();
}

function panelAt(sheet: Sheet, vertex: number): number {
  for (let e = 0; e < sheet.creaseFrom.length; e++)
    if (sheet.creaseFrom[e] === vertex || sheet.creaseTo[e] === vertex)
      return sheet.halfEdgePanel[2 * e]! !== NONE
        ? sheet.halfEdgePanel[2 * e]!
        : sheet.halfEdgePanel[2 * e + 1]!;
  return NONE;
}

function boundsOf(sheet: Sheet, creaseOf: Int32Array, free: boolean) {
  const lower = new Float64Array(creaseOf.length);
  const upper = new Float64Array(creaseOf.length);
  for (let u = 0; u < creaseOf.length; u++)
    [lower[u], upper[u]] = angleBounds(sheet.creaseKind[creaseOf[u]!]!, free) as [number, number];
  return { lower, upper };
}

/** Where the vertex is, and how it moves with each crease between the still panel and its own. */
function pullOf(
  sheet: Sheet,
  pose: Float64Array,
  still: number,
  walk: PanelWalk,
  panel: number,
  vertex: number,
  unknownOf: Int32Array,
) {
  const placement = placePanels(sheet, pose, still, walk);
  const place = new Float64Array(3);
  placePoint(place, 0, placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
  const size = unknownOf.reduce((most, u) => Math.max(most, u + 1), 0);
  const columns = [new Float64Array(size), new Float64Array(size), new Float64Array(size)];
  const axis = new Float64Array(3);
  const point = new Float64Array(3);
  for (let h = walk.entered[panel]!; h !== NONE; h = walk.entered[sheet.halfEdgePanel[h ^ 1]!]!) {
    const u = unknownOf[h >> 1]!;
    if (u === NONE || !kindJoinsPanels(sheet.creaseKind[h >> 1]!)) continue;
    const line = halfEdgeLine(sheet, h);
    const from = sheet.halfEdgePanel[h ^ 1]!;
    turn(axis, 0, placement.rotation, 4 * from, line.dx, line.dy, 0);
    placePoint(point, 0, placement, from, line.x, line.y);
    const [rx, ry, rz] = [place[0]! - point[0]!, place[1]! - point[1]!, place[2]! - point[2]!];
    columns[0]![u]! += axis[1]! * rz - axis[2]! * ry;
    columns[1]![u]! += axis[2]! * rx - axis[0]! * rz;
    columns[2]![u]! += axis[0]! * ry - axis[1]! * rx;
  }
  return { columns, place };
}

/** x := (A + PULL P'P)^-1 x, with A factored and P of three rows. */
function solveWithPull(matrix: SparseCholesky, columns: readonly Float64Array[], x: Float64Array): void {
  matrix.solve(x);
  const solved = columns.map((column) => {
    const copy = column.slice();
    matrix.solve(copy);
    return copy;
  });
  const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, k) => sum + value * b[k]!, 0);
  const small = columns.map((row, a) =>
    solved.map((column, b) => dot(row, column) + (a === b ? 1 / PULL : 0)),
  );
  const right = columns.map((row) => dot(row, x));
  const factors = solveThree(small, right);
  for (let u = 0; u < x.length; u++) for (let a = 0; a < 3; a++) x[u]! -= solved[a]![u]! * factors[a]!;
}

/** Three equations by Cramer's rule; the matrix is positive definite. */
function solveThree(m: readonly number[][], r: readonly number[]): number[] {
  const det = (a: readonly number[][]) =>
    a[0]![0]! * (a[1]![1]! * a[2]![2]! - a[1]![2]! * a[2]![1]!) -
    a[0]![1]! * (a[1]![0]! * a[2]![2]! - a[1]![2]! * a[2]![0]!) +
    a[0]![2]! * (a[1]![0]! * a[2]![1]! - a[1]![1]! * a[2]![0]!);
  const whole = det(m);
  return [0, 1, 2].map((k) => det(m.map((row, a) => row.map((v, b) => (b === k ? r[a]! : v)))) / whole);
}
