/** Small helpers for timings: best of several runs, growth exponents, plain tables. */

/** Best time of `runs` calls after one to warm up, milliseconds. The result is kept so that nothing is skipped. */
export function best(runs: number, call: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= runs; k++) {
    const start = performance.now();
    kept = call();
    if (k > 0 || runs === 0) least = Math.min(least, performance.now() - start);
  }
  return least;
}

/** The last measured result, so that no run can be optimised away. */
export let kept: unknown;

/** Slope of log(time) against log(size) by least squares. */
export function growth(points: readonly (readonly [number, number])[]): number {
  const logs = points.map(([size, time]) => [Math.log(size), Math.log(time)] as const);
  const mean = (k: 0 | 1) => logs.reduce((sum, p) => sum + p[k], 0) / logs.length;
  const [mx, my] = [mean(0), mean(1)];
  const top = logs.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0);
  return top / logs.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
}

export function heading(text: string): void {
  console.log(`\n${text}`);
}

export function row(...cells: (string | number)[]): void {
  console.log(`  ${cells.map((cell) => (typeof cell === 'number' ? format(cell) : cell)).join('  ')}`);
}

export function format(value: number): string {
  if (value !== 0 && (Math.abs(value) < 1e-3 || Math.abs(value) >= 1e6)) return value.toExponential(1);
  return value >= 100 ? value.toFixed(0) : value.toFixed(value >= 10 ? 1 : 3);
}
