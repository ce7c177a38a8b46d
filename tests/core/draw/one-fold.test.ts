import { describe, expect, test } from 'vitest';
import { partsOfStretch } from '../../../src/core/draw/construct.ts';
import { type Line, lineOf, lineThrough, meet, offLine, reflectIn } from '../../../src/core/draw/line.ts';
import * as fold from '../../../src/core/draw/one-fold.ts';
import { realRoots } from '../../../src/core/draw/roots.ts';
import type { Point } from '../../../src/core/numeric/vector.ts';
import landmarks from '../../outside/values/landmarks.json';

/** Published cases in tests/outside/values/landmarks.json, with their sources there. */
const EXACT = 1e-12;

const lines: Record<string, Line> = {
  'y=x': lineThrough([0, 0], [1, 1])!,
  'line through origin at 60 degrees': lineThrough([0, 0], [1, Math.sqrt(3)])!,
  'x=0 (left edge)': { x: 1, y: 0, d: 0 },
  'x=0': { x: 1, y: 0, d: 0 },
  'y=x/2 direction': lineThrough([0, 0], [2, 1])!,
  'x=1 (parallel)': { x: 1, y: 0, d: 1 },
};

const lineFrom = (given: unknown): Line =>
  typeof given === 'string' ? lines[given]! : lineOf(...(given as [number, number, number]))!;

interface Case {
  readonly op: string;
  readonly input: Record<string, unknown>;
  readonly solutions: readonly (readonly number[])[];
  readonly note: string;
}

function solve({ op, input }: Case): Line[] {
  const p = (name: string) => input[name] as Point;
  const l = (name: string) => lineFrom(input[name]);
  switch (op) {
    case 'O1':
      return fold.foldThrough(p('p1'), p('p2'));
    case 'O2':
      return fold.foldPointOntoPoint(p('p1'), p('p2'));
    case 'O3':
      return fold.foldLineOntoLine(l('l1'), l('l2'));
    case 'O4':
      return fold.foldSquare(p('p1'), l('l1'));
    case 'O5':
      return fold.foldPointOntoLine(p('p1'), l('l1'), p('p2'));
    case 'O6':
      return fold.foldTwoOntoTwo(p('p1'), l('l1'), p('p2'), l('l2'));
    default:
      return fold.foldPointOntoLineSquare(p('p1'), l('l1'), l('l2'));
  }
}

describe('the seven one-fold operations against published solutions', () => {
  for (const one of landmarks.operations as Case[])
    test(`${one.op}: ${one.note || JSON.stringify(one.input)}`, () => {
      const found = solve(one);
      expect(found.length).toBe(one.solutions.length);
      for (const [x, y, d] of one.solutions) {
        const off = found.map((line) =>
          Math.max(Math.abs(line.x - x!), Math.abs(line.y - y!), Math.abs(line.d - d!)),
        );
        expect(Math.min(...off)).toBeLessThan(EXACT);
      }
    });
});

test('two points onto two lines: every crease takes both points there (definition of reflection)', () => {
  let seed = 7;
  const next = () => {
    seed = (seed * 48271) % 2147483647;
    return (seed / 2147483647) * 4 - 2;
  };
  let count = 0;
  for (let round = 0; round < 2000; round++) {
    const [p1, p2]: Point[] = [
      [next(), next()],
      [next(), next()],
    ];
    const [l1, l2] = [lineOf(next(), next(), next())!, lineOf(next(), next(), next())!];
    const found = fold.foldTwoOntoTwo(p1!, l1, p2!, l2);
    count += found.length;
    // a cubic has a real root, lest an image lies on its own point
    expect(found.length, `seed 7, round ${round}`).toBeGreaterThan(0);
    for (const line of found) {
      // images far out, beyond any sheet, carry rounding with them
      const reach = 1 + Math.hypot(...reflectIn(line, p1!)) + Math.hypot(...reflectIn(line, p2!));
      expect(Math.abs(offLine(l1, reflectIn(line, p1!)))).toBeLessThan(1e-12 * reach ** 2);
      expect(Math.abs(offLine(l2, reflectIn(line, p2!)))).toBeLessThan(1e-12 * reach ** 2);
    }
  }
  expect(count).toBeGreaterThan(2500);
});

test('roots of cubics with known roots, double ones once (algebra)', () => {
  for (const roots of [
    [1, 2, 3],
    [-2, 0.5, 7],
    [0, 1e-3, 1e3],
  ] as const) {
    const [a, b, c] = roots;
    const found = realRoots([-a * b * c, a * b + b * c + c * a, -(a + b + c), 1]);
    expect(found.length).toBe(3);
    found.forEach((root, k) => {
      expect(Math.abs(root - roots[k]!)).toBeLessThan(1e-12 * Math.max(1, Math.abs(roots[k]!)));
    });
  }
  expect(realRoots([0, 0, 0, 1]).length).toBe(1);
  expect(realRoots([4, -4, 1])).toEqual([2]);
  expect(realRoots([1, 0, 1])).toEqual([]);
});

const fraction = (text: string) => {
  const [top, bottom] = text.split('/').map(Number);
  return top! / (bottom ?? 1);
};

const left: Line = { x: 1, y: 0, d: 0 };
const right: Line = { x: 1, y: 0, d: 1 };
const top: Line = { x: 0, y: 1, d: 1 };
const bottom: Line = { x: 0, y: 1, d: 0 };

describe('Haga, Origamics (2008)', () => {
  for (const row of landmarks.haga_first.rows)
    test(`first fold with the corner at ${row[0]}`, () => {
      const [x, y1, y2, y3, y4, y5] = row.map(fraction);
      const [crease] = fold.foldPointOntoPoint([0, 0], [x!, 1]);
      const folded = lineThrough(reflectIn(crease!, [0, 0]), reflectIn(crease!, [1, 0]))!;
      const crossing = meet(folded, right)!;
      const off = [
        1 - meet(crease!, left)![1] - y1!,
        1 - crossing[1] - y2!,
        Math.hypot(crossing[0] - x!, crossing[1] - 1) - y3!,
        meet(crease!, right)![1] - y4!,
        crossing[1] - y5!,
      ];
      for (const one of off) expect(Math.abs(one)).toBeLessThan(EXACT);
    });
  test('second and third fold give a third of the edge', () => {
    const [second] = fold.foldThrough([0.5, 1], [1, 0]);
    const edge = lineThrough(reflectIn(second!, [0.5, 1]), reflectIn(second!, [1, 1]))!;
    expect(Math.abs(meet(edge, left)![1] - landmarks.haga_second.height)).toBeLessThan(EXACT);
    // the corner to the left edge, the right edge through the middle of the top: two points onto two lines in reverse
    const { h } = landmarks.haga_third;
    const [third] = fold.foldPointOntoPoint([1, 0], [0, h]);
    const image = lineThrough(reflectIn(third!, [1, 0]), reflectIn(third!, [1, 1]))!;
    expect(Math.abs(offLine(image, [0.5, 1]))).toBeLessThan(EXACT);
  });
});

test("Messer's cube root of two, Beloch and Abe by two points onto two lines", () => {
  const third: Line = { x: 0, y: 1, d: 2 / 3 };
  const { h, ratio } = landmarks.messer_cube_root;
  const heights = fold
    .foldTwoOntoTwo([1, 0], left, [1, 1 / 3], third)
    .map((line) => reflectIn(line, [1, 0])[1]);
  expect(Math.min(...heights.map((height) => Math.abs(height - h)))).toBeLessThan(EXACT);
  expect(Math.abs((1 - h) / h - ratio)).toBeLessThan(EXACT);
});

test('crossing diagonals part an edge (Lang, Origami and geometric constructions)', () => {
  const diagonal = lineThrough([0, 0], [1, 1])!;
  for (const [n, k, share] of landmarks.crossing_diagonals.rows as [number, number, string][]) {
    const line = fold.foldThrough([0, 1], [k / n, 0])[0]!;
    expect(Math.abs(meet(line, diagonal)![0] - fraction(share))).toBeLessThan(EXACT);
  }
});

test('equal parts of an edge are k of n to the last digit (arithmetic)', () => {
  const parts = partsOfStretch({ from: [0, 0], to: [150, 0] }, 12);
  expect(parts.map(([x]) => x)).toEqual(Array.from({ length: 11 }, (_, k) => 12.5 * (k + 1)));
  expect(meet(bottom, top)).toBeNull();
});
