/**
 * The sheet: outline and crease pattern as a planar graph, in typed arrays. It holds what is drawn and nothing
 * that depends on how it is folded; a pose refers to a sheet and never alters it.
 *
 * Coordinates: x right, y up, the side that faces up at the start toward the viewer (+z). The longer side of the
 * outline's box is 1, its lower left corner is the origin. `frame` leads back to the input's own unit.
 *
 * Creases: every line is a crease of some kind, raw edges and cuts included; a crease's number is its id
 * everywhere. Crease e has two half-edges: 2e runs from `creaseFrom[e]` to `creaseTo[e]`, 2e+1 back.
 * Half-edges go round their panel counter-clockwise (paper on the left); holes of a panel go clockwise.
 */
export interface Sheet {
  readonly vertexX: Float64Array;
  readonly vertexY: Float64Array;
  readonly creaseFrom: Int32Array;
  readonly creaseTo: Int32Array;
  /** Index into `lineKinds` (see kind.ts). */
  readonly creaseKind: Uint8Array;
  /** Finished fold angle in radians, valley positive; NaN where the input gives none. */
  readonly creaseAngle: Float64Array;
  /** Next half-edge round the same panel (or round the outside). */
  readonly halfEdgeNext: Int32Array;
  /** Panel on the left of each half-edge, or NONE outside the paper. */
  readonly halfEdgePanel: Int32Array;
  /** Per panel one half-edge of each of its boundary rings: the outer ring first, then holes. */
  readonly panelRings: readonly (readonly number[])[];
  /** input x = frame.x + frame.scale * sheet x; likewise y. */
  readonly frame: { readonly x: number; readonly y: number; readonly scale: number };
}

/** Marks an absent vertex, crease or panel in index arrays. */
export const NONE = -1;
