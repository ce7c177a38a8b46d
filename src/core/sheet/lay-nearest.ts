/** Lays a pattern over its drawing so that the point that lies furthest off lies as near as can be. */

interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Rounds of weighing; the furthest point then lies within a thousandth of the least distance. */
const ROUNDS = 200;

/**
 * Moves, scales and, where it may, turns a pattern (Lawson's weights: the further off a point lies, the more it counts in
 * the next least squares; C. L. Lawson 1961, from memory). Shapes and angles stay as they are.
 */
export function layNearest(pattern: Points, drawn: Points, mayTurn: boolean): Points {
  const count = pattern.x.length;
  const weight = new Float64Array(count).fill(1 / count);
  let best = pattern;
  let least = Math.max(...distances(pattern, drawn));
  for (let round = 0; round < ROUNDS; round++) {
    const laid = fitted(pattern, drawn, weight, mayTurn);
    const off = distances(laid, drawn);
    const most = Math.max(...off);
    if (most < least) [best, least] = [laid, most];
    let sum = 0;
    for (let v = 0; v < count; v++) sum += weight[v]! *= off[v]!;
    if (sum === 0) break;
    for (let v = 0; v < count; v++) weight[v]! /= sum;
  }
  return best;
}

const distances = (a: Points, b: Points): number[] =>
  Array.from(a.x, (x, v) => Math.hypot(x - b.x[v]!, a.y[v]! - b.y[v]!));

/** The weighted least squares fit. */
function fitted({ x, y }: Points, drawn: Points, weight: Float64Array, mayTurn: boolean): Points {
  const mean = (list: Float64Array) => list.reduce((sum, value, v) => sum + weight[v]! * value, 0);
  const [mx, my, dx, dy] = [x, y, drawn.x, drawn.y].map(mean) as [number, number, number, number];
  let [along, across, own] = [0, 0, 0];
  for (let v = 0; v < x.length; v++) {
    const [px, py] = [x[v]! - mx, y[v]! - my];
    const [qx, qy] = [drawn.x[v]! - dx, drawn.y[v]! - dy];
    along += weight[v]! * (px * qx + py * qy);
    across += weight[v]! * (px * qy - py * qx);
    own += weight[v]! * (px * px + py * py);
  }
  const [c, s] = own > 0 ? [along / own, mayTurn ? across / own : 0] : [1, 0];
  return {
    x: x.map((value, v) => dx + c * (value - mx) - s * (y[v]! - my)),
    y: y.map((value, v) => dy + s * (x[v]! - mx) + c * (value - my)),
  };
}
