/**
 * Least squares with conditions c(p) = 0: the shift u = J' pull is shortest when it is made of pulls along the
 * derivatives J of the conditions; each step changes the pulls so that the conditions hold as linearised,
 * J J' change = J (u - J' pull) - c. J J' is sparse, as conditions only meet at common vertices; conditions that
 * repeat each other make it singular, so its diagonal is raised by a trifle, which costs a step and changes no result.
 */
import { SparseCholesky } from '../numeric/cholesky.ts';
import { TRUE } from '../numeric/tolerance.ts';
import { boxOfLines } from './assemble.ts';
import { layNearest } from './lay-nearest.ts';
import type { Sheet } from './sheet.ts';
import type { Condition } from './true-conditions.ts';
import { vertexCount } from './walk.ts';

/** Newton's steps double the digits; more than this many mean that the conditions contradict each other. */
const MOST_STEPS = 40;

/** Share of the diagonal added against repeated conditions. */
const REGULAR = 1e-11;

/** From here on pulls are corrected and not found anew; sooner, conditions that repeat each other would fight. */
const NEARLY = 1e-8;

/** Rows that change less than this when vertices move say nothing (differences leave 1e-10). */
const IDLE = 1e-7;

export interface Settled {
  readonly problem: Problem;
  /** Largest value that any condition is left with. */
  readonly worst: number;
}

/** Newton's steps until the conditions hold or get no better; the best places are kept. */
export function settle(sheet: Sheet, conditions: readonly Condition[]): Settled {
  const problem = new Problem(sheet, conditions);
  let worst = problem.worst();
  let best = worst;
  let stalled = 0;
  let kept = problem.places();
  for (let step = 0; step < MOST_STEPS && worst > TRUE / 4 && stalled < 3; step++) {
    if (!problem.step(worst < NEARLY)) break;
    worst = problem.worst();
    stalled = worst < best / 2 ? 0 : stalled + 1;
    if (worst < best) kept = problem.places();
    best = Math.min(best, worst);
  }
  if (worst > best) {
    problem.restore(kept);
    worst = best;
  }
  return { problem, worst };
}

/** Vertices on their way from where they are drawn to where all conditions hold. */
class Problem {
  private readonly sheet: Sheet;
  private readonly conditions: readonly Condition[];
  private readonly x: Float64Array;
  private readonly y: Float64Array;
  /** First row of each condition. */
  private readonly row: Int32Array;
  private readonly rows: number;
  /** How hard each condition pulls (the multipliers of the least squares problem). */
  private readonly pull: Float64Array;
  private readonly matrix: SparseCholesky;
  /** Pairs of conditions that share a vertex, and the first entry of each pair's block. */
  private readonly pairs: { first: number; second: number; entry: number }[] = [];

  constructor(sheet: Sheet, conditions: readonly Condition[]) {
    this.sheet = sheet;
    this.conditions = conditions;
    this.x = sheet.vertexX.slice();
    this.y = sheet.vertexY.slice();
    this.row = new Int32Array(conditions.length + 1);
    conditions.forEach((c, k) => {
      this.row[k + 1] = this.row[k]! + c.size;
    });
    this.rows = this.row[conditions.length]!;
    this.pull = new Float64Array(this.rows);
    this.matrix = new SparseCholesky(this.pattern());
  }

  /** Which rows of J J' meet: those of one condition, and those of conditions with a common vertex. */
  private pattern() {
    const row: number[] = [];
    const column: number[] = [];
    const add = (first: number, second: number): void => {
      this.pairs.push({ first, second, entry: row.length });
      for (let i = 0; i < this.conditions[first]!.size; i++) {
        for (let j = first === second ? i + 1 : 0; j < this.conditions[second]!.size; j++) {
          row.push(this.row[first]! + i);
          column.push(this.row[second]! + j);
        }
      }
    };
    const at: number[][] = Array.from({ length: vertexCount(this.sheet) }, () => []);
    this.conditions.forEach((condition, k) => {
      add(k, k);
      const before = new Set(condition.vertices.flatMap((v) => at[v]!));
      for (const other of before) add(other, k);
      for (const v of condition.vertices) at[v]!.push(k);
    });
    return { size: this.rows, row: Int32Array.from(row), column: Int32Array.from(column) };
  }

  /** Where the vertices are now, to come back to. */
  places(): { x: Float64Array; y: Float64Array } {
    return { x: this.x.slice(), y: this.y.slice() };
  }

  restore({ x, y }: { x: Float64Array; y: Float64Array }): void {
    this.x.set(x);
    this.y.set(y);
  }

  /** Largest value that any condition is left with. */
  worst(): number {
    return this.worstOf(this.conditions);
  }

  /** Largest value that any of the given conditions would be left with. */
  worstOf(conditions: readonly Condition[]): number {
    let worst = 0;
    for (const c of conditions) {
      for (const value of c.evaluate(this.x, this.y)) worst = Math.max(worst, Math.abs(value));
    }
    return worst;
  }

  /**
   * One step; false when the matrix cannot be factored.
   * @param refine keep the pulls found so far and correct them, which takes off the last trace of the raised diagonal
   */
  step(refine: boolean): boolean {
    if (!refine) this.pull.fill(0);
    const slopes = this.conditions.map((c) => slopeOf(c, this.x, this.y));
    // J (u - J' pull) - c: what the next change of the pulls has to make up for
    const [x, y] = this.pulled(slopes);
    const right = new Float64Array(this.rows);
    this.conditions.forEach((c, k) => {
      const value = c.evaluate(this.x, this.y);
      const slope = slopes[k]!;
      for (let i = 0; i < c.size; i++) {
        const row = slope.rows[i]!;
        let sum = -value[i]! * slope.scale[i]!;
        c.vertices.forEach((v, at) => {
          sum += row[2 * at]! * (this.x[v]! - x[v]!) + row[2 * at + 1]! * (this.y[v]! - y[v]!);
        });
        right[this.row[k]! + i] = sum;
      }
    });
    this.fill(slopes);
    if (!this.matrix.factor()) return false;
    this.matrix.solve(right);
    for (let r = 0; r < this.rows; r++) this.pull[r]! += right[r]!;
    const [newX, newY] = this.pulled(slopes);
    this.x.set(newX);
    this.y.set(newY);
    return true;
  }

  /** Where the pulls bring the vertices: the drawn places plus J' pull. */
  private pulled(slopes: readonly Slope[]): [Float64Array, Float64Array] {
    const x = this.sheet.vertexX.slice();
    const y = this.sheet.vertexY.slice();
    this.conditions.forEach((c, k) => {
      for (let i = 0; i < c.size; i++) {
        const pull = this.pull[this.row[k]! + i]!;
        const row = slopes[k]!.rows[i]!;
        c.vertices.forEach((v, at) => {
          x[v]! += pull * row[2 * at]!;
          y[v]! += pull * row[2 * at + 1]!;
        });
      }
    });
    return [x, y];
  }

  /** Writes J J' into the matrix. */
  private fill(slopes: readonly Slope[]): void {
    this.matrix.clear();
    for (const { first, second, entry } of this.pairs) {
      const [a, b] = [this.conditions[first]!, this.conditions[second]!];
      let next = entry;
      for (let i = 0; i < a.size; i++) {
        if (first === second) this.matrix.addDiagonal(this.row[first]! + i, 1 + REGULAR);
        for (let j = first === second ? i + 1 : 0; j < b.size; j++) {
          this.matrix.addEntry(next++, dot(a, slopes[first]!.rows[i]!, b, slopes[second]!.rows[j]!));
        }
      }
    }
  }

  furthest(): { moved: number; vertex: number } {
    let moved = 0;
    let vertex = -1;
    for (let v = 0; v < this.x.length; v++) {
      const far = Math.hypot(this.x[v]! - this.sheet.vertexX[v]!, this.y[v]! - this.sheet.vertexY[v]!);
      if (far > moved) [moved, vertex] = [far, v];
    }
    return { moved, vertex };
  }

  /** Moves all vertices together so that the worst lies as near to the drawing as can be. */
  layNearest(mayTurn: boolean): void {
    this.restore(layNearest(this.places(), { x: this.sheet.vertexX, y: this.sheet.vertexY }, mayTurn));
  }

  /** The sheet with its vertices moved, brought back to a box of longer side 1 at the origin. */
  result(): Sheet {
    const { sheet } = this;
    const net = { x: this.x, y: this.y, from: sheet.creaseFrom, to: sheet.creaseTo };
    const box = boxOfLines(net, () => true);
    const { frame } = sheet;
    return {
      ...sheet,
      vertexX: this.x.map((x) => (x - box.x) / box.size),
      vertexY: this.y.map((y) => (y - box.y) / box.size),
      frame: {
        x: frame.x + frame.scale * box.x,
        y: frame.y + frame.scale * box.y,
        scale: frame.scale * box.size,
      },
    };
  }
}

/** How a condition changes with its vertices: rows scaled to length 1 (idle ones to 0), and the scale of each. */
interface Slope {
  readonly rows: readonly Float64Array[];
  readonly scale: Float64Array;
}

/** Derivative by central differences; its error of 1e-10 only costs a part of the last Newton step. */
function slopeOf(condition: Condition, x: Float64Array, y: Float64Array): Slope {
  const rows = Array.from({ length: condition.size }, () => new Float64Array(2 * condition.vertices.length));
  const h = 1e-6;
  condition.vertices.forEach((v, at) => {
    [x, y].forEach((coordinate, axis) => {
      const kept = coordinate[v]!;
      coordinate[v] = kept + h;
      const above = condition.evaluate(x, y);
      coordinate[v] = kept - h;
      const below = condition.evaluate(x, y);
      coordinate[v] = kept;
      for (let i = 0; i < condition.size; i++) rows[i]![2 * at + axis] = (above[i]! - below[i]!) / (2 * h);
    });
  });
  const scale = new Float64Array(condition.size);
  rows.forEach((row, i) => {
    const length = Math.hypot(...row);
    scale[i] = length < IDLE ? 0 : 1 / length;
    for (let k = 0; k < row.length; k++) row[k]! *= scale[i]!;
  });
  return { rows, scale };
}

/** Product of two rows, over the vertices that both conditions have. */
function dot(a: Condition, rowA: Float64Array, b: Condition, rowB: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.vertices.length; i++) {
    const j = b.vertices.indexOf(a.vertices[i]!);
    if (j >= 0) sum += rowA[2 * i]! * rowB[2 * j]! + rowA[2 * i + 1]! * rowB[2 * j + 1]!;
  }
  return sum;
}
