/** The pieces that bound everything drawn. */
import type { Point } from '../../numeric/vector.ts';
import type { Piece } from './profile.ts';

/** Of each piece whether it lies on the outermost way round the part of the drawing that is largest. */
export function onOuterRim(pieces: readonly Piece[]): boolean[] {
  const places = new Map<number, Point>();
  const ways = new Map<number, { piece: number; to: number; angle: number }[]>();
  pieces.forEach(({ from, to, ends: [a, b] }, piece) => {
    for (const [start, end, p, q] of [[from, to, a, b] as const, [to, from, b, a] as const]) {
      places.set(start, p);
      const known = ways.get(start) ?? [];
      known.push({ piece, to: end, angle: Math.atan2(q[1] - p[1], q[0] - p[0]) });
      ways.set(start, known);
    }
  });
  const rim = pieces.map(() => false);
  const largest = largestPart(ways);
  if (largest.length === 0) return rim;
  const start = largest.reduce((best, at) => (places.get(at)![0] < places.get(best)![0] ? at : best));
  // at the leftmost place nothing lies to the left: from there always the next way round, as one walks along a wall
  let [at, back] = [start, Math.PI];
  for (let steps = 0; steps < 4 * pieces.length; steps++) {
    const next = ways
      .get(at)!
      .map((way) => ({ way, turn: positive(way.angle - back) }))
      .reduce((best, one) => (one.turn < best.turn ? one : best)).way;
    rim[next.piece] = true;
    at = next.to;
    back = next.angle + Math.PI;
    if (at === start && steps > 0) break;
  }
  return rim;
}

/** From just above 0 to a full turn: the way back comes last. */
function positive(angle: number): number {
  const turn = angle % (2 * Math.PI);
  const whole = turn < 0 ? turn + 2 * Math.PI : turn;
  return whole < 1e-9 ? 2 * Math.PI : whole;
}

function largestPart(ways: ReadonlyMap<number, readonly { to: number }[]>): number[] {
  const seen = new Set<number>();
  let largest: number[] = [];
  for (const first of ways.keys()) {
    if (seen.has(first)) continue;
    const part = [first];
    seen.add(first);
    for (const at of part)
      for (const { to } of ways.get(at)!)
        if (!seen.has(to)) {
          seen.add(to);
          part.push(to);
        }
    if (part.length > largest.length) largest = part;
  }
  return largest;
}
