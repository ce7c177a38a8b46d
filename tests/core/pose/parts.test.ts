/** What a step moves: only what closure ties to it, and of that only as much as closure forces. */
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { foldingCreases } from '../../../src/core/pose/moving.ts';
import { tiedParts } from '../../../src/core/pose/parts.ts';
import { closureLoops } from '../../../src/core/sheet/loops.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { fold } from '../../support/fold.ts';
import { PatternMaker, radians } from '../../support/patterns.ts';

type Point = readonly [number, number];

/** From a point in a direction (degrees) to the rim of the box. */
function rimFrom([x, y]: Point, degrees: number, [x0, y0]: Point, [x1, y1]: Point): Point {
  const [dx, dy] = [Math.cos(degrees * radians), Math.sin(degrees * radians)];
  const reach = Math.min(((dx > 0 ? x1 : x0) - x) / dx, ((dy > 0 ? y1 : y0) - y) / dy);
  return [x + reach * dx, y + reach * dy];
}

/** Draws a rectangle as raw edge, corners and the given points of the rim among them. */
function drawRim(maker: PatternMaker, width: number, ends: readonly (readonly [Point, number])[]): void {
  const corners: Point[] = [
    [0, 0],
    [width, 0],
    [width, 1],
    [0, 1],
  ];
  const along = ([x, y]: Point) => Math.atan2(y - 0.5, x - width / 2);
  const rim = [...ends, ...corners.map((corner) => [corner, maker.point(corner[0], corner[1])] as const)];
  rim.sort(([p], [q]) => along(p) - along(q));
  rim.forEach(([, v], k) => maker.line(v, rim[(k + 1) % rim.length]![1], 'edge'));
}

/** Two corners side by side on a sheet 2 x 1; each crease runs from its corner to the rim of its own half. */
function twoCorners(left: readonly [number, number][], right: readonly [number, number][]): Sheet {
  const maker = new PatternMaker();
  const ends: [Point, number][] = [];
  for (const [middle, rays, low, high] of [
    [[0.5, 0.2], left, [0, 0], [1, 1]],
    [[1.5, 0.2], right, [1, 0], [2, 1]],
  ] as const) {
    const at = maker.point(middle[0], middle[1]);
    for (const [direction, degrees] of rays) {
      const end = rimFrom(middle, direction, low, high);
      const v = maker.point(end[0], end[1]);
      ends.push([end, v]);
      maker.crease(at, v, degrees);
    }
  }
  drawRim(maker, 2, ends);
  return maker.sheet();
}

// All rays end above or below, where the halves have no rim in common. Sectors of 60, 85, 120 and 95 degrees fold flat
// (Kawasaki-Justin); four valleys do not fold at all (Abel et al. 2016).
const folds: [number, number][] = [
  [60, -180],
  [120, 180],
  [205, 180],
  [325, 180],
];
const cannot: [number, number][] = folds.map(([direction]) => [direction, 60]);

describe('two corners on one sheet', () => {
  const sheet = twoCorners(folds, cannot);
  const named = (drives: Record<number, number>) => {
    const target = new Float64Array(sheet.creaseKind.length).fill(Number.NaN);
    for (const [crease, degrees] of Object.entries(drives)) target[Number(crease)] = degrees * radians;
    return tiedParts(closureLoops(sheet), foldingCreases(sheet), target).map(({ creases }) => creases);
  };

  it('each is a part by itself, and one that nothing drives is none', () => {
    expect(named({ 0: 90, 5: 10 })).toEqual([
      [0, 1, 2, 3],
      [4, 5, 6, 7],
    ]);
    expect(named({ 6: 10 })).toEqual([[4, 5, 6, 7]]);
    expect(named({})).toEqual([]);
  });

  it('the one that cannot fold is blamed alone, and the other folds as if it were by itself', () => {
    const left = { 1: 90 };
    const both = fold(sheet, { ...left, 4: 60, 5: 60, 6: 60, 7: 60 }, { drawn: true });
    const alone = fold(sheet, left, { drawn: true });
    expect(alone.report.outcome).toBe('rigid');
    expect(both.report.outcome).toBe('fails');
    const [failure] = both.report.findings;
    expect(failure!.creases.toSorted((a, b) => a - b)).toEqual([4, 5, 6, 7]);
    const rightCorner = sheet.creaseFrom[4]!;
    expect(failure!.vertices).toEqual([rightCorner]);
    expect([...both.end.subarray(0, 4)]).toEqual([...alone.end.subarray(0, 4)]);
  });

  it('each goes the same share of its way at each moment, in a track that closes', () => {
    const other = twoCorners(folds, folds);
    const { poses, report } = fold(other, { 1: 120, 5: 30 }, { drawn: true });
    expect(report.outcome).toBe('rigid');
    expect(report.closure).toBeLessThan(1e-12);
    for (const { angle } of poses) expect(angle[5]! / 30).toBeCloseTo(angle[1]! / 120, 3);
  });
});

describe('a corner that can take up a fold by itself', () => {
  /** Six creases round a corner, one of which leads on to a corner of four. */
  function cornerWithNeighbour(random: () => number): Sheet {
    const maker = new PatternMaker();
    const [near, far]: Point[] = [
      [0.55, 0.5],
      [1.4, 0.5],
    ];
    const [v, w] = [near!, far!].map(([x, y]) => maker.point(x, y));
    const ends: [Point, number][] = [];
    const ray = (from: number, at: Point, degrees: number, low: Point, high: Point) => {
      const end = rimFrom(at, degrees, low, high);
      const rim = maker.point(end[0], end[1]);
      ends.push([end, rim]);
      maker.crease(from, rim, 0);
    };
    for (const degrees of [65, 125, 185, 235, 295])
      ray(v!, near!, degrees + 15 * (random() - 0.5), [0, 0], [1, 1]);
    for (const degrees of [80, 200, 290]) {
      ray(w!, far!, degrees + 15 * (random() - 0.5), [1, 0], [2, 1]);
    }
    maker.crease(v!, w!, 0);
    drawRim(maker, 2, ends);
    return maker.sheet();
  }

  it('its neighbour stays, seeds 1 to 40', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const sheet = cornerWithNeighbour(seededRandom(seed));
      const { poses, report } = fold(sheet, { 0: 60 }, { drawn: true });
      expect(report.outcome, `seed ${seed}`).toBe('rigid');
      for (const { angle } of poses) for (const crease of [5, 6, 7, 8]) expect(angle[crease]).toBe(0);
    }
  });
});
