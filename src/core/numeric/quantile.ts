/** The middle of some values, or any other share of them; 0 where there are none. */
export function medianOf(values: readonly number[]): number {
  return quantileOf(values, 0.5);
}

/** @param share 0 the least, 1 the largest */
export function quantileOf(values: readonly number[], share: number): number {
  if (values.length === 0) return 0;
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
