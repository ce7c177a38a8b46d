/** How the teacher looks inside: what is glass, how far the fan is open, where the slice lies, what is lifted off. */
import type { SectionPlane } from '../../core/layer/section.ts';

/** What is seen through: everything, what stands before the selected panel, or the panels chosen one by one. */
export type GlassOf = 'all' | 'front' | 'chosen';

/** A point of the paper, on the flat sheet, and the side from which it is looked at. */
export interface PaperPoint {
  readonly x: number;
  readonly y: number;
  /** 1: the side that faced up at the start is toward the eye; -1: the other. */
  readonly side: 1 | -1;
}

export interface InsideState {
  readonly glass: GlassOf | null;
  /** Panels of the lesson's sheet. */
  readonly chosen: readonly number[];
  /** 0 closed, 1 as far as it goes. */
  readonly fan: number;
  readonly slice: SectionPlane | null;
  /** The section is drawn over the model's view, as large as that is. */
  readonly largeSection: boolean;
  /** How many layers are lifted off at the point, and whether lifting is on. */
  readonly peeled: number;
  readonly peeling: boolean;
  /** The point that was clicked, and the one under the pointer. */
  readonly point: PaperPoint | null;
  readonly pointer: PaperPoint | null;
  /** The step whose tuck is played by itself. */
  readonly tuck: { readonly step: number; readonly playing: boolean } | null;
}

export const closed: InsideState = {
  glass: null,
  chosen: [],
  fan: 0,
  slice: null,
  largeSection: false,
  peeled: 0,
  peeling: false,
  point: null,
  pointer: null,
  tuck: null,
};
