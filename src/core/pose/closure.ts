/**
 * Closure: going round an interior vertex, the fold turns compose to nothing; going round a hole, the whole motion
 * does, shift included (belcastro and Hull 2002). With a_1 .. a_n the crease directions as folded, seen from the
 * first panel of the walk, the residual c = log of the product has
 *   first derivative  a_i   and second derivative  (a_i x a_j) / 2 for i < j,
 * both exact where the loop closes. For a hole each a_i is a screw (direction, moment) and x its commutator.
 * The residual is a rotation vector of up to a full turn, so a product of -1, paper gone through itself, never
 * passes for closed.
 */
import { multiply, rotationVector, setFoldTurn, turn } from '../numeric/rotation.ts';
import type { SymmetricPattern } from '../numeric/symbolic.ts';
import { closureLoops, type Loop } from '../sheet/loops.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeLine } from './place.ts';

/** Anything that numbers of a symmetric matrix can be added to, by unknown and by entry of the pattern. */
interface MatrixSink {
  addDiagonal(unknown: number, value: number): void;
  addEntry(entry: number, value: number): void;
}

/** One closed walk and how far it is from closing. */
interface LoopClosure {
  /** The vertex walked round, or NONE for a hole. */
  readonly vertex: number;
  /** Creases crossed. */
  readonly creases: readonly number[];
  /** Rotation left over, radians, 0 to a full turn. */
  readonly rotation: number;
  /** Shift left over, sheet units; 0 for vertices. */
  readonly gap: number;
}

/** Every closed walk of a pose with what is left over, and the largest rotation (a hole's gap counts as radians). */
export function closureOfPose(
  sheet: Sheet,
  angle: Float64Array,
): { largest: number; loops: readonly LoopClosure[] } {
  const system = new ClosureSystem(sheet, new Uint8Array(sheet.creaseKind.length));
  system.evaluate(angle);
  const loops = system.loopClosures();
  let largest = 0;
  for (const loop of loops) largest = Math.max(largest, loop.rotation, loop.gap);
  return { largest, loops };
}

/**
 * The closure conditions of one sheet with a chosen set of moving creases, ready to be evaluated many times.
 * Unknowns are numbered 0.. in the order of the moving creases.
 */
export class ClosureSystem {
  /** Crease of each unknown, and unknown of each crease (NONE: held). */
  readonly creaseOf: Int32Array;
  readonly unknownOf: Int32Array;
  readonly size: number;
  /** Number of scalar conditions. */
  readonly rows: number;
  /** Residuals, three per vertex, six per hole (rotation, then shift). */
  readonly residual: Float64Array;
  readonly pattern: SymmetricPattern;

  private readonly loopStart: Int32Array;
  private readonly loopRow: Int32Array;
  private readonly loopVertex: Int32Array;
  private readonly crease: Int32Array;
  private readonly direction: Float64Array; // 2 per entry
  private readonly point: Float64Array; // 2 per entry, a point of the crease
  private readonly screw: Float64Array; // 6 per entry: folded direction, moment
  /** Entry of the pattern for each pair i < j within a loop; -1 - unknown where both are one crease; SKIP if held. */
  private readonly pairAt: Int32Array;

  /** @param loops the walks that must close; all of the sheet where left out */
  constructor(sheet: Sheet, moving: Uint8Array, loops: readonly Loop[] = closureLoops(sheet)) {
    const unknowns: number[] = [];
    this.unknownOf = new Int32Array(moving.length).fill(NONE);
    for (let e = 0; e < moving.length; e++)
      if (moving[e]) {
        this.unknownOf[e] = unknowns.length;
        unknowns.push(e);
      }
    this.creaseOf = Int32Array.from(unknowns);
    this.size = unknowns.length;

    this.loopStart = new Int32Array(loops.length + 1);
    this.loopRow = new Int32Array(loops.length + 1);
    this.loopVertex = Int32Array.from(loops, (loop) => loop.vertex);
    for (let l = 0; l < loops.length; l++) {
      this.loopStart[l + 1] = this.loopStart[l]! + loops[l]!.halfEdges.length;
      this.loopRow[l + 1] = this.loopRow[l]! + (loops[l]!.vertex === NONE ? 6 : 3);
    }
    const entries = this.loopStart[loops.length]!;
    this.rows = this.loopRow[loops.length]!;
    this.residual = new Float64Array(this.rows);
    this.crease = new Int32Array(entries);
    this.direction = new Float64Array(2 * entries);
    this.point = new Float64Array(2 * entries);
    this.screw = new Float64Array(6 * entries);
    let k = 0;
    for (const loop of loops)
      for (const h of loop.halfEdges) {
        const line = halfEdgeLine(sheet, h);
        this.crease[k] = h >> 1;
        this.direction[2 * k] = line.dx;
        this.direction[2 * k + 1] = line.dy;
        this.point[2 * k] = line.x;
        this.point[2 * k + 1] = line.y;
        k++;
      }
    const { pattern, pairAt } = this.pairUp();
    this.pattern = pattern;
    this.pairAt = pairAt;
  }

  /** Number of loops. */
  get loops(): number {
    return this.loopVertex.length;
  }
  /** Rows of loop l run from here to rowOfLoop(l + 1). */
  rowOfLoop(l: number): number {
    return this.loopRow[l]!;
  }

  private pairUp(): { pattern: SymmetricPattern; pairAt: Int32Array } {
    const row: number[] = [];
    const column: number[] = [];
    const known = new Map<number, number>();
    const pairAt: number[] = [];
    for (let l = 0; l < this.loops; l++)
      for (let i = this.loopStart[l]!; i < this.loopStart[l + 1]!; i++)
        for (let j = i + 1; j < this.loopStart[l + 1]!; j++) {
          const p = this.unknownOf[this.crease[i]!]!;
          const q = this.unknownOf[this.crease[j]!]!;
          if (p === NONE || q === NONE) pairAt.push(SKIP);
          else if (p === q) pairAt.push(-1 - p);
          else {
            const key = Math.max(p, q) * this.size + Math.min(p, q);
            let at = known.get(key);
            if (at === undefined) {
              at = row.length;
              known.set(key, at);
              row.push(Math.max(p, q));
              column.push(Math.min(p, q));
            }
            pairAt.push(at);
          }
        }
    return {
      pattern: { size: this.size, row: Int32Array.from(row), column: Int32Array.from(column) },
      pairAt: Int32Array.from(pairAt),
    };
  }

  /** Computes the residual and the folded crease directions of a pose (fold angle per crease of the sheet). */
  evaluate(angle: Float64Array): void {
    const { loopStart, loopRow, crease, direction, screw, residual } = this;
    const q = EVALUATE.q;
    const step = EVALUATE.step;
    for (let l = 0; l < this.loops; l++) {
      q[0] = q[1] = q[2] = 0;
      q[3] = 1;
      const hole = this.loopVertex[l] === NONE;
      if (hole) EVALUATE.shift.fill(0);
      for (let i = loopStart[l]!; i < loopStart[l + 1]!; i++) {
        const dx = direction[2 * i]!;
        const dy = direction[2 * i + 1]!;
        turn(screw, 6 * i, q, 0, dx, dy, 0);
        setFoldTurn(step, 0, dx, dy, angle[crease[i]!]!);
        if (hole) this.carry(i, q, step);
        else multiply(q, 0, q, 0, step, 0);
      }
      rotationVector(residual, loopRow[l]!, q, 0);
      if (hole) residual.set(EVALUATE.shift, loopRow[l]! + 3);
    }
  }

  /** One crossing of a hole's walk: sets the moment of entry i and moves the frame (q, shift) across the crease. */
  private carry(i: number, q: Float64Array, step: Float64Array): void {
    const { shift, at } = EVALUATE;
    const { screw, point } = this;
    const x = point[2 * i]!;
    const y = point[2 * i + 1]!;
    turn(at, 0, q, 0, x, y, 0);
    for (let a = 0; a < 3; a++) at[a]! += shift[a]!;
    cross(screw, 6 * i + 3, at, 0, screw, 6 * i);
    multiply(q, 0, q, 0, step, 0);
    turn(shift, 0, q, 0, x, y, 0);
    for (let a = 0; a < 3; a++) shift[a] = at[a]! - shift[a]!;
  }

  /** Largest residual of the last pose, radians (a hole's shift counts in sheet units). */
  largest(): number {
    let most = 0;
    for (let l = 0; l < this.loops; l++)
      for (let r = this.loopRow[l]!; r < this.loopRow[l + 1]!; r += 3)
        most = Math.max(most, Math.hypot(this.residual[r]!, this.residual[r + 1]!, this.residual[r + 2]!));
    return most;
  }

  /** gradient[u] += sum over conditions of weight[row] * derivative of the residual by unknown u. */
  addTransposed(gradient: Float64Array, weight: Float64Array): void {
    const { loopStart, loopRow, crease, screw, unknownOf } = this;
    for (let l = 0; l < this.loops; l++) {
      const r = loopRow[l]!;
      const hole = this.loopVertex[l] === NONE;
      for (let i = loopStart[l]!; i < loopStart[l + 1]!; i++) {
        const u = unknownOf[crease[i]!]!;
        if (u === NONE) continue;
        const s = 6 * i;
        let sum = weight[r]! * screw[s]! + weight[r + 1]! * screw[s + 1]! + weight[r + 2]! * screw[s + 2]!;
        if (hole)
          sum +=
            weight[r + 3]! * screw[s + 3]! + weight[r + 4]! * screw[s + 4]! + weight[r + 5]! * screw[s + 5]!;
        gradient[u]! += sum;
      }
    }
  }

  /** change[row] += first-order change of each residual when the unknowns move by `step`. */
  addChange(change: Float64Array, step: Float64Array): void {
    const { loopStart, loopRow, crease, screw, unknownOf } = this;
    for (let l = 0; l < this.loops; l++) {
      const r = loopRow[l]!;
      const span = loopRow[l + 1]! - r;
      for (let i = loopStart[l]!; i < loopStart[l + 1]!; i++) {
        const u = unknownOf[crease[i]!]!;
        if (u === NONE) continue;
        for (let a = 0; a < span; a++) change[r + a]! += screw[6 * i + a]! * step[u]!;
      }
    }
  }

  /**
   * Adds stiffness * J'J, and `curvature` times the second derivative of weight . residual, to a matrix. Unknowns
   * marked in `pinned`, if given, are left out.
   */
  addNormalMatrix(
    matrix: MatrixSink,
    stiffness: number,
    weight: Float64Array,
    curvature: number,
    pinned?: Uint8Array,
  ): void {
    const { loopStart, loopRow, crease, screw, unknownOf, pairAt } = this;
    const bracket = EVALUATE.bracket;
    let pair = 0;
    for (let l = 0; l < this.loops; l++) {
      const r = loopRow[l]!;
      const hole = this.loopVertex[l] === NONE;
      const w0 = weight[r]! * 0.5 * curvature;
      const w1 = weight[r + 1]! * 0.5 * curvature;
      const w2 = weight[r + 2]! * 0.5 * curvature;
      for (let i = loopStart[l]!; i < loopStart[l + 1]!; i++) {
        const u = unknownOf[crease[i]!]!;
        const s = 6 * i;
        const ax = screw[s]!;
        const ay = screw[s + 1]!;
        const az = screw[s + 2]!;
        const skip = u === NONE || pinned?.[u] === 1;
        if (!skip) {
          let square = 1;
          if (hole) square += screw[s + 3]! ** 2 + screw[s + 4]! ** 2 + screw[s + 5]! ** 2;
          matrix.addDiagonal(u, stiffness * square);
        }
        for (let j = i + 1; j < loopStart[l + 1]!; j++, pair++) {
          const at = pairAt[pair]!;
          if (skip || at === SKIP) continue;
          const v = unknownOf[crease[j]!]!;
          if (pinned?.[v]) continue;
          const t = 6 * j;
          const bx = screw[t]!;
          const by = screw[t + 1]!;
          const bz = screw[t + 2]!;
          let value =
            stiffness * (ax * bx + ay * by + az * bz) +
            w0 * (ay * bz - az * by) +
            w1 * (az * bx - ax * bz) +
            w2 * (ax * by - ay * bx);
          if (hole) {
            value +=
              stiffness *
              (screw[s + 3]! * screw[t + 3]! + screw[s + 4]! * screw[t + 4]! + screw[s + 5]! * screw[t + 5]!);
            // commutator of two screws: a x m' + m x a'
            cross(bracket, 0, screw, s, screw, t + 3);
            cross(bracket, 3, screw, s + 3, screw, t);
            for (let a = 0; a < 3; a++)
              value += 0.5 * curvature * weight[r + 3 + a]! * (bracket[a]! + bracket[a + 3]!);
          }
          if (at >= 0) matrix.addEntry(at, value);
          else matrix.addDiagonal(-1 - at, 2 * value);
        }
      }
    }
  }

  /** What is left over in each loop of the last pose. */
  loopClosures(): LoopClosure[] {
    const result: LoopClosure[] = [];
    for (let l = 0; l < this.loops; l++) {
      const r = this.loopRow[l]!;
      const hole = this.loopVertex[l] === NONE;
      const c = this.residual;
      result.push({
        vertex: this.loopVertex[l]!,
        creases: Array.from(this.crease.subarray(this.loopStart[l]!, this.loopStart[l + 1]!)),
        rotation: Math.hypot(c[r]!, c[r + 1]!, c[r + 2]!),
        gap: hole ? Math.hypot(c[r + 3]!, c[r + 4]!, c[r + 5]!) : 0,
      });
    }
    return result;
  }

  /** Directions of the creases of loop l as folded in the last pose, seen from the loop's first panel. */
  axesOfLoop(l: number): number[][] {
    const entries = Array.from(
      { length: this.loopStart[l + 1]! - this.loopStart[l]! },
      (_, i) => 6 * (this.loopStart[l]! + i),
    );
    return entries.map((s) => Array.from(this.screw.subarray(s, s + 3)));
  }

  /** Calls with (row, unknown, derivative of that row's residual) for every stored derivative, loop by loop. */
  forEachDerivative(call: (row: number, unknown: number, value: number) => void): void {
    for (let l = 0; l < this.loops; l++) {
      const span = this.loopRow[l + 1]! - this.loopRow[l]!;
      for (let i = this.loopStart[l]!; i < this.loopStart[l + 1]!; i++) {
        const u = this.unknownOf[this.crease[i]!]!;
        if (u === NONE) continue;
        for (let a = 0; a < span; a++) call(this.loopRow[l]! + a, u, this.screw[6 * i + a]!);
      }
    }
  }
}

/** Pair of entries of which at least one crease is held. Outside the range of -1 - unknown in any real sheet. */
const SKIP = -0x40000000;

/** Scratch of `ClosureSystem`; its methods never nest. */
const EVALUATE = {
  q: new Float64Array(4),
  step: new Float64Array(4),
  shift: new Float64Array(3),
  at: new Float64Array(3),
  bracket: new Float64Array(6),
};

function cross(out: Float64Array, o: number, a: Float64Array, i: number, b: Float64Array, j: number): void {
  out[o] = a[i + 1]! * b[j + 2]! - a[i + 2]! * b[j + 1]!;
  out[o + 1] = a[i + 2]! * b[j]! - a[i]! * b[j + 2]!;
  out[o + 2] = a[i]! * b[j + 1]! - a[i + 1]! * b[j]!;
}
