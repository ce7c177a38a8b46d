/**
 * The shortest vector that meets linear conditions, each a half-space: least distance programming by an active set on
 * the multipliers (Lawson and Hanson, Solving Least Squares Problems, 1974, chapter 23). The answer is the nearest point
 * of a convex region, so that it changes without a leap where the conditions do.
 */

/**
 * Conditions one after the other: the sum of `value[k]` times the vector's entry `index[k]`, for k from `from[c]` to
 * before `from[c + 1]`, is to be at least `least[c]`. Kept in arrays that grow and are used again, for paper that moves
 * asks anew every frame.
 */
export class HalfSpaces {
  count = 0;
  /** By this number a condition is known again in the next frame. */
  name = new Float64Array(64);
  from = new Int32Array(64);
  least = new Float64Array(64);
  index = new Int32Array(1024);
  value = new Float64Array(1024);

  clear(): void {
    this.count = 0;
  }

  /** Begins a condition; one that was begun and not ended is forgotten. */
  begin(): void {
    if (this.count + 2 > this.least.length) {
      [this.name, this.from, this.least] = [longer(this.name), longer(this.from), longer(this.least)];
    }
    this.from[this.count + 1] = this.from[this.count]!;
  }

  /** One more entry of the condition that was begun. */
  entry(index: number, value: number): void {
    const at = this.from[this.count + 1]!++;
    if (at === this.index.length) [this.index, this.value] = [longer(this.index), longer(this.value)];
    this.index[at] = index;
    this.value[at] = value;
  }

  end(name: number, least: number): void {
    this.name[this.count] = name;
    this.least[this.count++] = least;
  }
}

function longer<T extends Int32Array | Float64Array>(list: T): T {
  const twice = new (list.constructor as new (length: number) => T)(2 * list.length);
  twice.set(list);
  return twice;
}

/**
 * Conditions give way by this share of their multiplier: those that say the same twice then do no harm, and those that
 * contradict each other share what is lacking. Multipliers are near the size of the vector.
 */
const SOFT = 1e-7;

/** Finds shortest vectors one after the other, of conditions that change little from one to the next. */
export class LeastShift {
  /** Names of the conditions that were met exactly by the last vector: most of them will be by the next. */
  private held = new Set<number>();

  /** @param size entries of the vector @param within conditions are met to this */
  find(conditions: HalfSpaces, size: number, within: number): Float64Array {
    const active = new ActiveSet(conditions, size);
    const shift = new Float64Array(size);
    for (let c = 0; c < conditions.count; c++) if (this.held.has(conditions.name[c]!)) active.add(c);
    for (let round = 0; round < 4 * conditions.count; round++) {
      active.solve();
      active.addTo(shift.fill(0));
      const next = mostMissed(conditions, active.has, shift, within);
      if (next < 0) break;
      active.add(next);
    }
    this.held = active.names();
    return shift;
  }
}

/** The condition that a vector misses by most; -1 where all are met. */
function mostMissed(
  { count, from, least, index, value }: HalfSpaces,
  isActive: Uint8Array,
  shift: Float64Array,
  within: number,
): number {
  let worst = within;
  let found = -1;
  for (let c = 0; c < count; c++) {
    if (isActive[c] === 1) continue;
    let lacking = least[c]!;
    for (let k = from[c]!; k < from[c + 1]!; k++) lacking -= value[k]! * shift[index[k]!]!;
    if (lacking <= worst) continue;
    worst = lacking;
    found = c;
  }
  return found;
}

/** How much of the way from a multiplier to a lower one is left when it comes to nothing; both may be nothing already. */
const shareToNothing = (from: number, to: number) => (from > 0 ? from / (from - to) : 0);

/** Conditions that are met exactly, each with its multiplier; the vector is the sum of their rows times these. */
class ActiveSet {
  /** 1 for each condition that is active. */
  readonly has: Uint8Array;
  private readonly active: number[] = [];
  private readonly multiplier: number[] = [];
  /** Products of each active condition with those before it and itself. */
  private readonly products: number[][] = [];
  /** Cholesky factor of the products, row by row, and the right side divided by it: rows up to `factored` are good. */
  private readonly root: Float64Array[] = [];
  private readonly half: number[] = [];
  private factored = 0;
  private readonly dense: Float64Array;

  constructor(
    private readonly conditions: HalfSpaces,
    size: number,
  ) {
    this.has = new Uint8Array(conditions.count);
    this.dense = new Float64Array(size);
  }

  add(condition: number): void {
    const { active, dense } = this;
    active.push(condition);
    this.has[condition] = 1;
    this.spread(condition, dense, 1);
    const products = active.map((one) => this.dot(one, dense));
    dense.fill(0);
    products[active.length - 1]! += SOFT;
    this.products.push(products);
    this.multiplier.push(0);
  }

  /** Multipliers with which all active conditions are met exactly, none of them negative: those that would be are let go. */
  solve(): void {
    const { active, multiplier } = this;
    for (;;) {
      const wished = this.solveProducts();
      let part = 1;
      let first = -1;
      for (let k = 0; k < active.length; k++) {
        if (wished[k]! > 0) continue;
        const share = shareToNothing(multiplier[k]!, wished[k]!);
        if (share < part || first < 0) [part, first] = [share, k];
      }
      for (let k = 0; k < active.length; k++) multiplier[k]! += part * (wished[k]! - multiplier[k]!);
      if (first < 0) return;
      // whatever rounding has left of it
      multiplier[first] = 0;
      for (let k = active.length - 1; k >= 0; k--)
        if (wished[k]! <= 0 && multiplier[k]! <= Number.EPSILON) this.letGo(k);
    }
  }

  names(): Set<number> {
    return new Set(this.active.map((condition) => this.conditions.name[condition]!));
  }

  addTo(shift: Float64Array): void {
    this.active.forEach((condition, k) => {
      this.spread(condition, shift, this.multiplier[k]!);
    });
  }

  private spread(condition: number, into: Float64Array, times: number): void {
    const { from, index, value } = this.conditions;
    for (let k = from[condition]!; k < from[condition + 1]!; k++) into[index[k]!]! += times * value[k]!;
  }

  private dot(condition: number, vector: Float64Array): number {
    const { from, index, value } = this.conditions;
    let sum = 0;
    for (let k = from[condition]!; k < from[condition + 1]!; k++) sum += value[k]! * vector[index[k]!]!;
    return sum;
  }

  private letGo(which: number): void {
    this.has[this.active[which]!] = 0;
    for (const list of [this.active, this.multiplier, this.products]) list.splice(which, 1);
    for (let k = which; k < this.products.length; k++) this.products[k]!.splice(which, 1);
    this.factored = Math.min(this.factored, which);
  }

  /** Solves for the multipliers with which all active conditions are met exactly (Cholesky, dense). */
  private solveProducts(): Float64Array {
    const { root, half, active } = this;
    for (; this.factored < active.length; this.factored++) this.factorRow(this.factored);
    const solved = Float64Array.from(half.slice(0, active.length));
    for (let i = active.length - 1; i >= 0; i--) {
      const at = solved[i]! / root[i]![i]!;
      solved[i] = at;
      const row = root[i]!;
      for (let j = 0; j < i; j++) solved[j]! -= row[j]! * at;
    }
    return solved;
  }

  private factorRow(i: number): void {
    const { root, half, products } = this;
    const row = new Float64Array(i + 1);
    let right = this.conditions.least[this.active[i]!]!;
    for (let j = 0; j <= i; j++) {
      let sum = products[i]![j]!;
      const other = j < i ? root[j]! : row;
      for (let k = 0; k < j; k++) sum -= row[k]! * other[k]!;
      row[j] = j < i ? sum / other[j]! : Math.sqrt(Math.max(sum, SOFT));
    }
    for (let k = 0; k < i; k++) right -= row[k]! * half[k]!;
    root[i] = row;
    half[i] = right / row[i]!;
  }
}
