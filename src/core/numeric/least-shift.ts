/**
 * The shortest vector that meets linear conditions, each a half-space: least distance programming by an active set on
 * the multipliers (Lawson and Hanson, Solving Least Squares Problems, 1974, chapter 23). The answer is the nearest point
 * of a convex region, so that it changes without a leap where the conditions do.
 */

/** The sum of `value[k]` times the vector's entry `index[k]` is to be at least `least`. */
export interface HalfSpace {
  readonly index: readonly number[];
  readonly value: readonly number[];
  readonly least: number;
}

/**
 * Conditions give way by this share of their multiplier: those that say the same twice then do no harm, and those that
 * contradict each other share what is lacking. Multipliers are near the size of the vector.
 */
const SOFT = 1e-7;

/** @param size entries of the vector @param within conditions are met to this */
export function leastShift(conditions: readonly HalfSpace[], size: number, within: number): Float64Array {
  const active: Active[] = [];
  const isActive = new Set<HalfSpace>();
  const shift = new Float64Array(size);
  for (let round = 0; round < 4 * conditions.length; round++) {
    const next = mostMissed(conditions, isActive, shift, within);
    if (!next) break;
    active.push(newActive(next, active, size));
    solveActive(active);
    isActive.clear();
    for (const { condition } of active) isActive.add(condition);
    shift.fill(0);
    for (const { condition, multiplier } of active)
      condition.index.forEach((at, k) => {
        shift[at]! += multiplier * condition.value[k]!;
      });
  }
  return shift;
}

/** A condition that is met exactly. */
interface Active {
  readonly condition: HalfSpace;
  multiplier: number;
  /** Products with all active conditions up to this one. */
  products: number[];
}

function mostMissed(
  conditions: readonly HalfSpace[],
  isActive: ReadonlySet<HalfSpace>,
  shift: Float64Array,
  within: number,
): HalfSpace | null {
  let worst = within;
  let found: HalfSpace | null = null;
  for (const condition of conditions) {
    const { index, value } = condition;
    let lacking = condition.least;
    for (let k = 0; k < index.length; k++) lacking -= value[k]! * shift[index[k]!]!;
    if (lacking <= worst || isActive.has(condition)) continue;
    worst = lacking;
    found = condition;
  }
  return found;
}

function newActive(condition: HalfSpace, active: readonly Active[], size: number): Active {
  const dense = new Float64Array(size);
  condition.index.forEach((at, k) => {
    dense[at]! += condition.value[k]!;
  });
  const products = [...active.map((one) => one.condition), condition].map(({ index, value }) =>
    index.reduce((sum, at, k) => sum + value[k]! * dense[at]!, 0),
  );
  products[products.length - 1]! += SOFT;
  return { condition, multiplier: 0, products };
}

/** Multipliers of the active conditions, none of them negative: those that would be are let go. */
function solveActive(active: Active[]): void {
  for (;;) {
    const wished = solveProducts(active);
    let part = 1;
    active.forEach(({ multiplier }, k) => {
      if (wished[k]! <= 0) part = Math.min(part, multiplier / (multiplier - wished[k]!));
    });
    active.forEach((one, k) => {
      one.multiplier += part * (wished[k]! - one.multiplier);
    });
    if (part === 1) return;
    for (let k = active.length - 1; k >= 0; k--)
      if (wished[k]! <= 0 && active[k]!.multiplier <= Number.EPSILON) letGo(active, k);
  }
}

function letGo(active: Active[], which: number): void {
  active.splice(which, 1);
  for (let k = which; k < active.length; k++) active[k]!.products.splice(which, 1);
}

/** Solves for the multipliers with which all active conditions are met exactly (Cholesky, dense). */
function solveProducts(active: readonly Active[]): number[] {
  const root: number[][] = [];
  const half: number[] = [];
  active.forEach(({ products, condition }, i) => {
    const row: number[] = [];
    let right = condition.least;
    for (let j = 0; j <= i; j++) {
      let sum = products[j]!;
      const other = j < i ? root[j]! : row;
      for (let k = 0; k < j; k++) sum -= row[k]! * other[k]!;
      row.push(j < i ? sum / other[j]! : Math.sqrt(Math.max(sum, SOFT)));
    }
    for (let k = 0; k < i; k++) right -= row[k]! * half[k]!;
    root.push(row);
    half.push(right / row[i]!);
  });
  const solved = half;
  for (let i = active.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < active.length; k++) solved[i]! -= root[k]![i]! * solved[k]!;
    solved[i]! /= root[i]![i]!;
  }
  return solved;
}
