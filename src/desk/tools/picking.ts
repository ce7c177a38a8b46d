/** Creases picked together, and what is selected. */

import { lineKinds } from '../../core/sheet/kind.ts';
import { creasesInLine } from '../../core/sheet/walk.ts';
import type { Store } from '../store.ts';

export class Picking {
  constructor(private readonly store: Store) {}

  /** Creases picked together, or the one that is selected. */
  get picked(): readonly number[] {
    const { picked, selection } = this.store.look;
    if (picked.length > 0) return picked;
    return selection?.kind === 'crease' ? [selection.id] : [];
  }

  /** Adds a crease to those picked together, or takes it out. */
  pick(crease: number): void {
    const before = this.picked;
    const after = before.includes(crease) ? before.filter((one) => one !== crease) : [...before, crease];
    this.pickAll(after);
  }

  /** Picks every crease on the line of the given ones. */
  pickWholeLine(creases: readonly number[]): void {
    const { sheet } = this.store.document;
    if (sheet) this.pickAll(creasesInLine(sheet, creases), creases[0]);
  }

  /** Picks all lines of the pattern; the raw edge is no line of it. */
  pickEverything = (): void => {
    const { sheet } = this.store.document;
    if (!sheet) return;
    this.pickAll(
      [...sheet.creaseKind.keys()].filter((crease) => lineKinds[sheet.creaseKind[crease]!] !== 'edge'),
    );
  };

  /** @param selected the one that is spoken of; the last if left out */
  pickAll(creases: readonly number[], selected = creases.at(-1)): void {
    const selection = selected === undefined ? null : ({ kind: 'crease', id: selected } as const);
    this.store.put({ look: { picked: creases, selection, marks: null } });
  }
}
