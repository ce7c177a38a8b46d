/** How far a new crease runs: across the paper, to the next crease, or for a given length. */
import { between, distance, type Point } from '../numeric/vector.ts';
import { alongLine, footOn, type Line, lineThrough, offLine, type Stretch, wayOf } from './line.ts';
import { crossingOf, isOnPaper, nearness, type Pattern, sidesOf } from './pattern.ts';

/** The parts of a line that lie on the paper and not along its edge, in order along it. */
export function acrossPaper(pattern: Pick<Pattern, 'outline'>, line: Line): Stretch[] {
  const near = nearness(pattern) * 1e-3;
  const sides = sidesOf(pattern);
  const cuts = sides.flatMap((side) => {
    const on = [side.from, side.to].filter((end) => Math.abs(offLine(line, end)) <= near);
    const at = crossingOf(side, line, near);
    return at ? [at] : on;
  });
  const sorted = inOrder(cuts, line, near);
  const stretches: Stretch[] = [];
  for (let k = 0; k + 1 < sorted.length; k++) {
    const [from, to] = [sorted[k]!, sorted[k + 1]!];
    if (!isInside(pattern, sides, between(from, to, 0.5), near)) continue;
    const last = stretches.at(-1);
    if (last && last.to === from) stretches[stretches.length - 1] = { from: last.from, to };
    else stretches.push({ from, to });
  }
  return stretches;
}

function isInside(
  pattern: Pick<Pattern, 'outline'>,
  sides: readonly Stretch[],
  p: Point,
  near: number,
): boolean {
  const onEdge = sides.some((side) => {
    const along = lineThrough(side.from, side.to);
    const within =
      Math.max(distance(side.from, p), distance(side.to, p)) <= distance(side.from, side.to) + near;
    return along !== null && within && Math.abs(offLine(along, p)) <= near;
  });
  return !onEdge && isOnPaper(pattern, p);
}

function inOrder(points: readonly Point[], line: Line, near: number): Point[] {
  const sorted = [...points].sort((a, b) => alongLine(line, a) - alongLine(line, b));
  return sorted.filter((p, k) => k === 0 || distance(p, sorted[k - 1]!) > near);
}

/** The stretch of a line about a place on it, up to the next crease or edge on either side; null off the paper. */
export function toNextCrease(pattern: Pattern, line: Line, place: Point): Stretch | null {
  const near = nearness(pattern) * 1e-3;
  const at = alongLine(line, place);
  const whole = acrossPaper(pattern, line).find(
    ({ from, to }) => alongLine(line, from) <= at + near && alongLine(line, to) >= at - near,
  );
  if (!whole) return null;
  let { from, to } = whole;
  for (const crease of pattern.lines) {
    if (crease.kind === 'flat') continue;
    const met = crossingOf(crease, line, near);
    if (!met) continue;
    const s = alongLine(line, met);
    if (s < at - near && s > alongLine(line, from)) from = met;
    if (s > at + near && s < alongLine(line, to)) to = met;
  }
  return { from, to };
}

/** The stretch of a given length from a place on a line: toward `toward`, and no further than the paper. */
export function forLength(
  pattern: Pick<Pattern, 'outline'>,
  line: Line,
  place: Point,
  length: number,
  toward: Point,
): Stretch | null {
  const from = footOn(line, place);
  const way = wayOf(line);
  const sign = alongLine(line, toward) >= alongLine(line, from) ? 1 : -1;
  return withinPaper(pattern, {
    from,
    to: [from[0] + sign * length * way[0], from[1] + sign * length * way[1]],
  });
}

/** What of a stretch lies on the paper: the longest part of it, its own ends to the last digit. */
export function withinPaper(pattern: Pick<Pattern, 'outline'>, stretch: Stretch): Stretch | null {
  const line = lineThrough(stretch.from, stretch.to);
  if (!line) return null;
  const turned = alongLine(line, stretch.from) > alongLine(line, stretch.to);
  const [low, high] = turned ? [stretch.to, stretch.from] : [stretch.from, stretch.to];
  const close = nearness(pattern) * 1e-3;
  const parts = acrossPaper(pattern, line).flatMap(({ from, to }): Stretch[] => {
    const start = alongLine(line, low) >= alongLine(line, from) - close ? low : from;
    const end = alongLine(line, high) <= alongLine(line, to) + close ? high : to;
    return alongLine(line, end) - alongLine(line, start) > nearness(pattern)
      ? [{ from: start, to: end }]
      : [];
  });
  const longest = parts.sort((a, b) => distance(b.from, b.to) - distance(a.from, a.to))[0];
  return longest && turned ? { from: longest.to, to: longest.from } : (longest ?? null);
}
