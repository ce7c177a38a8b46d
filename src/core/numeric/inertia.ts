/**
 * How many eigenvalues of a sparse symmetric matrix are negative, by Sylvester's law of inertia: as many as there
 * are negative pivots in L D L'. Without exchanges of rows, so meant for matrices shifted off their eigenvalues.
 * The factor is built row by row along the elimination tree ("up-looking", Davis 2006, chapter 4).
 */
import { eliminationOrder } from './ordering.ts';
import type { SymmetricPattern } from './symbolic.ts';

/**
 * @param pattern off-diagonal entries, each unordered pair once
 * @param diagonal one number per row
 * @param entries one number per off-diagonal entry
 */
export function negativeEigenvalues(
  pattern: SymmetricPattern,
  diagonal: Float64Array,
  entries: Float64Array,
): number {
  const n = pattern.size;
  const rows = upperRows(pattern, entries);
  const { order } = rows;
  const parent = new Int32Array(n).fill(-1);
  const mark = new Int32Array(n).fill(-1);
  const columns: { row: number[]; value: number[] }[] = Array.from({ length: n }, () => ({
    row: [],
    value: [],
  }));
  const d = new Float64Array(n);
  const y = new Float64Array(n);
  const path = new Int32Array(n);
  const reach = new Int32Array(n);
  let negative = 0;
  for (let k = 0; k < n; k++) {
    let top = n;
    mark[k] = k;
    for (const { column, value } of rows.of(k)) {
      y[column] = value;
      let length = 0;
      for (let j = column; mark[j] !== k; j = parent[j]!) {
        if (parent[j] === -1) parent[j] = k;
        path[length++] = j;
        mark[j] = k;
      }
      while (length > 0) reach[--top] = path[--length]!;
    }
    let pivot = diagonal[order[k]!]!;
    for (; top < n; top++) {
      const j = reach[top]!;
      const yj = y[j]!;
      y[j] = 0;
      const column = columns[j]!;
      for (let p = 0; p < column.row.length; p++) y[column.row[p]!]! -= column.value[p]! * yj;
      const l = yj / d[j]!;
      pivot -= l * yj;
      column.row.push(k);
      column.value.push(l);
    }
    d[k] = pivot === 0 ? Number.MIN_VALUE : pivot;
    if (pivot < 0) negative++;
  }
  return negative;
}

/** Entries above the diagonal of each column in elimination order. */
function upperRows(pattern: SymmetricPattern, entries: Float64Array) {
  const n = pattern.size;
  const start = new Int32Array(n + 1);
  for (let k = 0; k < pattern.row.length; k++) {
    start[pattern.row[k]! + 1]!++;
    start[pattern.column[k]! + 1]!++;
  }
  for (let i = 0; i < n; i++) start[i + 1]! += start[i]!;
  const adjacency = new Int32Array(2 * pattern.row.length);
  const at = start.slice(0, n);
  for (let k = 0; k < pattern.row.length; k++) {
    adjacency[at[pattern.row[k]!]!++] = pattern.column[k]!;
    adjacency[at[pattern.column[k]!]!++] = pattern.row[k]!;
  }
  const order = eliminationOrder({ start, adjacency });
  const position = new Int32Array(n);
  for (let k = 0; k < n; k++) position[order[k]!] = k;
  const lists: { column: number; value: number }[][] = Array.from({ length: n }, () => []);
  for (let k = 0; k < pattern.row.length; k++) {
    const p = position[pattern.row[k]!]!;
    const q = position[pattern.column[k]!]!;
    lists[Math.max(p, q)]!.push({ column: Math.min(p, q), value: entries[k]! });
  }
  return { order, of: (k: number) => lists[k]! };
}
