/** Takes out points of degree two on straight lines, which drawings have wherever a line was drawn in pieces. */
import { STRAIGHT } from '../numeric/tolerance.ts';
import type { Net } from './rings.ts';
import { originOf, rotations } from './rings.ts';

export interface Lines extends Net {
  readonly kind: Uint8Array;
  readonly angle: Float64Array;
  readonly stroke: Int32Array;
}

/** Joins lines of one kind and angle that run straight on through a point where nothing else meets. */
export function joinStraightLines(lines: Lines): Lines {
  const { start, outgoing } = rotations(lines);
  const onward = (h: number): number => {
    // the half-edge that continues h beyond its end, or -1 where the line ends or changes
    const p = originOf(lines, h ^ 1);
    if (start[p + 1]! - start[p]! !== 2) return -1;
    const [first, second] = [outgoing[start[p]!]!, outgoing[start[p]! + 1]!];
    const on = first === (h ^ 1) ? second : first;
    const same = lines.kind[on >> 1] === lines.kind[h >> 1];
    return same && sameAngle(lines.angle[on >> 1]!, lines.angle[h >> 1]!) ? on : -1;
  };
  const used = new Uint8Array(lines.from.length);
  const kept: { from: number; to: number; line: number }[] = [];
  const addChain = (first: number): void => {
    const chain: number[] = [];
    for (let h = first; h !== -1 && used[h >> 1] === 0; h = onward(h)) {
      used[h >> 1] = 1;
      chain.push(h);
    }
    keepCorners(lines, chain, 0, chain.length, kept);
  };
  for (let h = 0; h < 2 * lines.from.length; h++) if (used[h >> 1] === 0 && onward(h ^ 1) === -1) addChain(h);
  // what is left are closed loops, begun at a point that is a corner for certain
  for (let e = 0; e < lines.from.length; e++) if (used[e] === 0) addChain(farCorner(lines, 2 * e, onward));
  if (kept.length === lines.from.length) return lines;
  kept.sort((a, b) => (a.line >> 1) - (b.line >> 1));
  return {
    x: lines.x,
    y: lines.y,
    from: Int32Array.from(kept, (k) => ((k.line & 1) === 0 ? k.from : k.to)),
    to: Int32Array.from(kept, (k) => ((k.line & 1) === 0 ? k.to : k.from)),
    kind: Uint8Array.from(kept, (k) => lines.kind[k.line >> 1]!),
    angle: Float64Array.from(kept, (k) => lines.angle[k.line >> 1]!),
    stroke: Int32Array.from(kept, (k) => lines.stroke[k.line >> 1]!),
  };
}

function sameAngle(a: number, b: number): boolean {
  return a === b || (Number.isNaN(a) && Number.isNaN(b)) || Math.abs(a - b) <= STRAIGHT;
}

/** Replaces half-edges chain[low..high) by as few straight lines as stay within STRAIGHT of every point. */
function keepCorners(
  lines: Lines,
  chain: readonly number[],
  low: number,
  high: number,
  kept: { from: number; to: number; line: number }[],
): void {
  const from = originOf(lines, chain[low]!);
  const to = originOf(lines, chain[high - 1]! ^ 1);
  const dx = lines.x[to]! - lines.x[from]!;
  const dy = lines.y[to]! - lines.y[from]!;
  const length = Math.hypot(dx, dy);
  let worst = low;
  let worstOff = length > 0 ? STRAIGHT : -1;
  for (let k = low + 1; k < high; k++) {
    const p = originOf(lines, chain[k]!);
    const px = lines.x[p]! - lines.x[from]!;
    const py = lines.y[p]! - lines.y[from]!;
    const off = length > 0 ? Math.abs(dx * py - dy * px) / length : Math.hypot(px, py);
    if (off > worstOff) {
      worst = k;
      worstOff = off;
    }
  }
  if (worst === low) {
    let line = chain[low]!;
    for (let k = low + 1; k < high; k++) if (chain[k]! >> 1 < line >> 1) line = chain[k]!;
    kept.push({ from, to, line });
    return;
  }
  keepCorners(lines, chain, low, worst, kept);
  keepCorners(lines, chain, worst, high, kept);
}

/** On a closed loop, the half-edge that leaves the point farthest from the loop's middle. */
function farCorner(lines: Lines, first: number, onward: (h: number) => number): number {
  const loop: number[] = [];
  let sumX = 0;
  let sumY = 0;
  for (let h = first; loop.length === 0 || h !== first; h = onward(h)) {
    loop.push(h);
    sumX += lines.x[originOf(lines, h)]!;
    sumY += lines.y[originOf(lines, h)]!;
  }
  const away = (h: number) =>
    Math.hypot(
      lines.x[originOf(lines, h)]! - sumX / loop.length,
      lines.y[originOf(lines, h)]! - sumY / loop.length,
    );
  return loop.reduce((best, h) => (away(h) > away(best) ? h : best));
}
