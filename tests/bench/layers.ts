/** Layer orders: time to the first one and states counted a second, against general solvers on the same conditions. */
import { LayerProblem } from '../../src/core/layer/problem.ts';
import { StateSearch } from '../../src/core/layer/solver.ts';
import { seededRandom } from '../../src/core/numeric/random.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { mapSheet, sheetOfFaces, stripSheet } from '../support/faces.ts';
import { miuraSheet } from '../support/patterns.ts';
import { simplyFoldedSheet } from '../support/simple-folds.ts';
import { clausesOf, InProcess, programs, programTime } from './general-solvers.ts';
import { best, growth, heading, row } from './measure.ts';

const never = () => false;

function problemOf(sheet: Sheet): LayerProblem {
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  return new LayerProblem(sheet, angle, placePanels(sheet, angle, 0));
}

const ours = ({ overlaps, table }: LayerProblem) => new StateSearch(overlaps.list.length, table);

/** A strip with mountains and valleys by chance: equal stamps fold flat whatever they are. */
function chanceStrip(n: number, seed: number): Sheet {
  const random = seededRandom(seed);
  return stripSheet(
    new Array(n).fill(1),
    Array.from({ length: n - 1 }, () => (random() < 0.5 ? 180 : -180)),
  );
}

/** A map with mountains and valleys by chance, an odd number of each at every corner: many cannot be folded. */
export function chanceMap(m: number, n: number, seed: number): Sheet {
  const random = seededRandom(seed);
  const sign = () => (random() < 0.5 ? 180 : -180);
  const level = Array.from({ length: n + 1 }, () => Array.from({ length: m }, sign));
  const upright = Array.from({ length: n }, () => Array.from({ length: m + 1 }, sign));
  for (let j = 1; j < n; j++)
    for (let i = 1; i < m; i++) {
      const round = [level[j]![i - 1]!, upright[j - 1]![i]!, upright[j]![i]!];
      const mountains = round.filter((degrees) => degrees < 0).length;
      level[j]![i] = mountains % 2 === 0 ? -180 : 180;
    }
  const id = (i: number, j: number) => j * (m + 1) + i;
  const vertices = Array.from({ length: (m + 1) * (n + 1) }, (_, k) => [
    k % (m + 1),
    Math.floor(k / (m + 1)),
  ]);
  const faces = Array.from({ length: m * n }, (_, k) => {
    const [i, j] = [k % m, Math.floor(k / m)];
    return [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
  });
  return sheetOfFaces(vertices, faces, (a, b) => {
    const low = Math.min(a, b);
    const [i, j] = [low % (m + 1), Math.floor(low / (m + 1))];
    return Math.abs(a - b) === 1 ? level[j]![i]! : upright[j]![i]!;
  });
}

const FIRST: readonly (readonly [string, string, readonly number[], (n: number) => Sheet])[] = [
  ['strip 1 x n', 'stamps', [10, 20, 40, 80], (n) => mapSheet(n, 1)],
  ['strip 1 x n, kinds by chance (seed 5)', 'stamps', [10, 20, 40, 80], (n) => chanceStrip(n, 5)],
  ['Miura n x n', 'panels a side', [6, 10, 14, 20], (n) => miuraSheet(n, n, 70)],
  ['map n x n', 'panels a side', [4, 5, 6, 7, 8], (n) => mapSheet(n, n)],
  ['map n x n, kinds by chance (seed 3)', 'panels a side', [4, 5, 6, 7, 8], (n) => chanceMap(n, n, 3)],
  ['folded by chance (seed 1)', 'folds', [4, 5, 6, 7, 8], (n) => simplyFoldedSheet(n, 1, true)],
  ['folded by chance, kinds open', 'folds', [4, 5, 6, 7, 8], (n) => simplyFoldedSheet(n, 1, false)],
];

export function benchFirstOrder(): void {
  const native = programs();
  heading(
    'First layer order (ms, best): ours, MiniSat in the same process, then Debian programs less their start',
  );
  row(
    'the same conditions for all; setting them up, common to all, stands first; ratios are ours / theirs, none below 1 ms',
  );
  if (native.length === 0) row('no minisat, cadical or picosat on this machine: their columns are left out');
  for (const [family, unit, sizes, make] of FIRST) {
    row(
      `${family}: ${unit}, panels, unknowns, conditions | set up | ours | ${['MiniSat', ...native.map(([name]) => name)].join(', ')}`,
    );
    const setUp: [number, number][] = [];
    const found: [number, number][] = [];
    for (const n of sizes) {
      const sheet = make(n);
      const problem = problemOf(sheet);
      const { overlaps, table } = problem;
      const setUpTime = best(2, () => problemOf(sheet));
      let answer = false;
      const call = () => (answer = ours(problem).first(never) !== null);
      const time = best(best(2, call) < 5 ? 30 : 4, call);
      const clauses = clausesOf(table)!;
      const unknowns = overlaps.list.length;
      let agrees = true;
      const inProcess = timeInProcess(unknowns, clauses, (other) => (agrees &&= other === answer));
      const others = native.map((program) => programTime(program, unknowns, clauses));
      agrees &&= others.every(({ solvable }) => solvable === answer);
      const panels = sheet.panelRings.length;
      row(
        n,
        panels,
        unknowns,
        table.evenCount + table.mixed().count,
        '|',
        setUpTime,
        '|',
        time,
        answer ? '' : '(none)',
        '|',
        [inProcess, ...others.map((one) => one.time)]
          .map((other) =>
            other === null
              ? 'out of memory'
              : other < 1
                ? 'under 1'
                : `${other.toFixed(1)} (${(time / other).toFixed(2)})`,
          )
          .join('  '),
        agrees ? '' : 'ANSWERS DIFFER',
      );
      setUp.push([panels, setUpTime]);
      found.push([panels, time]);
    }
    row(
      'growth exponent in panels: set up',
      growth(setUp.slice(-3)),
      ' first order',
      growth(found.slice(-3)),
    );
  }
}

/** Loading the clauses and solving; null where that solver's fixed memory is too small. */
function timeInProcess(
  unknowns: number,
  clauses: Int32Array,
  told: (answer: boolean) => void,
): number | null {
  try {
    return best(2, () => told(new InProcess(unknowns, clauses).first()));
  } catch {
    return null;
  }
}

const COUNTED: readonly (readonly [string, () => Sheet])[] = [
  ['strip of 9', () => mapSheet(9, 1)],
  ['strip of 12', () => mapSheet(12, 1)],
  ['map 3 x 4', () => mapSheet(3, 4)],
  ['map 4 x 4', () => mapSheet(4, 4)],
  ['Miura 3 x 3, kinds open', () => openKinds(miuraSheet(3, 3, 80))],
  ['folded 5 times, kinds open', () => simplyFoldedSheet(5, 7, false)],
];

const openKinds = (sheet: Sheet): Sheet => ({
  ...sheet,
  creaseKind: sheet.creaseKind.map((kind) =>
    kind === KIND.mountain || kind === KIND.valley ? KIND.unassigned : kind,
  ),
});

export function benchCounts(): void {
  heading(
    'Counting layer orders: states a second, ours against MiniSat that forbids each one found (5 s each)',
  );
  for (const [name, make] of COUNTED) {
    const problem = problemOf(make());
    const unknowns = problem.overlaps.list.length;
    const count = () => {
      const until = performance.now() + 5000;
      return ours(problem).count(() => performance.now() > until);
    };
    const { states, exact } = count();
    const time = best(exact ? 2 : 0, count);
    const other = new InProcess(unknowns, clausesOf(problem.table)!).count(unknowns, 5000);
    const differs = exact && other.exact && Number(states) !== other.states ? 'COUNTS DIFFER' : '';
    const rate = (1000 * Number(states)) / time;
    const otherRate = (1000 * other.states) / other.time;
    row(
      name,
      `${exact ? '' : 'at least '}${states}`,
      'in',
      time,
      'ms:',
      rate,
      '| MiniSat',
      `${other.exact ? '' : 'at least '}${other.states}`,
      'in',
      other.time,
      'ms:',
      otherRate,
      '| ratio',
      rate / otherRate,
      differs,
    );
  }
}
