/**
 * Sparse Cholesky factorisation L L' of a symmetric positive definite matrix, multifrontal over supernodes, in
 * typed arrays. The pattern is analysed once (symbolic.ts); then each new set of numbers is written through
 * `clear`, `addDiagonal` and `addEntry` and factored in place.
 *
 * Layout: supernode s with t rows and w own columns keeps w columns of t numbers; its update to the columns above is a
 * square of t-w, kept on a stack until the parent takes it. The dense loops are in kernel.ts.
 */
import { type Kernel, makeKernel } from './kernel.ts';
import { analyse, leadOf, type Symbolic, type SymmetricPattern } from './symbolic.ts';

export class SparseCholesky {
  readonly symbolic: Symbolic;
  /** The matrix before `factor`, the factor after it. */
  readonly values: Float64Array;
  private readonly stack: Float64Array;
  private readonly work: Float64Array;
  private readonly kernel: Kernel;

  constructor(pattern: SymmetricPattern) {
    this.symbolic = analyse(pattern);
    this.kernel = makeKernel(this.symbolic.factorSize, this.symbolic.stackSize);
    this.values = this.kernel.values;
    this.stack = this.kernel.stack;
    this.work = new Float64Array(pattern.size);
  }

  /** Sets every number of the matrix to 0. */
  clear(): void {
    this.values.fill(0);
  }

  addDiagonal(variable: number, value: number): void {
    this.values[this.symbolic.diagonalAt[variable]!]! += value;
  }

  addEntry(entry: number, value: number): void {
    this.values[this.symbolic.entryAt[entry]!]! += value;
  }

  /** Factors in place. Returns false at a pivot that is not positive: the matrix is not positive definite. */
  factor(): boolean {
    const { supernodes, firstColumn, rowStart, factorStart, parent, updateStart } = this.symbolic;
    const { stack, kernel } = this;
    const waiting: number[] = [];
    let top = 0;
    for (let s = 0; s < supernodes; s++) {
      const width = firstColumn[s + 1]! - firstColumn[s]!;
      const tall = rowStart[s + 1]! - rowStart[s]!;
      const lead = leadOf(tall);
      const rest = tall - width;
      const square = leadOf(rest) * rest;
      const panel = factorStart[s]!;
      const update = top;
      if (rest > 0) stack.fill(0, update, update + square);
      let below = top;
      while (waiting.length > 0 && parent[waiting[waiting.length - 1]!] === s) {
        const child = waiting.pop()!;
        const rows = updateStart[child + 1]! - updateStart[child]!;
        below -= leadOf(rows) * rows;
        this.takeUpdate(child, below, panel, lead, width, update, leadOf(rest));
      }
      if (!kernel.panel(panel, lead, width)) return false;
      if (rest > 0) {
        kernel.outer(panel + width, lead, width, update, leadOf(rest), rest);
        if (below < update) stack.copyWithin(below, update, update + square);
        waiting.push(s);
      }
      top = below + square;
    }
    return true;
  }

  /** Adds a child's update square (lower half) into the parent's panel and the parent's own update square. */
  private takeUpdate(
    child: number,
    from: number,
    panel: number,
    lead: number,
    width: number,
    update: number,
    updateLead: number,
  ): void {
    const { values, stack } = this;
    const { placeInParent: places, updateStart } = this.symbolic;
    const base = updateStart[child]!;
    const size = updateStart[child + 1]! - base;
    const childLead = leadOf(size);
    for (let c = 0; c < size; c++) {
      const column = places[base + c]!;
      let at = from + c * childLead + c;
      if (column < width) {
        const target = panel + column * lead;
        for (let r = c; r < size; r++) values[target + places[base + r]!]! += stack[at++]!;
      } else {
        const target = update + (column - width) * updateLead - width;
        for (let r = c; r < size; r++) stack[target + places[base + r]!]! += stack[at++]!;
      }
    }
  }

  /** x := solution of (L L') x = x, in the order of the variables. */
  solve(x: Float64Array): void {
    const { size, order } = this.symbolic;
    const work = this.work;
    for (let k = 0; k < size; k++) work[k] = x[order[k]!]!;
    this.solveDown(work);
    this.solveUp(work);
    for (let k = 0; k < size; k++) x[order[k]!] = work[k]!;
  }

  private solveDown(x: Float64Array): void {
    const { supernodes, firstColumn, rowStart, rows, factorStart } = this.symbolic;
    const { values } = this;
    for (let s = 0; s < supernodes; s++) {
      const tall = rowStart[s + 1]! - rowStart[s]!;
      const lead = leadOf(tall);
      const start = rowStart[s]!;
      let c = 0;
      for (let k = firstColumn[s]!; k < firstColumn[s + 1]!; k++, c++) {
        let at = factorStart[s]! + c * lead + c;
        const xk = x[k]! / values[at]!;
        x[k] = xk;
        for (let r = start + c + 1; r < start + tall; r++) x[rows[r]!]! -= values[++at]! * xk;
      }
    }
  }

  private solveUp(x: Float64Array): void {
    const { supernodes, firstColumn, rowStart, rows, factorStart } = this.symbolic;
    const { values } = this;
    for (let s = supernodes - 1; s >= 0; s--) {
      const tall = rowStart[s + 1]! - rowStart[s]!;
      const lead = leadOf(tall);
      const start = rowStart[s]!;
      for (let k = firstColumn[s + 1]! - 1; k >= firstColumn[s]!; k--) {
        const c = k - firstColumn[s]!;
        const diagonal = factorStart[s]! + c * lead + c;
        let at = diagonal;
        let sum = x[k]!;
        for (let r = start + c + 1; r < start + tall; r++) sum -= values[++at]! * x[rows[r]!]!;
        x[k] = sum / values[diagonal]!;
      }
    }
  }
}
