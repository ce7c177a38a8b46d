/** What the tool that folds on the model remembers: two points make a line, and the layers chosen fold over it. */
import type { Space } from '../../core/numeric/vector.ts';

/** A point that was picked on the paper. */
export interface PaperMark {
  readonly panel: number;
  readonly flat: readonly [number, number];
  readonly at: Space;
  /** What of the paper was pointed at. */
  readonly took: 'corner' | 'crease' | 'panel';
}

/** Folds toward the eye or behind, and those that open a flap. */
export const foldWays = ['over', 'behind', 'inside', 'outside', 'squash', 'petal'] as const;
export type FoldWay = (typeof foldWays)[number];

export const isStraight = (way: FoldWay) => way === 'over' || way === 'behind';

export interface FoldingState {
  readonly on: boolean;
  readonly points: readonly PaperMark[];
  /** All of the plane, or so many from the eye on. */
  readonly layers: 'all' | number;
  readonly way: FoldWay;
  /** The other side of the line moves. */
  readonly otherSide: boolean;
  /** The eye's side of the plane when the second point was picked. */
  readonly eyeSide: 1 | -1;
}

export const unfolded: FoldingState = {
  on: false,
  points: [],
  layers: 'all',
  way: 'over',
  otherSide: false,
  eyeSide: 1,
};
