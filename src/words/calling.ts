/**
 * How sentences call panels and tell places. On screen a panel goes by the name that the teacher gave it, and places are in
 * mm from the lower left corner of the sheet; elsewhere panels go by their numbers, and places are in the file's own unit.
 */
import type { Place } from '../core/finding/values/place.ts';

export interface Calling {
  /** The name of a panel, if it has one. */
  readonly nameOf: (panel: number) => string | undefined;
  /** A place of the pattern, told; null where it is told in the unit of the file. */
  readonly place: ((at: Place) => string) | null;
  /** A length of the pattern, likewise. */
  readonly length: ((length: number) => string) | null;
}

const byNumber: Calling = { nameOf: () => undefined, place: null, length: null };
const now: { how: Calling } = { how: byNumber };

/** How the sentence that is being made calls things. */
export const calling = (): Calling => now.how;

/** Makes a sentence in which things are called so. */
export function called<T>(how: Calling, tell: () => T): T {
  const before = now.how;
  now.how = how;
  try {
    return tell();
  } finally {
    now.how = before;
  }
}
