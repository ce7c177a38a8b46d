/** Plane affine maps as in SVG: [a, b, c, d, e, f] takes (x, y) to (a x + c y + e, b x + d y + f). */
export type Matrix = readonly [number, number, number, number, number, number];

export const identity: Matrix = [1, 0, 0, 1, 0, 0];

/** First `inner`, then `outer`. */
export function compose(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  return [
    a * inner[0] + c * inner[1],
    b * inner[0] + d * inner[1],
    a * inner[2] + c * inner[3],
    b * inner[2] + d * inner[3],
    a * inner[4] + c * inner[5] + e,
    b * inner[4] + d * inner[5] + f,
  ];
}

export function shift(x: number, y: number): Matrix {
  return [1, 0, 0, 1, x, y];
}

export function stretch(x: number, y: number): Matrix {
  return [x, 0, 0, y, 0, 0];
}

/** Counter-clockwise where y points up (clockwise on screen where it points down). Exact for quarter turns. */
export function turn(degrees: number): Matrix {
  const quarter = (((degrees % 360) + 360) % 360) / 90;
  const cos = Number.isInteger(quarter) ? [1, 0, -1, 0][quarter]! : Math.cos((degrees * Math.PI) / 180);
  const sin = Number.isInteger(quarter) ? [0, 1, 0, -1][quarter]! : Math.sin((degrees * Math.PI) / 180);
  return [cos, sin, -sin, cos, 0, 0];
}

export function apply(m: Matrix, x: number, y: number): [number, number] {
  return [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];
}

/** How much the map lengthens lines on average. */
export function scaleOf(m: Matrix): number {
  return Math.sqrt(Math.abs(m[0] * m[3] - m[1] * m[2]));
}
