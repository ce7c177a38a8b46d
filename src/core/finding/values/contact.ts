/** What findings on paper that meets paper tell. */
import type { PatternPlace, StepNamed } from './place.ts';

/** Where paper meets: in a step, on the way that nobody asked for, or in the finished pose. */
export type Along =
  | (StepNamed & { readonly how: 'step' })
  | { readonly how: 'way' }
  | { readonly how: 'rest' };

/** The two panels, the one that moves first, and all others likewise stand in the finding's list. */
interface Met {
  readonly along: Along;
  /** The moments of the first contact and of the deepest, shares of the step. */
  readonly first: number;
  readonly deepest: number;
  readonly place: PatternPlace;
  /** mm */
  readonly depth: number;
  /** The length of the longer side that was taken for a file without a size, mm. */
  readonly judgedAs: number | null;
}

/** Through each other (the finding's creases would prevent it, folded), or on the wrong side. */
type InTheWay = Met & { readonly how: 'through' | 'side' };

export interface ContactValues {
  'panels-cross': InTheWay;
  'tuck-blocked': InTheWay;
  'panels-tight': Met;
  'contact-unwatched': { readonly along: Along; readonly watched: number };
  'panel-out-of-reach': { readonly along: Along };
}
