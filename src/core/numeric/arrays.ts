/** Small sums over arrays of numbers. */

export function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}

/** Largest size of any value, signs left aside; never 0, so that it can be divided by. */
export function largestOf(values: Float64Array): number {
  let most = 1e-300;
  for (const value of values) most = Math.max(most, Math.abs(value));
  return most;
}
