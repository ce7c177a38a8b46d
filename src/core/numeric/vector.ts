/** Points and vectors of the flat sheet and of space, as plain numbers. Hot code works on typed arrays instead. */

/** A place on the flat sheet, or a way across it: x to the right, y up. */
export type Point = readonly [number, number];

/** A place in space, or a way through it: z toward the viewer. */
export type Space = readonly [number, number, number];

export const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The point at a share of the way from one to another. */
export const between = (a: Point, b: Point, share: number): Point => [
  share === 1 ? b[0] : a[0] + share * (b[0] - a[0]),
  share === 1 ? b[1] : a[1] + share * (b[1] - a[1]),
];

export const flatMinus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];

export const flatDot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];

/** Positive where b turns left from a. */
export const flatCross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];

/** Twice the area of a triangle, positive where its corners run counter-clockwise. */
export const turnAt = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Distance of two places in space. */
export const gap = (a: Space, b: Space): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

export const minus = (a: Space, b: Space): Space => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const scaled = (a: Space, factor: number): Space => [a[0] * factor, a[1] * factor, a[2] * factor];

export const dot = (a: Space, b: Space): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const cross = (a: Space, b: Space): Space => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** The same way with length 1; nothing stays nothing. */
export const unit = (a: Space): Space => {
  const length = Math.hypot(a[0], a[1], a[2]) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
};
