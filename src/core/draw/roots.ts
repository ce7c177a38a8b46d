/** Real roots of polynomials of low degree. */

/** A coefficient smaller than this beside the largest is none. */
const NONE_BESIDE = 1e-14;

/**
 * Real roots of c[0] + c[1] s + c[2] s^2 + c[3] s^3 (and so on), rising, double roots once. Found between the turning
 * points of the polynomial, by bisection and Newton steps; exact to rounding.
 */
export function realRoots(coefficients: readonly number[]): number[] {
  const most = Math.max(...coefficients.map(Math.abs));
  if (!(most > 0)) return [];
  let degree = coefficients.length - 1;
  while (degree > 0 && Math.abs(coefficients[degree]!) <= NONE_BESIDE * most) degree--;
  if (degree === 0) return [];
  const c = coefficients.slice(0, degree + 1);
  if (degree === 1) return [-c[0]! / c[1]!];
  const turns = realRoots(c.slice(1).map((value, k) => value * (k + 1)));
  // no root is further out than this (Cauchy)
  const far = 1 + Math.max(...c.slice(0, -1).map((value) => Math.abs(value / c[degree]!)));
  const ends = [-far, ...turns, far];
  const found: number[] = [];
  for (let k = 0; k + 1 < ends.length; k++) {
    const [low, high] = [ends[k]!, ends[k + 1]!];
    if (touches(c, low)) add(found, low);
    else if (!touches(c, high) && valueAt(c, low) > 0 !== valueAt(c, high) > 0)
      add(found, rootWithin(c, low, high));
  }
  return found;
}

function add(found: number[], root: number): void {
  const last = found.at(-1);
  if (last === undefined || Math.abs(root - last) > 1e-12 * Math.max(1, Math.abs(root))) found.push(root);
}

const valueAt = (c: readonly number[], s: number) => c.reduceRight((sum, value) => sum * s + value, 0);

/** Is the value at a turning point no more than what rounding leaves? */
function touches(c: readonly number[], s: number): boolean {
  const size = c.reduceRight((sum, value) => sum * Math.abs(s) + Math.abs(value), 0);
  return Math.abs(valueAt(c, s)) <= 1e-14 * size;
}

function rootWithin(c: readonly number[], from: number, to: number): number {
  let [low, high] = [from, to];
  const rises = valueAt(c, low) < 0;
  const slope = c.slice(1).map((value, k) => value * (k + 1));
  let s = (low + high) / 2;
  for (let turn = 0; turn < 200; turn++) {
    const value = valueAt(c, s);
    if (value === 0) return s;
    if (value < 0 === rises) low = s;
    else high = s;
    const newton = s - value / valueAt(slope, s);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (next === s || high - low <= Number.EPSILON * Math.abs(s)) return next;
    s = next;
  }
  return s;
}
