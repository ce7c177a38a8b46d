/** Joined lines whose end falls into a gap between their dashes, drawn on to the line that they end on. */
import Flatbush from 'flatbush';
import { FILE_ROUNDING } from '../../numeric/tolerance.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import type { JoinedLine } from './joined-dashes.ts';

type Stretch = readonly [Point, Point];

/** What ends nearer than this to another line is there already, in its width. */
const THERE = 0.02;

/** @param others lines that were drawn whole */
export function drawnOn(lines: readonly JoinedLine[], others: readonly Stretch[]): JoinedLine[] {
  const stretches: Stretch[] = [...others, ...lines.map(({ from, to }): Stretch => [from, to])];
  const boxes = boxesOf(stretches, Math.max(0, ...lines.map(({ reach }) => reach)));
  return lines.map((line, k) => {
    const own = others.length + k;
    const on = (from: Point, to: Point) => endOf({ from, to, line, own }, stretches, boxes);
    return line.reach > 0 ? { ...line, from: on(line.to, line.from), to: on(line.from, line.to) } : line;
  });
}

interface End {
  readonly from: Point;
  readonly to: Point;
  readonly line: JoinedLine;
  /** Its own place among the stretches. */
  readonly own: number;
}

/** The end `to` of a line that comes from `from`, on the nearest line ahead within the reach of a gap. */
function endOf({ from, to, line, own }: End, stretches: readonly Stretch[], boxes: Flatbush): Point {
  const length = distance(from, to);
  if (length === 0) return to;
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const reach = line.reach * (1 + FILE_ROUNDING) + THERE * line.width;
  const ahead: Point = [to[0] + dx * reach, to[1] + dy * reach];
  let best: number | null = null;
  for (const other of boxes.search(...boxOf([to, ahead]))) {
    if (other === own) continue;
    for (const way of meetings(to, [dx, dy], stretches[other]!, line.width)) {
      if (way < -THERE * line.width || way > reach) continue;
      if (best === null || way < best) best = way;
    }
  }
  return best === null || best <= THERE * line.width ? to : [to[0] + dx * best, to[1] + dy * best];
}

/** How far ahead of a point a line through it meets a stretch: where they cross, or where that ends beside it. */
function meetings(at: Point, [dx, dy]: Point, [a, b]: Stretch, width: number): number[] {
  const along = ([x, y]: Point) => (x - at[0]) * dx + (y - at[1]) * dy;
  const beside = ([x, y]: Point) => (x - at[0]) * dy - (y - at[1]) * dx;
  const [p, q] = [beside(a), beside(b)];
  const near = THERE * width;
  const found = [a, b].filter((end) => Math.abs(beside(end)) <= near).map(along);
  // a line that crosses it, or would if it were drawn on by a gap of its own
  if (Math.abs(p - q) > near) {
    const share = p / (p - q);
    const slack = width / distance(a, b);
    if (share >= -slack && share <= 1 + slack) found.push(along(a) + share * (along(b) - along(a)));
  }
  return found;
}

function boxesOf(stretches: readonly Stretch[], margin: number): Flatbush {
  const boxes = new Flatbush(Math.max(1, stretches.length));
  if (stretches.length === 0) boxes.add(0, 0, 0, 0);
  for (const stretch of stretches) {
    const [left, low, right, high] = boxOf(stretch);
    boxes.add(left - margin, low - margin, right + margin, high + margin);
  }
  boxes.finish();
  return boxes;
}

const boxOf = ([a, b]: Stretch): [number, number, number, number] => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[0], b[0]),
  Math.max(a[1], b[1]),
];
