/** Poses of Miura sheets: cold, warm, along the slider; growth; against two rigid-body engines and native CHOLMOD. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SparseCholesky } from '../../src/core/numeric/cholesky.ts';
import { ClosureSystem } from '../../src/core/pose/closure.ts';
import { PoseCorrector } from '../../src/core/pose/correct.ts';
import { angleBounds, foldingCreases } from '../../src/core/pose/moving.ts';
import { placePanels, widestGap } from '../../src/core/pose/place.ts';
import { type Goal, PoseSolver } from '../../src/core/pose/solve.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { HingedBodies } from '../support/hinged-bodies.ts';
import { HingedRapier } from '../support/hinged-rapier.ts';
import { miuraSheet } from '../support/patterns.ts';
import { best, growth, heading, row } from './measure.ts';

export function benchPoses(): void {
  heading('Miura n x n: poses (ms)');
  row('n creases fill | cold  warm  slider frame | factor  share of a warm pose | closure');
  const cold: [number, number][] = [];
  const warm: [number, number][] = [];
  for (const n of [8, 20, 40, 70]) {
    const sheet = miuraSheet(n, n);
    const goal = new Goals(sheet);
    const coldTime = best(2, () => goal.solveCold(0.5));
    let t = 0.5;
    const warmTime = best(5, () => goal.solveWarm((t += 0.005)));
    const steps = goal.lastFactorisations;
    const factor = factorTime(sheet, goal.angle);
    const slider = sliderFrame(sheet, goal);
    row(
      n,
      goal.solver.size,
      goal.solver.fill,
      '|',
      coldTime,
      warmTime,
      slider,
      '|',
      factor,
      (factor * steps) / warmTime,
      '|',
      goal.closure,
    );
    cold.push([goal.solver.size, coldTime]);
    warm.push([goal.solver.size, warmTime]);
  }
  row(
    'growth exponent in creases, 20 to 70: cold',
    growth(cold.slice(1)),
    '(goal at most 1.4)  warm',
    growth(warm.slice(1)),
  );
}

/** Goals along the way to the finished angles, and the solver that follows them. */
class Goals {
  solver: PoseSolver;
  angle: Float64Array;
  closure = 0;
  lastFactorisations = 0;
  private readonly sheet: Sheet;
  private readonly goal: Goal;

  constructor(sheet: Sheet) {
    this.sheet = sheet;
    this.solver = new PoseSolver(sheet, foldingCreases(sheet));
    const size = this.solver.size;
    const bounds = Array.from(this.solver.system.creaseOf, (e) => angleBounds(sheet.creaseKind[e]!, false));
    this.goal = {
      goal: new Float64Array(size),
      weight: new Float64Array(size).fill(1),
      lower: Float64Array.from(bounds, ([low]) => low),
      upper: Float64Array.from(bounds, ([, high]) => high),
    };
    this.angle = new Float64Array(sheet.creaseKind.length);
  }

  private aim(fraction: number): void {
    this.solver.system.creaseOf.forEach((e, u) => {
      this.goal.goal[u] = fraction * this.sheet.creaseAngle[e]!;
    });
  }

  /** From nothing: analysis of the pattern, then a solve that starts at the wished angles. */
  solveCold(fraction: number): number {
    this.solver = new PoseSolver(this.sheet, foldingCreases(this.sheet));
    this.aim(fraction);
    this.solver.system.creaseOf.forEach((e, u) => {
      this.angle[e] = this.goal.goal[u]!;
    });
    return this.solveWarm(fraction);
  }

  solveWarm(fraction: number): number {
    this.aim(fraction);
    const solved = this.solver.solve(this.angle, this.goal, { enough: 1e-5 });
    this.closure = solved.closure;
    this.lastFactorisations = solved.factorisations;
    return this.angle[0]!;
  }
}

/** One frame of a slider between baked poses: blend two, correct, place the panels. */
function sliderFrame(sheet: Sheet, goal: Goals): number {
  const from = goal.angle.slice();
  goal.solveWarm(0.54);
  const to = goal.angle.slice();
  const corrector = new PoseCorrector(sheet);
  let share = 0;
  return best(5, () => {
    share = (share + 0.37) % 1;
    const blend = from.map((a, e) => a + share * (to[e]! - a));
    return placePanels(sheet, corrector.correct(blend).angle, 0);
  });
}

/** The normal matrix of a Miura pose, as the solver factors it. */
function normalMatrix(sheet: Sheet, angle: Float64Array) {
  const system = new ClosureSystem(sheet, foldingCreases(sheet));
  system.evaluate(angle);
  const matrix = new SparseCholesky(system.pattern);
  const fill = (sink: { addDiagonal(u: number, v: number): void; addEntry(k: number, v: number): void }) => {
    for (let u = 0; u < system.size; u++) sink.addDiagonal(u, 1);
    system.addNormalMatrix(sink, 1e3, system.residual, 0);
  };
  return { system, matrix, fill };
}

function factorTime(sheet: Sheet, angle: Float64Array): number {
  const { matrix, fill } = normalMatrix(sheet, angle);
  const loaded = best(10, () => {
    matrix.clear();
    fill(matrix);
    return matrix.factor();
  });
  const loading = best(10, () => {
    matrix.clear();
    fill(matrix);
    return matrix.values;
  });
  return loaded - loading;
}

export function benchCholmod(): void {
  heading('Factorisation against native CHOLMOD (Debian libsuitesparse-dev), best of 20, one thread');
  if (!existsSync('/usr/include/suitesparse/cholmod.h')) {
    row('skipped: cholmod.h is not installed');
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'creaseway-bench-'));
  const program = join(folder, 'factor');
  try {
    execFileSync('cc', [
      '-O2',
      '-I/usr/include/suitesparse',
      new URL('./cholmod.c', import.meta.url).pathname,
      '-o',
      program,
      '-lcholmod',
      '-lm',
    ]);
  } catch {
    row('skipped: the small C program did not compile');
    return;
  }
  for (const n of [40, 57, 70, 100]) {
    const sheet = miuraSheet(n, n);
    const goal = new Goals(sheet);
    goal.solveCold(0.5);
    const { system, fill } = normalMatrix(sheet, goal.angle);
    const diagonal = new Float64Array(system.size);
    const entries = new Float64Array(system.pattern.row.length);
    fill({ addDiagonal: (u, v) => (diagonal[u]! += v), addEntry: (k, v) => (entries[k]! += v) });
    const lines = [`${system.size} ${entries.length + system.size}`];
    diagonal.forEach((v, u) => lines.push(`${u} ${u} ${v}`));
    entries.forEach((v, k) => lines.push(`${system.pattern.row[k]} ${system.pattern.column[k]} ${v}`));
    const file = join(folder, `miura-${n}.txt`);
    writeFileSync(file, lines.join('\n'));
    const native = Number(
      execFileSync(program, [file], {
        env: { ...process.env, OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1' },
      }).toString(),
    );
    const ours = factorTime(sheet, goal.angle);
    row(
      `${system.size} unknowns: ours`,
      ours,
      'ms, CHOLMOD',
      native,
      'ms, ratio',
      ours / native,
      system.size > 6000 ? '(goal at most 1.0)' : '',
    );
  }
}

export async function benchEngines(): Promise<void> {
  heading('The same motion in rigid-body engines, Miura driven by every crease');
  const small = miuraSheet(20, 20);
  const goal = new Goals(small);
  goal.solveCold(0.45);
  const start = goal.angle.slice();
  const time = best(5, () => goal.solveWarm(0.5 - 0.05 * ((flip ^= 1) ? 0 : 1)));
  goal.solveWarm(0.5);
  const target = goal.angle.slice();
  const gap = widestGap(small, placePanels(small, target, 0)).gap * 20;
  const bodies = new HingedBodies(small, start, 10);
  const wishes = new Map([...target.keys()].filter((e) => start[e] !== 0).map((e) => [e, target[e]!]));
  const begin = performance.now();
  let steps = 0;
  const missed = () => bodies.angles().reduce((m, a, e) => Math.max(m, Math.abs(a - target[e]!)), 0);
  while (steps < 600 && missed() > 0.01) {
    bodies.drive(wishes, 20);
    steps += 20;
  }
  const theirs = performance.now() - begin;
  row('n = 20, one pose reached: ours', time, 'ms, gap of a panel', gap);
  row(
    `cannon-es, 10 iterations, ${steps} steps:`,
    theirs,
    'ms, gap',
    bodies.gap(),
    'angles off by (radians)',
    missed(),
  );
  row(
    'times faster',
    theirs / time,
    '(goal at least 100)  times tighter',
    bodies.gap() / gap,
    '(goal at least 1e6)',
  );

  const large = miuraSheet(45, 45);
  const wide = new Goals(large);
  wide.solveCold(0.4);
  const from = wide.angle.slice();
  let t = 0.4;
  const frame = best(10, () => wide.solveWarm((t += 0.002)));
  const ourGap = widestGap(large, placePanels(large, wide.angle, 0)).gap * 45;
  const rapier = await HingedRapier.create(large, from, 20);
  rapier.drive(wide.angle, 5);
  const rapierFrame = best(10, () => rapier.drive(wide.angle, 1));
  row(
    'n = 45, one frame: ours',
    frame,
    'ms, gap',
    ourGap,
    '| rapier, 20 iterations',
    rapierFrame,
    'ms, gap',
    rapier.gap(),
  );
  row(
    'ratio of time',
    frame / rapierFrame,
    '(goal at most 0.5)  ratio of gap',
    ourGap / rapier.gap(),
    '(goal at most 0.001)',
  );
}

let flip = 0;
