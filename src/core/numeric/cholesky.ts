/**
 * Sparse Cholesky factorisation L L' of a symmetric positive definite matrix, multifrontal over supernodes, in
 * typed arrays. The pattern is analysed once (symbolic.ts); then each new set of numbers is written through
 * `clear`, `diagonalAt` and `entryAt` and factored in place.
 *
 * Layout: supernode s with t rows and w own columns keeps t*w numbers column by column; its update to the columns
 * above is a square of t-w, kept on a stack until the parent takes it.
 */
import { analyse, type Symbolic, type SymmetricPattern } from './symbolic.ts';

export class SparseCholesky {
  readonly symbolic: Symbolic;
  /** The matrix before `factor`, the factor after it. */
  readonly values: Float64Array;
  private readonly stack: Float64Array;
  private readonly work: Float64Array;

  constructor(pattern: SymmetricPattern) {
    this.symbolic = analyse(pattern);
    this.values = new Float64Array(this.symbolic.factorSize);
    this.stack = new Float64Array(this.symbolic.stackSize);
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
    const { values, stack } = this;
    const waiting: number[] = [];
    let top = 0;
    for (let s = 0; s < supernodes; s++) {
      const width = firstColumn[s + 1]! - firstColumn[s]!;
      const tall = rowStart[s + 1]! - rowStart[s]!;
      const rest = tall - width;
      const panel = factorStart[s]!;
      const update = top;
      if (rest > 0) stack.fill(0, update, update + rest * rest);
      let below = top;
      while (waiting.length > 0 && parent[waiting[waiting.length - 1]!] === s) {
        const child = waiting.pop()!;
        const size = updateStart[child + 1]! - updateStart[child]!;
        below -= size * size;
        this.takeUpdate(child, below, size, panel, tall, width, update, rest);
      }
      if (!factorPanel(values, panel, tall, width)) return false;
      if (rest > 0) {
        subtractOuter(values, panel, tall, width, stack, update, rest);
        if (below < update) stack.copyWithin(below, update, update + rest * rest);
        waiting.push(s);
      }
      top = below + rest * rest;
    }
    return true;
  }

  /** Adds a child's update square (lower half) into the parent's panel and the parent's own update square. */
  private takeUpdate(
    child: number,
    from: number,
    size: number,
    panel: number,
    tall: number,
    width: number,
    update: number,
    rest: number,
  ): void {
    const { values, stack } = this;
    const places = this.symbolic.placeInParent;
    const base = this.symbolic.updateStart[child]!;
    for (let c = 0; c < size; c++) {
      const column = places[base + c]!;
      let at = from + c * size + c;
      if (column < width) {
        const target = panel + column * tall;
        for (let r = c; r < size; r++) values[target + places[base + r]!]! += stack[at++]!;
      } else {
        const target = update + (column - width) * rest - width;
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
      const start = rowStart[s]!;
      let c = 0;
      for (let k = firstColumn[s]!; k < firstColumn[s + 1]!; k++, c++) {
        let at = factorStart[s]! + c * tall + c;
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
      const start = rowStart[s]!;
      for (let k = firstColumn[s + 1]! - 1; k >= firstColumn[s]!; k--) {
        const c = k - firstColumn[s]!;
        const diagonal = factorStart[s]! + c * tall + c;
        let at = diagonal;
        let sum = x[k]!;
        for (let r = start + c + 1; r < start + tall; r++) sum -= values[++at]! * x[rows[r]!]!;
        x[k] = sum / values[diagonal]!;
      }
    }
  }
}

/** Dense Cholesky of the first `width` columns of a panel of `tall` rows, left-looking, four columns at a time. */
function factorPanel(v: Float64Array, panel: number, tall: number, width: number): boolean {
  for (let j = 0; j < width; j++) {
    const target = panel + j * tall;
    let p = 0;
    for (; p + 3 < j; p += 4) {
      const a = panel + p * tall;
      const b = a + tall;
      const c = b + tall;
      const d = c + tall;
      const ka = v[a + j]!;
      const kb = v[b + j]!;
      const kc = v[c + j]!;
      const kd = v[d + j]!;
      for (let r = j; r < tall; r++)
        v[target + r]! -= ka * v[a + r]! + kb * v[b + r]! + kc * v[c + r]! + kd * v[d + r]!;
    }
    for (; p < j; p++) {
      const a = panel + p * tall;
      const ka = v[a + j]!;
      for (let r = j; r < tall; r++) v[target + r]! -= ka * v[a + r]!;
    }
    const pivot = v[target + j]!;
    if (!(pivot > 0)) return false;
    const scale = 1 / Math.sqrt(pivot);
    for (let r = j; r < tall; r++) v[target + r]! *= scale;
  }
  return true;
}

/** update -= B B', lower half, B being the rows of the panel beyond its own columns. Two columns by four at a time. */
function subtractOuter(
  v: Float64Array,
  panel: number,
  tall: number,
  width: number,
  u: Float64Array,
  update: number,
  rest: number,
): void {
  const base = panel + width;
  let j = 0;
  for (; j + 1 < rest; j += 2) {
    const left = update + j * rest;
    const right = left + rest;
    let p = 0;
    for (; p + 3 < width; p += 4) {
      const a = base + p * tall;
      const b = a + tall;
      const c = b + tall;
      const d = c + tall;
      const la = v[a + j]!;
      const lb = v[b + j]!;
      const lc = v[c + j]!;
      const ld = v[d + j]!;
      const ra = v[a + j + 1]!;
      const rb = v[b + j + 1]!;
      const rc = v[c + j + 1]!;
      const rd = v[d + j + 1]!;
      for (let r = j; r < rest; r++) {
        const va = v[a + r]!;
        const vb = v[b + r]!;
        const vc = v[c + r]!;
        const vd = v[d + r]!;
        u[left + r]! -= la * va + lb * vb + lc * vc + ld * vd;
        u[right + r]! -= ra * va + rb * vb + rc * vc + rd * vd;
      }
    }
    for (; p < width; p++) {
      const a = base + p * tall;
      const la = v[a + j]!;
      const ra = v[a + j + 1]!;
      for (let r = j; r < rest; r++) {
        const va = v[a + r]!;
        u[left + r]! -= la * va;
        u[right + r]! -= ra * va;
      }
    }
  }
  if (j < rest) {
    const at = update + j * rest + j;
    let sum = 0;
    for (let p = 0; p < width; p++) {
      const b = v[base + p * tall + j]!;
      sum += b * b;
    }
    u[at]! -= sum;
  }
}
