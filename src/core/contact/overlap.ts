/** How two panels lie over each other: where one covers the other seen along its normal, and at what height. */
import { TOUCH } from '../numeric/tolerance.ts';
import { type PosedPanels, seeFrom } from './shapes.ts';

/** Highest and lowest over the part covered; both 0 where it lies flat. */
interface Cover {
  readonly up: Summit;
  readonly down: Summit;
}

/** A height, as a positive number on either side, and where it is, flat on g. */
export interface Summit {
  readonly height: number;
  readonly x: number;
  readonly y: number;
}

const level: Summit = { height: 0, x: 0, y: 0 };

/**
 * Panel `f` over panel `g`: how far it stands off on the side that faced up at the start, and on the other; null where
 * it covers nothing of it. Heights change evenly over a flat panel, so the corners of the covered parts, cut triangle
 * by triangle, hold the extremes: nothing is sampled.
 */
export function coverOf(posed: PosedPanels, f: number, g: number): Cover | null {
  let [up, down] = [level, level];
  let covers = false;
  eachPartOver(posed, f, g, (part) => {
    covers = true;
    for (let k = 0; k < part.count; k++) {
      const height = part.height[k]!;
      if (height > up.height) up = { height, x: part.x[k]!, y: part.y[k]! };
      if (-height > down.height) down = { height: -height, x: part.x[k]!, y: part.y[k]! };
    }
  });
  return covers ? { up, down } : null;
}

/**
 * The parts of panel `f` that lie over panel `g`, seen along the normal of `g`, one for each triangle of the one over
 * each of the other.
 * @param found given a part, to be read before the next is asked for, and the places of both triangles in
 * `shapes.triangles`
 */
export function eachPartOver(
  posed: PosedPanels,
  f: number,
  g: number,
  found: (part: CoverPart, own: number, other: number) => void,
): void {
  const { triangles, flat, first } = posed.shapes;
  const [own, other] = [triangles[f]!, triangles[g]!];
  const boxes = boxesOf(flat, other);
  seeCorners(posed, f, g);
  for (let i = 0; i < own.length; i += 3) {
    whole.count = 0;
    for (let k = i; k < i + 3; k++) {
      const at = 3 * (own[k]! - first[f]!);
      add(whole, seen[at]!, seen[at + 1]!, seen[at + 2]!);
    }
    const left = Math.min(whole.x[0]!, whole.x[1]!, whole.x[2]!);
    const right = Math.max(whole.x[0]!, whole.x[1]!, whole.x[2]!);
    const low = Math.min(whole.y[0]!, whole.y[1]!, whole.y[2]!);
    const high = Math.max(whole.y[0]!, whole.y[1]!, whole.y[2]!);
    for (let j = 0; j < other.length; j += 3) {
      const box = (4 * j) / 3;
      if (right < boxes[box]! || left > boxes[box + 1]! || high < boxes[box + 2]! || low > boxes[box + 3]!)
        continue;
      let kept = whole;
      for (let k = 0; k < 3 && kept.count > 0; k++) {
        const next = kept === cut ? cutAgain : cut;
        keepLeft(kept, next, flat, other[j + k]!, other[j + ((k + 1) % 3)]!);
        kept = next;
      }
      if (kept.count >= 3 && !isSliver(kept)) found(kept, i, j);
    }
  }
}

const boxesKnown = new WeakMap<Int32Array, Float64Array>();

/** Left, right, low and high of each triangle; kept with the triangles. */
function boxesOf(flat: Float64Array, triangles: Int32Array): Float64Array {
  let boxes = boxesKnown.get(triangles);
  if (boxes) return boxes;
  boxes = new Float64Array((4 * triangles.length) / 3);
  for (let t = 0; t < triangles.length; t += 3)
    for (const axis of [0, 1]) {
      const [p, q, r] = [0, 1, 2].map((k) => flat[2 * triangles[t + k]! + axis]!) as [number, number, number];
      boxes[(4 * t) / 3 + 2 * axis] = Math.min(p, q, r);
      boxes[(4 * t) / 3 + 2 * axis + 1] = Math.max(p, q, r);
    }
  boxesKnown.set(triangles, boxes);
  return boxes;
}

/** A convex polygon flat on a panel, with the height of each corner. A triangle cut three times has at most six. */
interface CoverPart {
  count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly height: Float64Array;
}

const newPart = (): CoverPart => ({
  count: 0,
  x: new Float64Array(8),
  y: new Float64Array(8),
  height: new Float64Array(8),
});

/** Scratch of `eachPartOver`, which is called for every pair at every moment. */
const whole = newPart();
const cut = newPart();
const cutAgain = newPart();
let seen = new Float64Array(48);

function add(to: CoverPart, x: number, y: number, height: number): void {
  to.x[to.count] = x;
  to.y[to.count] = y;
  to.height[to.count++] = height;
}

/** The corners of panel `f` as panel `g` sees them, each once: three numbers a corner, into `seen`. */
function seeCorners(posed: PosedPanels, f: number, g: number): void {
  const { shapes, corner } = posed;
  const [from, to] = [shapes.first[f]!, shapes.first[f + 1]!];
  if (seen.length < 3 * (to - from)) seen = new Float64Array(6 * (to - from));
  for (let c = from; c < to; c++)
    seeFrom(seen, 3 * (c - from), posed, g, corner[3 * c]!, corner[3 * c + 1]!, corner[3 * c + 2]!);
}

/** The part of a polygon on the left of the line from one corner to another, heights carried along. */
function keepLeft(
  { count, x, y, height }: CoverPart,
  kept: CoverPart,
  flat: Float64Array,
  a: number,
  b: number,
): void {
  const [ax, ay] = [flat[2 * a]!, flat[2 * a + 1]!];
  const [dx, dy] = [flat[2 * b]! - ax, flat[2 * b + 1]! - ay];
  kept.count = 0;
  let before = count - 1;
  let s = dx * (y[before]! - ay) - dy * (x[before]! - ax);
  for (let k = 0; k < count; before = k++) {
    const t = dx * (y[k]! - ay) - dy * (x[k]! - ax);
    if (s >= 0 !== t >= 0) {
      const u = s / (s - t);
      add(
        kept,
        x[before]! + u * (x[k]! - x[before]!),
        y[before]! + u * (y[k]! - y[before]!),
        height[before]! + u * (height[k]! - height[before]!),
      );
    }
    if (t >= 0) add(kept, x[k]!, y[k]!, height[k]!);
    s = t;
  }
}

/** Narrower than twice TOUCH: boundaries that run along each other, or a panel that stands upright. */
function isSliver({ count, x, y }: CoverPart): boolean {
  let [twice, round] = [0, 0];
  for (let k = 0, n = 1; k < count; k++, n = (n + 1) % count) {
    twice += x[k]! * y[n]! - y[k]! * x[n]!;
    const [dx, dy] = [x[n]! - x[k]!, y[n]! - y[k]!];
    // not Math.hypot, which is many times slower
    round += Math.sqrt(dx * dx + dy * dy);
  }
  return Math.abs(twice) <= 2 * TOUCH * (round + TOUCH);
}
