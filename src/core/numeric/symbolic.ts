/**
 * The part of a sparse Cholesky factorisation that depends on the pattern alone, done once and kept: elimination
 * order, elimination tree, supernodes (runs of columns with the same rows below), and where each given entry
 * lands. Supernodes are relaxed: small ones are merged with their parent when that stores few extra zeros.
 */
import { eliminationOrder, type Graph } from './ordering.ts';

/** Lower and upper entries of a symmetric pattern; each unordered pair once, diagonal implied. */
export interface SymmetricPattern {
  readonly size: number;
  /** Off-diagonal entry k stands at (row[k], column[k]) and its mirror image. */
  readonly row: Int32Array;
  readonly column: Int32Array;
}

export interface Symbolic {
  readonly size: number;
  /** position[i]: place of variable i in the elimination order. */
  readonly position: Int32Array;
  readonly order: Int32Array;
  readonly supernodes: number;
  /** Supernode s owns the columns firstColumn[s] .. firstColumn[s+1]-1. */
  readonly firstColumn: Int32Array;
  /** Rows of supernode s, own columns first: rows[rowStart[s]] .. */
  readonly rowStart: Int32Array;
  readonly rows: Int32Array;
  /** Numbers of supernode s stand column by column from factorStart[s], columns `leadOf(rows)` apart. */
  readonly factorStart: Int32Array;
  readonly parent: Int32Array;
  /** Place in the parent's rows of each row of s beyond its own columns: from updateStart[s]. */
  readonly updateStart: Int32Array;
  readonly placeInParent: Int32Array;
  /** Where the diagonal of variable i and off-diagonal entry k stand in the factor array. */
  readonly diagonalAt: Int32Array;
  readonly entryAt: Int32Array;
  /** Most numbers that waiting updates need at once. */
  readonly stackSize: number;
  readonly factorSize: number;
  /** Entries of the factor without the zeros stored by relaxation. */
  readonly fill: number;
}

/** Distance of columns of that many rows: even, so that two rows can be taken at a time. */
export function leadOf(rows: number): number {
  return rows + (rows & 1);
}

export function analyse(pattern: SymmetricPattern): Symbolic {
  const graph = graphOf(pattern);
  const first = eliminationOrder(graph);
  const tree = eliminationTree(graph, first);
  const order = postorder(first, tree);
  const position = invert(order);
  const parentColumn = eliminationTree(graph, order);
  const columns = columnRows(graph, order, position, parentColumn);
  let fill = 0;
  for (const rows of columns) fill += rows.length + 1;
  const firstColumn = relaxedSupernodes(columns, parentColumn);
  return layOut(pattern, order, position, columns, firstColumn, fill);
}

function graphOf({ size, row, column }: SymmetricPattern): Graph {
  const start = new Int32Array(size + 1);
  for (let k = 0; k < row.length; k++) {
    start[row[k]! + 1]!++;
    start[column[k]! + 1]!++;
  }
  for (let i = 0; i < size; i++) start[i + 1]! += start[i]!;
  const fillAt = start.slice(0, size);
  const adjacency = new Int32Array(2 * row.length);
  for (let k = 0; k < row.length; k++) {
    adjacency[fillAt[row[k]!]!++] = column[k]!;
    adjacency[fillAt[column[k]!]!++] = row[k]!;
  }
  return { start, adjacency };
}

function invert(order: Int32Array): Int32Array {
  const position = new Int32Array(order.length);
  for (let k = 0; k < order.length; k++) position[order[k]!] = k;
  return position;
}

/** Parent column of each column in elimination order, -1 for roots (Liu 1990, with path compression). */
function eliminationTree(graph: Graph, order: Int32Array): Int32Array {
  const n = order.length;
  const position = invert(order);
  const parent = new Int32Array(n).fill(-1);
  const ancestor = new Int32Array(n).fill(-1);
  for (let k = 0; k < n; k++) {
    const i = order[k]!;
    for (let a = graph.start[i]!; a < graph.start[i + 1]!; a++) {
      let j = position[graph.adjacency[a]!]!;
      while (j !== -1 && j < k) {
        const up = ancestor[j]!;
        ancestor[j] = k;
        if (up === -1) parent[j] = k;
        j = up;
      }
    }
  }
  return parent;
}

/** The same elimination, children just before their parents, so that waiting updates form a stack. */
function postorder(order: Int32Array, parent: Int32Array): Int32Array {
  const n = order.length;
  const firstChild = new Int32Array(n).fill(-1);
  const sibling = new Int32Array(n).fill(-1);
  const roots: number[] = [];
  for (let k = n - 1; k >= 0; k--) {
    const up = parent[k]!;
    if (up < 0) roots.push(k);
    else {
      sibling[k] = firstChild[up]!;
      firstChild[up] = k;
    }
  }
  const result = new Int32Array(n);
  let done = 0;
  const walk: number[] = [];
  for (const root of roots.reverse()) {
    walk.push(root);
    while (walk.length > 0) {
      const k = walk[walk.length - 1]!;
      const child = firstChild[k]!;
      if (child >= 0) {
        firstChild[k] = sibling[child]!;
        walk.push(child);
      } else {
        result[done++] = order[k]!;
        walk.pop();
      }
    }
  }
  return result;
}

/** Rows below the diagonal of each column of the factor, ascending. */
function columnRows(graph: Graph, order: Int32Array, position: Int32Array, parent: Int32Array): Int32Array[] {
  const n = order.length;
  const children: number[][] = Array.from({ length: n }, () => []);
  for (let k = 0; k < n; k++) if (parent[k]! >= 0) children[parent[k]!]!.push(k);
  const mark = new Int32Array(n).fill(-1);
  const columns: Int32Array[] = [];
  for (let k = 0; k < n; k++) {
    const rows: number[] = [];
    const take = (r: number) => {
      if (r > k && mark[r] !== k) {
        mark[r] = k;
        rows.push(r);
      }
    };
    const i = order[k]!;
    for (let a = graph.start[i]!; a < graph.start[i + 1]!; a++) take(position[graph.adjacency[a]!]!);
    for (const child of children[k]!) for (const r of columns[child]!) take(r);
    columns.push(Int32Array.from(rows).sort());
  }
  return columns;
}

/** First columns of supernodes, closed by n. A column joins its child's supernode when the rows agree, or nearly. */
function relaxedSupernodes(columns: readonly Int32Array[], parent: Int32Array): Int32Array {
  const n = columns.length;
  const starts: number[] = [];
  // zeros[k]: stored zeros in the group that starts at starts[k]
  const zeros: number[] = [];
  for (let k = 0; k < n; k++) {
    starts.push(k);
    zeros.push(0);
    // merge the last group into the one before it while the tree allows and few zeros are added
    while (starts.length > 1) {
      const here = starts[starts.length - 1]!;
      const before = starts[starts.length - 2]!;
      if (parent[here - 1] !== here) break;
      const width = k + 1 - here;
      const added = (here - before) * (width + columns[k]!.length - columns[here - 1]!.length);
      const total = zeros[zeros.length - 1]! + zeros[zeros.length - 2]! + added;
      const all = (k + 1 - before) * (k + 1 - before + columns[k]!.length);
      if (!worthMerging(k + 1 - before, total, all)) break;
      starts.pop();
      zeros.pop();
      zeros[zeros.length - 1] = total;
    }
  }
  starts.push(n);
  return Int32Array.from(starts);
}

/** The narrower the group, the more stored zeros pay: wide columns run faster than narrow ones. */
function worthMerging(width: number, zeros: number, all: number): boolean {
  if (zeros === 0) return true;
  if (width <= 4) return zeros < 0.4 * all;
  if (width <= 16) return zeros < 0.15 * all;
  if (width <= 48) return zeros < 0.05 * all;
  return zeros < 0.05 * all;
}

function layOut(
  pattern: SymmetricPattern,
  order: Int32Array,
  position: Int32Array,
  columns: readonly Int32Array[],
  firstColumn: Int32Array,
  fill: number,
): Symbolic {
  const n = pattern.size;
  const supernodes = firstColumn.length - 1;
  const owner = new Int32Array(n);
  for (let s = 0; s < supernodes; s++) owner.fill(s, firstColumn[s]!, firstColumn[s + 1]!);
  const rowStart = new Int32Array(supernodes + 1);
  const factorStart = new Int32Array(supernodes + 1);
  const updateStart = new Int32Array(supernodes + 1);
  const parent = new Int32Array(supernodes).fill(-1);
  for (let s = 0; s < supernodes; s++) {
    const width = firstColumn[s + 1]! - firstColumn[s]!;
    const below = columns[firstColumn[s + 1]! - 1]!;
    const rows = width + below.length;
    rowStart[s + 1] = rowStart[s]! + rows;
    factorStart[s + 1] = factorStart[s]! + leadOf(rows) * width;
    updateStart[s + 1] = updateStart[s]! + below.length;
    if (below.length > 0) parent[s] = owner[below[0]!]!;
  }
  const rows = new Int32Array(rowStart[supernodes]!);
  for (let s = 0; s < supernodes; s++) {
    let at = rowStart[s]!;
    for (let k = firstColumn[s]!; k < firstColumn[s + 1]!; k++) rows[at++] = k;
    rows.set(columns[firstColumn[s + 1]! - 1]!, at);
  }
  const local = new Int32Array(n);
  const placeInParent = new Int32Array(updateStart[supernodes]!);
  const diagonalAt = new Int32Array(n);
  const entryAt = new Int32Array(pattern.row.length);
  const entriesOf: number[][] = Array.from({ length: supernodes }, () => []);
  const childrenOf: number[][] = Array.from({ length: supernodes }, () => []);
  for (let k = 0; k < pattern.row.length; k++) {
    const column = Math.min(position[pattern.row[k]!]!, position[pattern.column[k]!]!);
    entriesOf[owner[column]!]!.push(k);
  }
  for (let s = 0; s < supernodes; s++) if (parent[s]! >= 0) childrenOf[parent[s]!]!.push(s);
  for (let s = 0; s < supernodes; s++) {
    const tall = rowStart[s + 1]! - rowStart[s]!;
    const lead = leadOf(tall);
    for (let r = 0; r < tall; r++) local[rows[rowStart[s]! + r]!] = r;
    for (let c = firstColumn[s]!; c < firstColumn[s + 1]!; c++)
      diagonalAt[order[c]!] = factorStart[s]! + (c - firstColumn[s]!) * (lead + 1);
    for (const k of entriesOf[s]!) {
      const p = position[pattern.row[k]!]!;
      const q = position[pattern.column[k]!]!;
      entryAt[k] = factorStart[s]! + (Math.min(p, q) - firstColumn[s]!) * lead + local[Math.max(p, q)]!;
    }
    for (const child of childrenOf[s]!) {
      const from = rowStart[child + 1]! - (updateStart[child + 1]! - updateStart[child]!);
      for (let r = from; r < rowStart[child + 1]!; r++)
        placeInParent[updateStart[child]! + r - from] = local[rows[r]!]!;
    }
  }
  return {
    size: n,
    position,
    order,
    supernodes,
    firstColumn,
    rowStart,
    rows,
    factorStart,
    parent,
    updateStart,
    placeInParent,
    diagonalAt,
    entryAt,
    stackSize: stackNeeded(updateStart, parent, childrenOf),
    factorSize: factorStart[supernodes]!,
    fill,
  };
}

/** Largest sum of updates that wait at once while supernodes are worked through in order. */
function stackNeeded(updateStart: Int32Array, parent: Int32Array, children: readonly number[][]): number {
  const sizeOf = (s: number) => {
    const rows = updateStart[s + 1]! - updateStart[s]!;
    return leadOf(rows) * rows;
  };
  let now = 0;
  let most = 0;
  for (let s = 0; s < parent.length; s++) {
    most = Math.max(most, now + sizeOf(s));
    for (const child of children[s]!) now -= sizeOf(child);
    now += sizeOf(s);
  }
  return most;
}
