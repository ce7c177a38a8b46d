/** What was computed before, to be had again at once under the content that it depends on. */
export class ContentStore<T> {
  private readonly kept = new Map<string, T>();
  private total = 0;

  /** @param most numbers kept at most; what was asked for longest ago goes first @param sizeOf numbers that one takes */
  constructor(
    private readonly most: number,
    private readonly sizeOf: (one: T) => number,
  ) {}

  get(key: string): T | undefined {
    const found = this.kept.get(key);
    if (found) {
      this.kept.delete(key);
      this.kept.set(key, found);
    }
    return found;
  }

  put(key: string, one: T): void {
    if (this.kept.has(key)) return;
    this.kept.set(key, one);
    this.total += this.sizeOf(one);
    for (const [oldest, old] of this.kept) {
      if (this.total <= this.most || oldest === key) break;
      this.kept.delete(oldest);
      this.total -= this.sizeOf(old);
    }
  }
}
