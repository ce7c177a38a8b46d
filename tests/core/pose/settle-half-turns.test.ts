/** Finished angles that a file gives a hair off. Two straight folds across each other close only with all folded flat. */
import { expect, test } from 'vitest';
import { CLOSED } from '../../../src/core/numeric/tolerance.ts';
import { closureOfPose } from '../../../src/core/pose/closure.ts';
import { settleAngles } from '../../../src/core/pose/settle-angles.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';

/** A square folded in half twice; the first of its folds is open by so many degrees. */
function foldedTwice(open: number) {
  const maker = new PatternMaker();
  const [west, south, east, north] = [
    [0, 1],
    [1, 0],
    [2, 1],
    [1, 2],
  ].map(([x, y]) => maker.point(x!, y!)) as [number, number, number, number];
  const corners = [
    [0, 0],
    [2, 0],
    [2, 2],
    [0, 2],
  ].map(([x, y]) => maker.point(x!, y!));
  const round = [corners[0]!, south, corners[1]!, east, corners[2]!, north, corners[3]!, west];
  round.forEach((from, k) => {
    maker.line(from, round[(k + 1) % 8]!, 'edge');
  });
  const middle = maker.point(1, 1);
  maker.line(middle, south, 'valley', (180 - open) * radians);
  for (const end of [east, north]) maker.line(middle, end, 'valley', 180 * radians);
  maker.line(middle, west, 'mountain', -180 * radians);
  return maker.sheet();
}

/** Fold angle per crease; raw edges do not turn. */
const known = ({ creaseAngle }: Sheet) => creaseAngle.map((angle) => angle || 0);

// from what closes as it is up to what no eye can see, and beyond
test.each([
  [1e-7, true],
  [3e-7, true],
  [1e-5, true],
  [5e-3, true],
  [0.05, false],
])('a fold open by %s degrees is settled: %s', (open, closes) => {
  const sheet = foldedTwice(open);
  expect(closureOfPose(sheet, known(sheet)).largest).toBeGreaterThan(CLOSED);
  const settled = settleAngles(sheet).sheet;
  expect(closureOfPose(settled, known(settled)).largest < CLOSED).toBe(closes);
});
