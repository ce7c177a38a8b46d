/**
 * Order of elimination that keeps a sparse factor small: approximate minimum degree on the quotient graph, after
 * Amestoy, Davis and Duff, "An approximate minimum degree ordering algorithm", SIAM J. Matrix Anal. 17 (1996).
 * Variables that look alike are merged and eliminated together; eliminated ones become elements (cliques).
 */

/** Neighbours of each variable, without itself: neighbours of i are adjacency[start[i]] .. adjacency[start[i+1]-1]. */
export interface Graph {
  readonly start: Int32Array;
  readonly adjacency: Int32Array;
}

/** order[k] is the variable to eliminate k-th. */
export function eliminationOrder(graph: Graph): Int32Array {
  return new QuotientGraph(graph).run();
}

class QuotientGraph {
  private readonly n: number;
  private readonly variables: number[][]; // live variables next to a variable
  private readonly elements: number[][]; // elements next to a variable
  private readonly members: number[][]; // live variables of an element
  private readonly weight: Int32Array; // originals merged into a variable; 0 when gone
  private readonly degree: Int32Array;
  private readonly merged: number[][]; // originals that a variable stands for, itself first
  private readonly stamp: Int32Array; // marks per round
  private readonly outside: Int32Array; // |element minus pivot| in the current round
  private readonly seen: Int32Array;
  private readonly alive: Uint8Array; // element still stands
  private round = 0;
  // degree buckets as doubly linked lists
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly last: Int32Array;

  constructor(graph: Graph) {
    const n = graph.start.length - 1;
    this.n = n;
    this.variables = Array.from({ length: n }, (_, i) =>
      Array.from(graph.adjacency.subarray(graph.start[i]!, graph.start[i + 1]!)),
    );
    this.elements = Array.from({ length: n }, () => []);
    this.members = Array.from({ length: n }, () => []);
    this.weight = new Int32Array(n).fill(1);
    this.degree = Int32Array.from(this.variables, (list) => list.length);
    this.merged = Array.from({ length: n }, (_, i) => [i]);
    this.stamp = new Int32Array(n);
    this.outside = new Int32Array(n);
    this.seen = new Int32Array(n);
    this.alive = new Uint8Array(n);
    this.head = new Int32Array(n + 1).fill(-1);
    this.next = new Int32Array(n).fill(-1);
    this.last = new Int32Array(n).fill(-1);
    for (let i = n - 1; i >= 0; i--) this.enter(i);
  }

  run(): Int32Array {
    const order = new Int32Array(this.n);
    let done = 0;
    let least = 0;
    while (done < this.n) {
      while (this.head[least]! < 0) least++;
      const pivot = this.head[least]!;
      this.leave(pivot);
      for (const original of this.merged[pivot]!) order[done++] = original;
      this.eliminate(pivot);
      this.weight[pivot] = 0;
      least = this.updateNeighbours(pivot, this.n - done, least);
    }
    return order;
  }

  /** Turns the pivot into an element whose members are all variables next to it. */
  private eliminate(pivot: number): void {
    const { stamp, weight, members, alive } = this;
    const mark = ++this.round;
    stamp[pivot] = mark;
    const list: number[] = [];
    const take = (i: number) => {
      if (weight[i]! > 0 && stamp[i] !== mark) {
        stamp[i] = mark;
        list.push(i);
      }
    };
    for (const i of this.variables[pivot]!) take(i);
    for (const e of this.elements[pivot]!) {
      if (!alive[e]) continue;
      for (const i of members[e]!) take(i);
      alive[e] = 0;
      members[e] = [];
    }
    this.variables[pivot] = [];
    this.elements[pivot] = [];
    members[pivot] = list;
    alive[pivot] = 1;
  }

  private updateNeighbours(pivot: number, left: number, least: number): number {
    const { stamp, weight, degree } = this;
    const list = this.members[pivot]!;
    const mark = this.round;
    this.measureOutside(list, pivot);
    let size = 0;
    for (const i of list) size += weight[i]!;
    const twins = new Map<number, number[]>();
    for (const i of list) {
      this.leave(i);
      let sum = 0;
      const elements = [pivot];
      let hash = pivot;
      for (const e of this.elements[i]!) {
        if (!this.alive[e] || e === pivot) continue;
        if (this.outside[e]! === 0) this.absorb(e);
        else {
          sum += this.outside[e]!;
          elements.push(e);
          hash += e;
        }
      }
      const variables: number[] = [];
      for (const j of this.variables[i]!) {
        if (weight[j]! === 0 || stamp[j] === mark) continue;
        variables.push(j);
        sum += weight[j]!;
        hash += j;
      }
      this.elements[i] = elements;
      this.variables[i] = variables;
      const around = size - weight[i]!;
      degree[i] = Math.max(0, Math.min(left - weight[i]!, degree[i]! + around, sum + around));
      const bucket = twins.get(hash);
      if (bucket) bucket.push(i);
      else twins.set(hash, [i]);
    }
    for (const bucket of twins.values()) if (bucket.length > 1) this.mergeTwins(bucket);
    const live: number[] = [];
    for (const i of list) {
      if (weight[i]! === 0) continue;
      live.push(i);
      this.enter(i);
      if (degree[i]! < least) least = degree[i]!;
    }
    this.members[pivot] = live;
    if (live.length === 0) this.alive[pivot] = 0;
    return least;
  }

  /** outside[e] = weight of the members of e that are not members of the pivot's element. */
  private measureOutside(list: readonly number[], pivot: number): void {
    const { outside, seen, weight } = this;
    const mark = this.round;
    for (const i of list) {
      for (const e of this.elements[i]!) {
        if (!this.alive[e] || e === pivot) continue;
        if (seen[e] !== mark) {
          seen[e] = mark;
          let total = 0;
          for (const j of this.members[e]!) total += weight[j]!;
          outside[e] = total;
        }
        outside[e]! -= weight[i]!;
      }
    }
  }

  private absorb(e: number): void {
    this.alive[e] = 0;
    this.members[e] = [];
  }

  /** Variables of one hash bucket with the same neighbours become one. */
  private mergeTwins(bucket: readonly number[]): void {
    const { weight } = this;
    for (let a = 0; a < bucket.length; a++) {
      const i = bucket[a]!;
      if (weight[i]! === 0) continue;
      const own = new Set([...this.variables[i]!, ...this.elements[i]!.map((e) => -1 - e)]);
      for (let b = a + 1; b < bucket.length; b++) {
        const j = bucket[b]!;
        if (weight[j]! === 0 || !this.sameNeighbours(own, j)) continue;
        weight[i]! += weight[j]!;
        this.degree[i]! = Math.max(0, this.degree[i]! - weight[j]!);
        weight[j] = 0;
        this.merged[i]!.push(...this.merged[j]!);
        this.variables[j] = [];
        this.elements[j] = [];
      }
    }
  }

  private sameNeighbours(own: ReadonlySet<number>, j: number): boolean {
    if (this.variables[j]!.length + this.elements[j]!.length !== own.size) return false;
    return this.variables[j]!.every((v) => own.has(v)) && this.elements[j]!.every((e) => own.has(-1 - e));
  }

  private enter(i: number): void {
    const d = this.degree[i]!;
    const first = this.head[d]!;
    this.next[i] = first;
    this.last[i] = -1 - d;
    if (first >= 0) this.last[first] = i;
    this.head[d] = i;
  }

  private leave(i: number): void {
    const before = this.last[i]!;
    const after = this.next[i]!;
    if (after >= 0) this.last[after] = before;
    if (before >= 0) this.next[before] = after;
    else this.head[-1 - before] = after;
  }
}
