/** Why layers have no order. */
import type { StepNamed } from './place.ts';

/** An order that was asked for. */
export type AskedName =
  | {
      readonly how: 'over' | 'under';
      readonly panel: number;
      readonly of: number;
      /** It lay so before. */
      readonly kept?: boolean;
    }
  | { readonly how: 'between'; readonly panel: number; readonly of: readonly [number, number] };

/** What stands in the way of every order. */
export type LayerWhy =
  | { readonly how: 'corners'; readonly corners: readonly number[]; readonly creases: readonly number[] }
  | { readonly how: 'out-of-time' }
  | {
      readonly how: 'crossing' | 'turned' | 'geometry';
      readonly panels: readonly number[];
      readonly creases: readonly number[];
    }
  | {
      readonly how: 'asked';
      readonly asked: readonly AskedName[];
      readonly panels: readonly number[];
      readonly creases: readonly number[];
    }
  | { readonly how: 'senseless'; readonly asked: AskedName };

export interface LayerValues {
  'layer-none':
    | {
        readonly how: 'none';
        readonly after: StepNamed | null;
        readonly why: LayerWhy | null;
        /** Corners that stick through a panel, or past a fold. */
        readonly stick: { readonly how: 'through' | 'past'; readonly corners: readonly number[] } | null;
      }
    | { readonly how: 'bent' }
    | { readonly how: 'gave-up'; readonly after: StepNamed | null };
}
