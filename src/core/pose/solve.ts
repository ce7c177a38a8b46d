/**
 * The nearest closing pose to what is asked. Minimises  1/2 sum weight (angle - goal)^2  over the moving creases
 * subject to closure and to bounds on every angle, by sequential quadratic programming: Newton steps with the exact
 * second derivative of closure, bounds by a primal-dual active set, a line search, and multipliers carried along.
 * One sparse Cholesky factorisation per step and round of the active set.
 */

import { largestOf, sumOfSquares } from '../numeric/arrays.ts';
import { SparseCholesky } from '../numeric/cholesky.ts';
import type { Loop } from '../sheet/loops.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';

/** What to solve for; one entry per unknown of the solver. */
export interface Goal {
  readonly goal: Float64Array;
  readonly weight: Float64Array;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

interface SolveOptions {
  /** Steps shorter than this end the search; the pose still closes to rounding. Radians. */
  readonly enough?: number;
}

interface Solved {
  /** Largest residual of closure, radians. */
  readonly closure: number;
  readonly factorisations: number;
  /** The last steps were small and closure is at rounding. */
  readonly settled: boolean;
}

/** Residuals below this are rounding: a corner of a few creases computes its product to about 1e-16 each. */
const CLOSURE_FLOOR = 2e-15;
const STEP_GOAL = 1e-9;
const FACTORISATION_LIMIT = 40;
/** Longest change of one angle in one step, radians. */
const REACH = 0.5;
const CLOSE_STEPS = 25;
const ACTIVE_SET_ROUNDS = 8;
/** A pose that closes to this (radians) is near enough for steps that follow the goal; else closure comes first. */
const NEARLY_CLOSED = 0.03;
const RESTORE_STEPS = 12;
const RESTORE_DAMPING = 1e-3;
/** Weight of closure in the merit that steps are judged by, against goals of weight 1. */
const MERIT = 100;
const LOCAL_STEP = 0.05;
/** Ends of a crease's range that it is tied to. */
const LOW = 1;
const HIGH = 2;

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
  /** The part of the step that follows the goal along closed poses; the rest restores closure. */
  private readonly tangential: Float64Array;
  private readonly moment: Float64Array;
  private readonly pinned: Uint8Array;
  private readonly trial: Float64Array;
  private curvature = 1;

  /** @param loops the walks that must close; all of the sheet where left out */
  constructor(sheet: Sheet, moving: Uint8Array, loops?: readonly Loop[]) {
    this.system = new ClosureSystem(sheet, moving, loops);
    this.size = this.system.size;
    this.matrix = new SparseCholesky(this.system.pattern);
    this.multiplier = new Float64Array(this.system.rows);
    this.combined = new Float64Array(this.system.rows);
    this.gradient = new Float64Array(this.size);
    this.step = new Float64Array(this.size);
    this.tangential = new Float64Array(this.size);
    this.moment = new Float64Array(this.system.rows);
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
    const enough = options.enough ?? STEP_GOAL;
    const before = this.factorisations;
    this.clip(angle, goal);
    const stiffness = this.penalty(angle);
    this.pinned.fill(0);
    this.system.evaluate(angle);
    this.restore(angle, goal);
    let settled = false;
    while (this.factorisations - before < FACTORISATION_LIMIT && !settled) {
      const moved = this.newtonStep(angle, goal, stiffness);
      settled = this.system.largest() < 0.1 * enough && moved < enough;
    }
    const closure = this.close(angle, goal);
    return { closure, factorisations: this.factorisations - before, settled };
  }

  /** Brings closure of `angle` to rounding by least change, for a pose that already nearly closes. */
  close(angle: Float64Array, bounds: Pick<Goal, 'lower' | 'upper'>): number {
    const { system, matrix, step } = this;
    system.evaluate(angle);
    let closure = system.largest();
    const best = angle.slice();
    let least = closure;
    for (let k = 0; k < CLOSE_STEPS && closure > CLOSURE_FLOOR; k++) {
      step.fill(0);
      system.addTransposed(step, system.residual);
      for (let u = 0; u < this.size; u++) {
        const a = angle[system.creaseOf[u]!]!;
        const outward = (a <= bounds.lower[u]! && step[u]! > 0) || (a >= bounds.upper[u]! && step[u]! < 0);
        this.pinned[u] = outward ? 1 : 0;
        if (outward) step[u] = 0;
      }
      if (!this.factorNormalMatrix()) break;
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

  /** J'J with as little damping as rounding allows: corners near a singular state have very weak conditions. */
  private factorNormalMatrix(least = 1e-12): boolean {
    for (let damping = least; damping <= 1e-2; damping *= 100) {
      this.matrix.clear();
      for (let u = 0; u < this.size; u++) this.matrix.addDiagonal(u, this.pinned[u] ? 1 : damping);
      this.system.addNormalMatrix(this.matrix, 1, this.system.residual, 0, this.pinned);
      this.factorisations++;
      if (this.matrix.factor()) return true;
    }
    return false;
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
    return 1e5 / Math.min(1, Math.max(1e-3, amplitude)) ** 2;
  }

  /** Merit: goal distance plus multiplier and penalty terms at the evaluated pose. */
  private merit(angle: Float64Array, { goal, weight }: Goal): number {
    let sum = 0;
    for (let u = 0; u < this.size; u++) {
      const d = angle[this.system.creaseOf[u]!]! - goal[u]!;
      sum += 0.5 * weight[u]! * d * d;
    }
    for (let r = 0; r < this.multiplier.length; r++) {
      const c = this.system.residual[r]!;
      sum += this.multiplier[r]! * c + 0.5 * MERIT * c * c;
    }
    return sum;
  }

  /** From far off, first to a pose that nearly closes, by damped least squares, whatever the goal. */
  private restore(angle: Float64Array, bounds: Goal): void {
    const { system, step, trial } = this;
    for (let k = 0; k < RESTORE_STEPS; k++) {
      const square = sumOfSquares(system.residual);
      if (system.largest() < NEARLY_CLOSED) return;
      step.fill(0);
      system.addTransposed(step, system.residual);
      if (!this.factorNormalMatrix(RESTORE_DAMPING)) return;
      this.matrix.solve(step);
      const scale = Math.min(1, REACH / largestOf(step));
      trial.set(angle);
      for (let u = 0; u < this.size; u++) {
        const e = system.creaseOf[u]!;
        angle[e] = Math.min(bounds.upper[u]!, Math.max(bounds.lower[u]!, angle[e]! - scale * step[u]!));
      }
      system.evaluate(angle);
      if (sumOfSquares(system.residual) < square) continue;
      angle.set(trial);
      system.evaluate(angle);
      return;
    }
  }

  /** One Newton step with line search. Returns the largest change of an angle. */
  private newtonStep(angle: Float64Array, goal: Goal, stiffness: number): number {
    const { system, multiplier, gradient, step, trial, moment } = this;
    for (let u = 0; u < this.size; u++)
      gradient[u] = goal.weight[u]! * (angle[system.creaseOf[u]!]! - goal.goal[u]!);
    system.addTransposed(gradient, multiplier);
    if (!this.direction(angle, goal, stiffness)) return 0;
    moment.fill(0);
    system.addChange(moment, this.tangential);
    // the merit falls along the step as long as it weighs closure by more than the multipliers do
    system.addTransposed(gradient, this.scaledResidual(MERIT));
    const start = this.merit(angle, goal);
    const open = system.largest();
    let scale = Math.min(1, REACH / largestOf(step));
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
      // short steps that leave no more open than their square are Newton's own, whatever the merit says
      const local = moved < LOCAL_STEP && system.largest() <= Math.max(moved * moved, open);
      if (local || this.merit(angle, goal) <= start + 1e-4 * Math.min(0, slope) || tries === 12) {
        for (let r = 0; r < moment.length; r++) multiplier[r]! += scale * stiffness * moment[r]!;
        return moved;
      }
      scale *= 0.5;
    }
  }

  private scaledResidual(factor: number): Float64Array {
    const { combined, system } = this;
    for (let r = 0; r < combined.length; r++) combined[r] = factor * system.residual[r]!;
    return combined;
  }

  /**
   * step := minimiser of the quadratic model within the bounds, by a primal-dual active set (Hintermueller, Ito and
   * Kunisch 2003): creases that would leave their range are tied to its end, tied ones that pull inward are let go.
   */
  private direction(angle: Float64Array, goal: Goal, stiffness: number): boolean {
    const { pinned, step, system } = this;
    const tie = 1e6 * stiffness;
    for (let round = 0; round < ACTIVE_SET_ROUNDS; round++) {
      if (!this.newtonDirection(angle, goal, stiffness, tie)) return false;
      let changed = 0;
      for (let u = 0; u < this.size; u++) {
        const here = angle[system.creaseOf[u]!]!;
        const low = goal.lower[u]! - here;
        const high = goal.upper[u]! - here;
        const was = pinned[u]!;
        let now = was;
        if (was === 0) now = step[u]! < low ? LOW : step[u]! > high ? HIGH : 0;
        else if (was === LOW ? tie * (low - step[u]!) < 0 : tie * (high - step[u]!) > 0) now = 0;
        if (now !== was) {
          pinned[u] = now;
          changed++;
        }
      }
      if (changed === 0) break;
    }
    return true;
  }

  /** Newton direction for the present ties, with as much of the second derivative as keeps it positive definite. */
  private newtonDirection(angle: Float64Array, goal: Goal, stiffness: number, tie: number): boolean {
    const { matrix, system, pinned, gradient, step, tangential } = this;
    this.curvature = 1;
    for (;;) {
      matrix.clear();
      for (let u = 0; u < this.size; u++)
        matrix.addDiagonal(u, goal.weight[u]! + 1e-12 * stiffness + (pinned[u] ? tie : 0));
      system.addNormalMatrix(matrix, stiffness, this.multiplier, this.curvature);
      this.factorisations++;
      if (matrix.factor()) break;
      if (this.curvature === 0) return false;
      this.curvature = this.curvature > 0.3 ? this.curvature / 2 : 0;
    }
    for (let u = 0; u < this.size; u++) {
      const here = angle[system.creaseOf[u]!]!;
      const end = pinned[u] === LOW ? goal.lower[u]! : goal.upper[u]!;
      tangential[u] = -gradient[u]! + (pinned[u] ? tie * (end - here) : 0);
    }
    matrix.solve(tangential);
    step.fill(0);
    system.addTransposed(step, this.scaledResidual(-stiffness));
    matrix.solve(step);
    for (let u = 0; u < this.size; u++) step[u]! += tangential[u]!;
    return true;
  }
}
