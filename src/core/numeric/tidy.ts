/** Drops the last digit of double precision, so that 2.9999999999999996 is written 3 and -0 is written 0. */
export function tidy(value: number): number {
  return Number(value.toPrecision(15)) + 0;
}

/** A fold angle in degrees for a file. */
export function tidyDegrees(radians: number): number {
  return tidy((radians * 180) / Math.PI);
}
