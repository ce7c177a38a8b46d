/** What the constructions are told, first, second and so on, and how their creases are to run. */
import type { Point } from '../numeric/vector.ts';
import type { DrawnLine } from './edit-lines.ts';
import type { Stretch } from './line.ts';

export type Wanted = 'point' | 'line';

/** In the order of the seven operations; then what follows from lines. What each is told first, second and so on. */
export const wantedBy = {
  through: ['point', 'point'],
  'point-onto-point': ['point', 'point'],
  'line-onto-line': ['line', 'line'],
  square: ['point', 'line'],
  'point-onto-line': ['point', 'line', 'point'],
  'two-onto-two': ['point', 'line', 'point', 'line'],
  'onto-line-square': ['point', 'line', 'line'],
  parallel: ['line'],
  parts: ['line', 'line'],
  grid: [],
  mirror: ['line'],
  repeat: [],
} as const satisfies Record<string, readonly Wanted[]>;

export type Construction = keyof typeof wantedBy;
export const constructions = Object.keys(wantedBy) as Construction[];

export type Given =
  | { readonly kind: 'point'; readonly at: Point }
  /** `at` is where the line was pointed at. */
  | { readonly kind: 'line'; readonly stretch: Stretch; readonly at: Point };

export type Extent = 'whole' | 'next' | 'between' | 'length';

export interface DrawSettings {
  readonly extent: Extent;
  /** Pattern units. */
  readonly length: number;
  readonly distance: number;
  readonly count: number;
  /** What is mirrored or repeated. */
  readonly chosen: readonly DrawnLine[];
}
