import type { FilePlace } from '../finding/values/place.ts';
import type { LineKind } from './kind.ts';

/** One straight stroke of a drawing, before any graph is made of it. Coordinates in the drawing's own unit. */
export interface Segment {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly kind: LineKind;
  /** Finished fold angle, radians, valley positive; undefined where the drawing does not say. */
  readonly angle?: number;
  /** Where the stroke stood in its file. */
  readonly source?: FilePlace;
}
