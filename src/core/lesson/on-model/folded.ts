/** What a fold made on the model does to the sheet, before it is done. */
import type { Point } from '../../numeric/vector.ts';
import type { Region } from './in-plane.ts';

/** A stretch of the flat sheet and the fold angle it is to have, radians. */
export interface NewCrease {
  readonly from: Point;
  readonly to: Point;
  readonly angle: number;
}

export interface FoldPlan {
  /** Lines that appear on the sheet. */
  readonly creases: readonly NewCrease[];
  /** Parts of creases that are there already and end at another angle than they have. */
  readonly changed: readonly NewCrease[];
  /** Creases that are opened on the way and closed again, with the angles they have and end at. */
  readonly closed: readonly NewCrease[];
  /** Poses to go through: the angles there of what is named above. Empty where the fold goes straight to its end. */
  readonly through: readonly (readonly NewCrease[])[];
  /** Panels with paper that moves. */
  readonly panels: readonly number[];
  /** Where that paper lies before it moves, in the plane's own coordinates. */
  readonly region: Region;
  /** Of these panels, the ones whose moving paper parts from that of the others. */
  readonly apart: readonly number[];
}

/** Why a fold cannot be made on the model. */
export type FoldTrouble =
  | {
      readonly how:
        | 'bent-paper'
        | 'two-planes'
        | 'cannot-lie'
        | 'meets-no-layer'
        | 'reverse-needs-flap'
        | 'reverse-closed'
        | 'squash-needs-edge'
        | 'petal-needs-edges'
        | 'squash-no-halves'
        | 'petal-no-halves'
        | 'creases-cross';
    }
  | { readonly how: 'off-plane' | 'folded-already' | 'past-edge'; readonly panel: number }
  | { readonly how: 'hangs-on'; readonly panel: number; readonly beyond: number };

export interface Refusal {
  readonly refused: FoldTrouble;
  /** Panels concerned. */
  readonly panels: readonly number[];
}

export type Folded = FoldPlan | Refusal;

export const isRefused = (what: object): what is Refusal => 'refused' in what;

export const refuse = (refused: FoldTrouble, ...panels: number[]): Refusal => ({ refused, panels });

/** Each stretch once, whichever way round it is given. */
export function withoutDoubles(stretches: readonly NewCrease[]): NewCrease[] {
  const known = new Map<string, NewCrease>();
  for (const one of stretches) {
    const ends = [one.from, one.to].map((p) => p.map((c) => c.toFixed(9)).join());
    known.set(ends.sort().join(), one);
  }
  return [...known.values()];
}

/** Those that can be done; the first reason where there is none. */
export function donePlans(plans: readonly Folded[]): readonly FoldPlan[] | Refusal {
  const done = plans.filter((plan): plan is FoldPlan => !isRefused(plan));
  return done.length > 0 ? done : (plans[0] as Refusal);
}
