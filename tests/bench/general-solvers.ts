/** General solvers for satisfiability on the conditions of a layer problem, as clauses. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import MiniSat from 'logic-solver/minisat_wrapper.js';
import {
  type ConditionTable,
  EVEN_WIDTH,
  MIXED_WIDTH,
  NO_LITERAL,
} from '../../src/core/layer/condition-table.ts';

/** Clauses of literals that count from 1, negative where negated, each ended by 0; null where a condition never holds. */
export function clausesOf(table: ConditionTable): Int32Array | null {
  if (table.never.length > 0) return null;
  const out: number[] = [];
  const plain = (literal: number) => ((literal >> 1) + 1) * (literal & 1 ? -1 : 1);
  const { rows, count } = table.mixed();
  for (let row = 0; row < count; row++) {
    const [a, b, c] = [0, 1, 2].map((k) => plain(rows[MIXED_WIDTH * row + k]!)) as [number, number, number];
    out.push(a, b, c, 0, -a, -b, -c, 0);
  }
  for (let row = 0; row < table.evenCount; row++) {
    const at = EVEN_WIDTH * row;
    const of = [...table.even.subarray(at, at + 4)].filter((literal) => literal !== NO_LITERAL).map(plain);
    // each choice with an odd number of true literals is forbidden
    for (let choice = 0; choice < 1 << of.length; choice++) {
      const ones = of.filter((_, k) => (choice >> k) & 1).length;
      if (ones % 2 === 1) out.push(...of.map((literal, k) => ((choice >> k) & 1 ? -literal : literal)), 0);
    }
  }
  return Int32Array.from(out);
}

export class InProcess {
  private readonly solver = new MiniSat();
  private readonly buffer: number;

  constructor(unknowns: number, clauses: Int32Array) {
    const { allocate, ALLOC_NORMAL } = this.solver._C;
    this.buffer = allocate(4 * (unknowns + 2), 'i32', ALLOC_NORMAL);
    if (unknowns > 0) this.solver.ensureVar(unknowns);
    let start = 0;
    for (let k = 0; k < clauses.length; k++)
      if (clauses[k] === 0) {
        this.add(clauses.subarray(start, k));
        start = k + 1;
      }
  }

  private add(clause: ArrayLike<number>): void {
    const { HEAP32 } = this.solver._C;
    const at = this.buffer >> 2;
    for (let k = 0; k < clause.length; k++) HEAP32[at + k] = clause[k]!;
    HEAP32[at + clause.length] = 0;
    this.solver._C._addClause(this.buffer);
  }

  first(): boolean {
    return this.solver.solve();
  }

  /** Solutions found within the time, each forbidden once it is found; and whether they are all. */
  count(unknowns: number, milliseconds: number): { states: number; exact: boolean; time: number } {
    const start = performance.now();
    let states = 0;
    let exact = false;
    try {
      while (performance.now() - start < milliseconds) {
        exact = !this.solver.solve();
        if (exact) break;
        states++;
        const solution = this.solver.getSolution();
        this.add(Array.from({ length: unknowns }, (_, k) => (solution[k + 1] ? -(k + 1) : k + 1)));
      }
    } catch {
      // its fixed memory is full: what it has found until now counts
    }
    return { states, exact, time: performance.now() - start };
  }
}

/** Debian's programs, where the machine has them, with what makes them quiet. */
const PROGRAMS = [
  ['minisat', '-verb=0'],
  ['cadical', '-q'],
  ['picosat', '-n'],
] as const;

const isThere = (name: string) => spawnSync(name, ['--help']).error === undefined;

export const programs = () => PROGRAMS.filter(([name]) => isThere(name));

/** Time of a program on the clauses, less its time on one clause alone (start of the process), milliseconds. */
export function programTime(
  [name, quiet]: readonly [string, string],
  unknowns: number,
  clauses: Int32Array,
): { time: number; solvable: boolean } {
  const folder = mkdtempSync(join(tmpdir(), 'layers-'));
  const run = (file: string) => {
    const start = performance.now();
    const { status } = spawnSync(name, [quiet, file]);
    return { time: performance.now() - start, status };
  };
  const file = join(folder, 'all.cnf');
  const trivial = join(folder, 'one.cnf');
  const lines = clauses.join(' ').replaceAll(' 0 ', ' 0\n');
  writeFileSync(file, `p cnf ${unknowns} ${clauses.filter((literal) => literal === 0).length}\n${lines}\n`);
  writeFileSync(trivial, 'p cnf 1 1\n1 0\n');
  const start = Math.min(...[0, 1, 2, 3].map(() => run(trivial).time));
  const runs = [0, 1, 2].map(() => run(file));
  rmSync(folder, { recursive: true });
  const time = Math.max(0.05, Math.min(...runs.map((one) => one.time)) - start);
  return { time, solvable: runs[0]!.status === 10 };
}
