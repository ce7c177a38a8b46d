/** The second witness: ink that no line explains. */
import type { Point } from '../../numeric/vector.ts';
import type { Piece } from './profile.ts';

/** Ink beside all lines. Pixels of the picture that is read. */
interface InkHeap {
  readonly at: Point;
  /** Longer side of its box. */
  readonly length: number;
  readonly pixels: number;
}

/**
 * @param smooth ink smoothed as for the ridges
 * @param least ink that counts
 * @param near how far from a line ink is explained by it, pixels
 */
export function unexplainedInk(
  smooth: Float32Array,
  width: number,
  height: number,
  pieces: readonly Piece[],
  least: number,
  near: number,
): InkHeap[] {
  const open = new Uint8Array(width * height);
  for (let at = 0; at < open.length; at++) if (smooth[at]! >= least) open[at] = 1;
  for (const { ends } of pieces) cover(open, width, height, ends, near);
  const heaps: InkHeap[] = [];
  const stack: number[] = [];
  for (let start = 0; start < open.length; start++) {
    if (!open[start]) continue;
    let [left, right, top, bottom, pixels] = [width, 0, height, 0, 0];
    open[start] = 0;
    stack.push(start);
    while (stack.length > 0) {
      const at = stack.pop()!;
      const [x, y] = [at % width, Math.floor(at / width)];
      [left, right, top, bottom] = [
        Math.min(left, x),
        Math.max(right, x),
        Math.min(top, y),
        Math.max(bottom, y),
      ];
      pixels++;
      for (let v = Math.max(0, y - 2); v <= Math.min(height - 1, y + 2); v++)
        for (let u = Math.max(0, x - 2); u <= Math.min(width - 1, x + 2); u++) {
          if (!open[v * width + u]) continue;
          open[v * width + u] = 0;
          stack.push(v * width + u);
        }
    }
    const at: Point = [(left + right + 1) / 2, (top + bottom + 1) / 2];
    heaps.push({ at, length: Math.max(right - left, bottom - top) + 1, pixels });
  }
  return heaps.sort((a, b) => b.length - a.length);
}

/** Takes away what lies near a piece. */
function cover(
  open: Uint8Array,
  width: number,
  height: number,
  [a, b]: readonly [Point, Point],
  near: number,
): void {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const length = Math.hypot(dx, dy) || 1;
  const isFlat = Math.abs(dx) >= Math.abs(dy);
  const [from, to] = isFlat ? [a[0], b[0]] : [a[1], b[1]];
  const reach = (near * length) / Math.max(Math.abs(dx), Math.abs(dy), 1e-9);
  const most = isFlat ? width : height;
  for (
    let k = Math.max(0, Math.floor(Math.min(from, to) - near));
    k <= Math.min(most - 1, Math.max(from, to) + near);
    k++
  ) {
    const share = (k + 0.5 - from) / (to - from || 1);
    const middle = isFlat ? a[1] + share * dy : a[0] + share * dx;
    const side = isFlat ? height : width;
    for (let l = Math.max(0, Math.floor(middle - reach)); l <= Math.min(side - 1, middle + reach); l++)
      open[isFlat ? l * width + k : k * width + l] = 0;
  }
}
