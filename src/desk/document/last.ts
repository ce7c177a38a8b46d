/** What lay on the table last: this tab's own lesson after a reload; else the one that was open last in any tab. */
import type { Last, ShelfOfLessons } from '../../keep/kept.ts';
import type { Memory } from '../around.ts';

const NAME = 'creaseway-open';

export class LastOnTable {
  constructor(
    private readonly memory: Memory,
    private readonly shelf: ShelfOfLessons,
  ) {}

  async find(): Promise<Last | null> {
    const own = this.memory.read('tab', NAME);
    try {
      if (own) return JSON.parse(own) as Last;
    } catch {
      // written by something else; the shelf knows more
    }
    return this.shelf.last();
  }

  remember({ id, sample }: Last): void {
    const last: Last = { id, sample };
    this.memory.write('tab', NAME, JSON.stringify(last));
    void this.shelf.putLast(last);
  }
}
