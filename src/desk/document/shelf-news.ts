/** Tells whoever lists kept lessons, here and in other tabs, that something on the shelf changed. */
import type { Around, End } from '../around.ts';

export class ShelfNews {
  private readonly listeners = new Set<() => void>();

  constructor(private readonly others: Around['others']) {}

  begin(): void {
    this.others.hear(() => this.hear());
  }

  subscribe(listener: () => void): End {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  tell(): void {
    this.others.tell();
    this.hear();
  }

  /** Something that concerns this tab only, such as a small picture. */
  hear(): void {
    for (const listener of this.listeners) listener();
  }
}
