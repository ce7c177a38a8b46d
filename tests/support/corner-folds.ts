/** Sheets with one crease across a corner, beside a vertex that folds flat and that no step folds. */
import type { Lesson, PatternLine } from '../../src/core/lesson/lesson.ts';
import { radians } from './patterns.ts';
import { square } from './square.ts';

type Point = readonly [number, number];

/** A square with one vertex of four creases that folds flat (Kawasaki), and a crease across a corner clear of them. */
export function cornerBesideVertex(random: () => number): Lesson {
  for (;;) {
    const middle: Point = [0.2 + 0.6 * random(), 0.2 + 0.6 * random()];
    const rim = raysOf(middle, random);
    const [a, b]: Point[] = [
      [0, 1 - (0.05 + 0.6 * random())],
      [0.05 + 0.6 * random(), 1],
    ];
    const cutOff = ([x, y]: Point) => (b![0] - a![0]) * (y - a![1]) - (b![1] - a![1]) * (x - a![0]);
    if ([middle, ...rim].some((p) => cutOff(p) > -0.01)) continue;
    const sense = random() < 0.5 ? 1 : -1;
    const line = (from: Point, to: Point, up: number): PatternLine => ({
      ...{ from, to, angle: 180 * up },
      kind: up > 0 ? 'valley' : 'mountain',
    });
    const corner = line(a!, b!, random() < 0.5 ? 1 : -1);
    const creases = rim.map((end, k) => line(middle, end, k === 0 ? -sense : sense));
    return {
      ...square,
      pattern: { ...square.pattern, lines: [corner, ...creases] },
      steps: [{ title: 'Corner', sentence: '', kind: 'fold', drives: [{ ...corner, angle: corner.angle! }] }],
    };
  }
}

/** Where four creases from a point meet the rim of the square; the least sector is beside the first (Kawasaki-Justin). */
function raysOf(middle: Point, random: () => number): Point[] {
  const [one, two] = [20 + 60 * random(), 85 + 60 * random()];
  const first = 360 * random();
  return [0, one, one + two, two + 180].map((more) => {
    const turn = (first + more) * radians;
    const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
    const reach = Math.min(((dx > 0 ? 1 : 0) - middle[0]) / dx, ((dy > 0 ? 1 : 0) - middle[1]) / dy);
    return [middle[0] + reach * dx, middle[1] + reach * dy];
  });
}
