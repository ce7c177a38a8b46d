/** What the drawing tools remember: which tool is in hand, what it was told, and how it draws. */

import type { Stretch } from '../../core/draw/line.ts';
import { type Construction, type Extent, type Given, type Wanted, wantedBy } from '../../core/draw/told.ts';
import type { Point } from '../../core/numeric/vector.ts';
import type { LineKind } from '../../core/sheet/kind.ts';

/** What a stroke runs over, or a click meets, is changed by these. */
const strokeTools = ['select', 'look', 'erase'] as const;

/** What each tool that changes lines is told. */
export const changeWants = {
  select: ['line'],
  look: ['line'],
  erase: ['line'],
  trim: ['line', 'line'],
  move: ['point', 'point'],
  split: ['point'],
  join: ['line'],
  outline: [],
} as const satisfies Record<string, readonly Wanted[]>;

type Change = keyof typeof changeWants;
export type DrawTool = Construction | Change;
export const changes = Object.keys(changeWants) as Change[];

export const isConstruction = (tool: DrawTool): tool is Construction => tool in wantedBy;
export const isStroke = (tool: DrawTool) => (strokeTools as readonly string[]).includes(tool);

export interface Cursor {
  readonly at: Point;
  readonly name: string;
  readonly line: Stretch | null;
}

export interface DrawingState {
  readonly on: boolean;
  readonly tool: DrawTool;
  readonly kind: LineKind;
  /** Finished angle of new folds, degrees without sign. */
  readonly angle: number;
  readonly extent: Extent;
  /** Millimetres. */
  readonly length: number;
  readonly distance: number;
  readonly count: number;
  /** The sides of the sheet are marked in that many parts. */
  readonly parts: number;
  readonly given: readonly Given[];
  readonly cursor: Cursor | null;
  /** Which of several answers is meant; null while something is still to be told. */
  readonly choice: number | null;
  readonly stroke: { readonly from: Point; readonly to: Point } | null;
  /** The name of the place that the last press took for a point. */
  readonly took: string | null;
  readonly trouble: string | null;
}

export const undrawn: DrawingState = {
  on: false,
  tool: 'through',
  kind: 'valley',
  angle: 180,
  extent: 'whole',
  length: 20,
  distance: 10,
  count: 2,
  parts: 4,
  given: [],
  cursor: null,
  choice: null,
  stroke: null,
  took: null,
  trouble: null,
};
