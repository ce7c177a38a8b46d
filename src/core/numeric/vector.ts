/** Points and vectors of the flat sheet and of space, as plain numbers. Hot code works on typed arrays instead. */

/** A place on the flat sheet, or a way across it: x to the right, y up. */
export type Point = readonly [number, number];

/** A place in space, or a way through it: z toward the viewer. */
export type Space = readonly [number, number, number];
