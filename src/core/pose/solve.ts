/**
 * The nearest closing pose to what is asked. Minimises  1/2 sum weight (angle - goal)^2  over the moving creases
 * subject to closure and to bounds on every angle, by a stabilised sequential quadratic programme: Newton steps on
 * the augmented Lagrangian with the exact second derivative of closure, bounds by projection, a line search, and
 * multipliers carried along. One sparse Cholesky factorisation per step.
 */
import { SparseCholesky } from '../numeric/cholesky.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';

/** What to solve for; one entry per unknown of the solver. */
export interface Goal {
  readonly goal: Float64Array;
  readonly weight: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

export interface SolveOptions {
  /** Stop after this many factorisations. */
  readonly limit?: number;
  /** Longest change of one angle in one step, radians. */
  readonly reach?: number;
}

export interface Solved {
  /** Largest residual of closure, radians. */
  readonly closure: number;
  readonly factorisations: number;
  /** The last steps were small and closure is at rounding. */
  readonly settled: boolean;
}

/** Residuals below this are rounding: a corner of a few creases computes its product to about 1e-16 each. */
const CLOSURE_FLOOR = 2e-15;
const CLOSURE_GOAL = 1e-13;
const STEP_GOAL = 1e-9;

export class PoseSolver {
  readonly system: ClosureSystem;
  readonly size: number;
  /** Multiplier of each closure condition: the moment that holds a corner shut against what is asked. */
  readonly multiplier: Float64Array;
  factorisations = 0;
  private readonly matrix: SparseCholesky;
  private readonly combined: Float64Array;
  private readonly gradient: Float64Array;
  private readonly step: Float64Array;
  private readonly pinned: Uint8Array;
  private readonly trial: Float64Array;

  constructor(sheet: Sheet, moving: Uint8Array) {
    this.system = new ClosureSystem(sheet, moving);
    this.size = this.system.size;
    this.matrix = new SparseCholesky(this.system.pattern);
    this.multiplier = new Float64Array(this.system.rows);
    this.combined = new Float64Array(this.system.rows);
    this.gradient = new Float64Array(this.size);
    this.step = new Float64Array(this.size);
    this.pinned = new Uint8Array(this.size);
    this.trial = new Float64Array(moving.length);
  }

  /** Entries of the triangular factor, for reports. */
  get fill(): number {
    return this.matrix.symbolic.fill;
  }

  /**
   * Moves `angle` (per crease of the sheet, altered in place) to the nearest closing pose.
   * Creases that do not move keep their angles.
   */
  solve(angle: Float64Array, goal: Goal, options: SolveOptions = {}): Solved {
    const limit = options.limit ?? 40;
    const reach = options.reach ?? 0.5;
    const before = this.factorisations;
    this.clip(angle, goal);
    const stiffness = this.penalty(angle);
    this.system.evaluate(angle);
    let settled = false;
    let still = 0;
    while (this.factorisations - before < limit) {
      const moved = this.newtonStep(angle, goal, stiffness, reach);
      const closure = this.system.largest();
      for (let r = 0; r < this.multiplier.length; r++)
        this.multiplier[r]! += stiffness * this.system.residual[r]!;
      if (closure < CLOSURE_GOAL && moved < STEP_GOAL) {
        settled = true;
        break;
      }
      // closed, and what is left of the step is far below what can be seen
      if (closure < CLOSURE_GOAL && moved < 1e-6 && ++still >= 2) {
        settled = true;
        break;
      }
    }
    const closure = this.close(angle, goal);
    return { closure, factorisations: this.factorisations - before, settled };
  }

  /** Brings closure of `angle` to rounding by least change, for a pose that already nearly closes. */
  close(angle: Float64Array, bounds: Pick<Goal, 'lower' | 'upper'>, limit = 12): number {
    const { system, matrix, step } = this;
    system.evaluate(angle);
    let closure = system.largest();
    const best = angle.slice();
    let least = closure;
    this.pinned.fill(0);
    for (let k = 0; k < limit && closure > CLOSURE_FLOOR; k++) {
      matrix.clear();
      for (let u = 0; u < this.size; u++) matrix.addDiagonal(u, 1e-9);
      system.addNormalMatrix(matrix, 1, system.residual, 0, this.pinned);
      this.factorisations++;
      if (!matrix.factor()) break;
      step.fill(0);
      system.addTransposed(step, system.residual);
      matrix.solve(step);
      for (let u = 0; u < this.size; u++) {
        const e = system.creaseOf[u]!;
        angle[e] = Math.min(bounds.upper[u]!, Math.max(bounds.lower[u]!, angle[e]! - step[u]!));
      }
      system.evaluate(angle);
      closure = system.largest();
      if (closure >= 0.5 * least) {
        if (closure < least) best.set(angle);
        least = Math.min(closure, least);
        break;
      }
      least = closure;
      best.set(angle);
    }
    angle.set(best);
    system.evaluate(angle);
    return least;
  }

  private clip(angle: Float64Array, { lower, upper }: Goal): void {
    for (let u = 0; u < this.size; u++) {
      const e = this.system.creaseOf[u]!;
      angle[e] = Math.min(upper[u]!, Math.max(lower[u]!, angle[e]!));
    }
  }

  /**
   * Weight of closure against the goal. Near flat one of the three conditions of a corner is of second order, so
   * its gradient is as small as the angles: the weight grows with their inverse square.
   */
  private penalty(angle: Float64Array): number {
    let amplitude = 0;
    for (let u = 0; u < this.size; u++)
      amplitude = Math.max(amplitude, Math.abs(angle[this.system.creaseOf[u]!]!));
    return 1e3 / Math.min(1, Math.max(1e-3, amplitude)) ** 2;
  }

  /** Merit: goal distance plus multiplier and penalty terms at the evaluated pose. */
  private merit(angle: Float64Array, { goal, weight }: Goal, stiffness: number): number {
    let sum = 0;
    for (let u = 0; u < this.size; u++) {
      const d = angle[this.system.creaseOf[u]!]! - goal[u]!;
      sum += 0.5 * weight[u]! * d * d;
    }
    for (let r = 0; r < this.multiplier.length; r++) {
      const c = this.system.residual[r]!;
      sum += this.multiplier[r]! * c + 0.5 * stiffness * c * c;
    }
    return sum;
  }

  /** One projected Newton step with line search. Returns the largest change of an angle. */
  private newtonStep(angle: Float64Array, goal: Goal, stiffness: number, reach: number): number {
    const { system, combined, gradient, step, pinned, trial } = this;
    for (let r = 0; r < combined.length; r++)
      combined[r] = this.multiplier[r]! + stiffness * system.residual[r]!;
    for (let u = 0; u < this.size; u++)
      gradient[u] = goal.weight[u]! * (angle[system.creaseOf[u]!]! - goal.goal[u]!);
    system.addTransposed(gradient, combined);
    for (let u = 0; u < this.size; u++) {
      const a = angle[system.creaseOf[u]!]!;
      const outward =
        (a <= goal.lower[u]! && gradient[u]! > 0) || (a >= goal.upper[u]! && gradient[u]! < 0);
      pinned[u] = outward ? 1 : 0;
    }
    if (!this.direction(goal, stiffness)) return 0;
    let length = 0;
    for (let u = 0; u < this.size; u++) length = Math.max(length, Math.abs(step[u]!));
    let scale = length > reach ? reach / length : 1;
    const start = this.merit(angle, goal, stiffness);
    trial.set(angle);
    for (let tries = 0; ; tries++) {
      let slope = 0;
      let moved = 0;
      for (let u = 0; u < this.size; u++) {
        const e = system.creaseOf[u]!;
        const wanted = trial[e]! + scale * step[u]!;
        angle[e] = Math.min(goal.upper[u]!, Math.max(goal.lower[u]!, wanted));
        const change = angle[e]! - trial[e]!;
        slope += gradient[u]! * change;
        moved = Math.max(moved, Math.abs(change));
      }
      system.evaluate(angle);
      const here = this.merit(angle, goal, stiffness);
      // near rounding the merit no longer tells steps apart
      if (here <= start + 1e-4 * slope || moved < 1e-7) return moved;
      if (tries === 20) {
        angle.set(trial);
        system.evaluate(angle);
        return 0;
      }
      scale *= 0.5;
    }
  }

  /** step := Newton direction, with the full second derivative where that is positive definite. */
  private direction(goal: Goal, stiffness: number): boolean {
    const { matrix, system, pinned, gradient, step } = this;
    for (const curvature of [1, 0.5, 0]) {
      matrix.clear();
      for (let u = 0; u < this.size; u++)
        matrix.addDiagonal(u, pinned[u] ? 1 : goal.weight[u]! + 1e-12 * stiffness);
      system.addNormalMatrix(matrix, stiffness, this.combined, curvature, pinned);
      this.factorisations++;
      if (!matrix.factor()) continue;
      for (let u = 0; u < this.size; u++) step[u] = pinned[u] ? 0 : -gradient[u]!;
      matrix.solve(step);
      return true;
    }
    return false;
  }
}
