/**
 * A short name for the content of arrays, by which computed results are found again: two independent 32-bit
 * hashes (the FNV-1a scheme with two offsets, from memory). Two of a million different contents share a name with a
 * chance below one in ten million.
 */
export function contentKey(...arrays: readonly (ArrayLike<number> | string)[]): string {
  let a = 0x811c9dc5;
  let b = 0x9747b28c;
  const take = (word: number) => {
    a = Math.imul(a ^ word, 0x01000193);
    a ^= a >>> 15;
    b = Math.imul(b ^ word, 0x85ebca6b);
    b ^= b >>> 13;
  };
  const pair = new Float64Array(1);
  const halves = new Int32Array(pair.buffer);
  for (const array of arrays) {
    take(array.length);
    for (let k = 0; k < array.length; k++) {
      const value = array[k]!;
      pair[0] = typeof value === 'string' ? value.charCodeAt(0) : value;
      take(halves[0]!);
      take(halves[1]!);
    }
  }
  return `${(a >>> 0).toString(16)}-${(b >>> 0).toString(16)}`;
}
