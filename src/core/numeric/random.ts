/**
 * Repeatable random numbers from 0 up to 1 for a given seed: a 32-bit mix of a counter (constants of the
 * "splitmix" family, Steele, Lea and Flood 2014, from memory).
 */
export function seededRandom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return ((z ^ (z >>> 15)) >>> 0) / 2 ** 32;
  };
}
