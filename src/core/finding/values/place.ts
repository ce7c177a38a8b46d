/** Places as findings tell them. */

/** A place of the pattern in its own unit. */
export type Place = readonly [number, number];

/** A place of the pattern in its own unit, with the length of its longer side, which says how finely it is told. */
export interface PatternPlace {
  readonly at: Place;
  readonly size: number;
}

/** A place in a file or a drawing. */
export type FilePlace =
  | {
      readonly how: 'line';
      readonly line: number;
      /** What stands there, and how it is called. */
      readonly element?: string;
      readonly id?: string;
      readonly layer?: string;
    }
  | { readonly how: 'entry'; readonly list: string; readonly entry: number }
  /** The operator that draws it, counted from 0. */
  | { readonly how: 'page-shape'; readonly index: number }
  | { readonly how: 'page'; readonly of: 'viewBox' | 'width' | 'height' }
  /** Counted from 0: a line of the drawing, an edge of the graph, a corner of the outline, a line of the pattern. */
  | { readonly how: 'stroke' | 'edge' | 'corner' | 'pattern-line'; readonly index: number };

/** A step of a lesson, counted from 0, and its title. */
export interface StepNamed {
  readonly number: number;
  readonly title: string;
}
