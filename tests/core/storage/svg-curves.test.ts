/** Curves as polylines, and refused for now. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pointsOf } from '../../../src/core/storage/drawing/runs.ts';
import type { Matrix } from '../../../src/core/storage/matrix.ts';
import { initialStyle } from '../../../src/core/storage/svg/properties.ts';
import { shapeOf } from '../../../src/core/storage/svg/shapes.ts';
import { parseXml } from '../../../src/core/storage/svg/xml-tree.ts';

const place = { how: 'line', line: 1 } as const;
const measures = { width: 10, height: 10, letter: 16 };

function runsOf(text: string) {
  const node = parseXml(text);
  return shapeOf(node, { ...initialStyle, ...node.attributes }, measures, place);
}

/** The first run of a shape as points, under a map. */
const pointsIn = (text: string, matrix: Matrix = [1, 0, 0, 1, 0, 0]) =>
  pointsOf(runsOf(text)[0]!, matrix, place);

const near = (value: number, wanted: number, share: number) =>
  expect(Math.abs(value - wanted)).toBeLessThan(share);

describe('a polyline follows its curve to 0.1 % of its size', () => {
  test.each([
    ['a circle', '<circle cx="3" cy="4" r="2"/>', 'circle'],
    ['an arc all round', '<path d="M5 4A2 2 0 1 1 1 4A2 2 0 1 1 5 4Z"/>', 'arc'],
  ])('%s', (_name, text, curve) => {
    expect(runsOf(text)[0]!.curve).toBe(curve);
    const points = pointsIn(text);
    points.forEach(([x, y], i) => {
      near(Math.hypot(x - 3, y - 4), 2, 0.004);
      const [nextX, nextY] = points[i + 1] ?? [x, y];
      near(Math.hypot((x + nextX) / 2 - 3, (y + nextY) / 2 - 4), 2, 0.004);
    });
    expect(points.length).toBeGreaterThan(30);
    expect(points.at(-1)).toEqual(points[0]);
  });

  test('an ellipse, stretched a thousand times along x: to 0.1 % of its size still', () => {
    for (const [x, y] of pointsIn('<ellipse rx="2" ry="1"/>', [1000, 0, 0, 1, 0, 0]))
      near((x / 2000) ** 2 + y ** 2, 1, 0.002);
  });

  test('rounded corners pass through the middles of the sides (SVG 2, 10.2)', () => {
    const [run] = runsOf('<rect width="8" height="4" rx="1"/>');
    expect([run!.curve, run!.closed]).toEqual(['rounded-corners', true]);
    const points = pointsIn('<rect width="8" height="4" rx="1"/>');
    for (const corner of ['1 0', '7 0', '8 1', '8 3', '7 4', '1 4', '0 3', '0 1'])
      expect(points.map((point) => point.join(' '))).toContain(corner);
  });

  test('random cubics: every point of the curve is near a chord (seed 9)', () => {
    const number = fc.integer({ min: -1000, max: 1000 });
    fc.assert(
      fc.property(
        fc.tuple(number, number, number, number, number, number),
        fc.integer({ min: 0, max: 100 }),
        (c, percent) => {
          const points = pointsIn(`<path d="M0 0C${c.join(' ')}"/>`);
          const t = percent / 100;
          const at = (i: number) =>
            3 * (1 - t) ** 2 * t * c[i]! + 3 * (1 - t) * t * t * c[i + 2]! + t ** 3 * c[i + 4]!;
          const [x, y] = [at(0), at(1)];
          const size = Math.max(
            ...[0, 1].map(
              (i) => Math.max(...points.map((p) => p[i]!)) - Math.min(...points.map((p) => p[i]!)),
            ),
          );
          const distances = points.slice(1).map(([qx, qy], i) => {
            const [px, py] = points[i]!;
            const square = (qx - px) ** 2 + (qy - py) ** 2;
            const along =
              square === 0
                ? 0
                : Math.min(1, Math.max(0, ((x - px) * (qx - px) + (y - py) * (qy - py)) / square));
            return Math.hypot(px + along * (qx - px) - x, py + along * (qy - py) - y);
          });
          expect(Math.min(...distances)).toBeLessThanOrEqual(size * 0.001);
        },
      ),
      { seed: 9, numRuns: 300 },
    );
  });
});

test('a path of a straight and a curved part: only the second is a curve', () => {
  expect(runsOf('<path d="M0 0H5M0 1Q2 3 4 1"/>').map(({ curve }) => curve)).toEqual([null, 'curve']);
});
