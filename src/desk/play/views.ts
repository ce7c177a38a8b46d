/** Where the teacher looks from, and whether the table is light or dark. */
import { eyeOf, type ViewName } from '../../core/lesson/eye.ts';
import type { Memory } from '../around.ts';
import type { Edits } from '../document/edits.ts';
import type { Store } from '../store.ts';

const TABLE = 'creaseway-table';

export class Views {
  constructor(
    private readonly store: Store,
    private readonly edits: Edits,
    private readonly memory: Memory,
  ) {}

  /** @param wished by the browser, where nothing was chosen here before */
  begin(wished: boolean): void {
    const kept = this.memory.read('browser', TABLE);
    this.store.put({ look: { dark: kept ? kept === 'dark' : wished } });
  }

  look(name: ViewName): void {
    this.edits.make('view', { eye: eyeOf(name) });
  }

  fit = (): void => {
    const eye = this.edits.settings?.eye;
    if (eye) this.edits.make('fit', { eye: { ...eye, zoom: 1 } });
  };

  toggleTable = (): void => {
    const dark = !this.store.look.dark;
    this.memory.write('browser', TABLE, dark ? 'dark' : 'light');
    this.store.put({ look: { dark } });
  };
}
