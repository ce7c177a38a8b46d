/** Open unknowns with those first that took part in late contradictions; among equals the lower number. */
export class ChoiceHeap {
  private readonly activity: Float64Array;
  private readonly heap: Int32Array;
  /** Place of each unknown in the heap, -1 where it is not in it. */
  private readonly place: Int32Array;
  private size: number;
  private increment = 1;

  constructor(unknowns: number) {
    this.activity = new Float64Array(unknowns);
    this.heap = Int32Array.from({ length: unknowns }, (_, k) => k);
    this.place = this.heap.slice();
    this.size = unknowns;
  }

  /** Takes out the first; -1 when there is none. */
  take(): number {
    if (this.size === 0) return -1;
    const first = this.heap[0]!;
    this.place[first] = -1;
    const last = this.heap[--this.size]!;
    if (this.size > 0 && last !== first) this.sinkFrom(0, last);
    return first;
  }

  add(unknown: number): void {
    if (this.place[unknown] === -1) this.riseFrom(this.size++, unknown);
  }

  bump(unknown: number): void {
    this.activity[unknown]! += this.increment;
    if (this.activity[unknown]! > 1e100) {
      for (let k = 0; k < this.activity.length; k++) this.activity[k]! *= 1e-100;
      this.increment *= 1e-100;
    }
    if (this.place[unknown] !== -1) this.riseFrom(this.place[unknown]!, unknown);
  }

  /** What was bumped until now counts a little less from here. */
  decay(): void {
    this.increment /= 0.95;
  }

  private before(a: number, b: number): boolean {
    const [p, q] = [this.activity[a]!, this.activity[b]!];
    return p > q || (p === q && a < b);
  }

  private riseFrom(start: number, unknown: number): void {
    let at = start;
    while (at > 0) {
      const up = (at - 1) >> 1;
      if (!this.before(unknown, this.heap[up]!)) break;
      this.set(at, this.heap[up]!);
      at = up;
    }
    this.set(at, unknown);
  }

  private sinkFrom(start: number, unknown: number): void {
    let at = start;
    for (;;) {
      let down = 2 * at + 1;
      if (down >= this.size) break;
      if (down + 1 < this.size && this.before(this.heap[down + 1]!, this.heap[down]!)) down++;
      if (!this.before(this.heap[down]!, unknown)) break;
      this.set(at, this.heap[down]!);
      at = down;
    }
    this.set(at, unknown);
  }

  private set(at: number, unknown: number): void {
    this.heap[at] = unknown;
    this.place[unknown] = at;
  }
}
