/** How long a sheet takes to build from loose strokes, and how that grows. */

import { seededRandom } from '../../src/core/numeric/random.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import { growth } from './measure.ts';

export interface GraphTimes {
  readonly drawing: string;
  readonly rows: readonly { segments: number; creases: number; best: number; median: number }[];
  /** Fitted exponent of the best times: time ~ segments ^ exponent. */
  readonly exponent: number;
}

/** A Miura sheet of about this many strokes, shuffled. */
export function miuraStrokes(count: number, seed: number): Segment[] {
  const cells = Math.max(1, Math.round(Math.sqrt(count / 2)));
  const y = (i: number, j: number) => j + (i % 2) * 0.3;
  const strokes: Segment[] = [];
  for (let i = 0; i <= cells; i++) {
    for (let j = 0; j <= cells; j++) {
      const level = j === 0 || j === cells ? 'edge' : (i + j) % 2 === 0 ? 'valley' : 'mountain';
      const zigzag = i === 0 || i === cells ? 'edge' : i % 2 === 0 ? 'valley' : 'mountain';
      if (i < cells) strokes.push({ x1: i, y1: y(i, j), x2: i + 1, y2: y(i + 1, j), kind: level });
      if (j < cells) strokes.push({ x1: i, y1: y(i, j), x2: i, y2: y(i, j + 1), kind: zigzag });
    }
  }
  return shuffled(strokes, seed);
}

/** Short marks thrown on a square at random, so that each crosses about one other: splitting and nesting. */
export function thrownStrokes(count: number, seed: number): Segment[] {
  const random = seededRandom(seed);
  const strokes: Segment[] = [
    { x1: 0, y1: 0, x2: 1, y2: 0, kind: 'edge' },
    { x1: 1, y1: 0, x2: 1, y2: 1, kind: 'edge' },
    { x1: 1, y1: 1, x2: 0, y2: 1, kind: 'edge' },
    { x1: 0, y1: 1, x2: 0, y2: 0, kind: 'edge' },
  ];
  const length = 1 / Math.sqrt(count);
  while (strokes.length < count) {
    const [x, y, turn] = [random(), random(), random() * 2 * Math.PI];
    strokes.push({
      x1: x,
      y1: y,
      x2: x + length * Math.cos(turn),
      y2: y + length * Math.sin(turn),
      kind: 'flat',
    });
  }
  return strokes;
}

function shuffled<T>(list: readonly T[], seed: number): T[] {
  const random = seededRandom(seed);
  const copy = list.slice();
  for (let k = copy.length - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [copy[k], copy[other]] = [copy[other]!, copy[k]!];
  }
  return copy;
}

/** Times graph building for each drawing and size, after a warm-up. Sheets are counted, so no work is left out. */
export function timeGraphs(sizes: readonly number[] = [1000, 10_000, 50_000], repeats = 5): GraphTimes[] {
  const drawings = { 'Miura sheet': miuraStrokes, 'thrown marks': thrownStrokes };
  return Object.entries(drawings).map(([drawing, make]) => {
    for (let k = 0; k < 3; k++) buildSheet(make(5000, k));
    const rows = sizes.map((size) => {
      const times: number[] = [];
      let creases = 0;
      const strokes = make(size, size);
      for (let k = 0; k < repeats; k++) {
        const start = performance.now();
        const { sheet } = buildSheet(strokes);
        times.push(performance.now() - start);
        creases = sheet?.creaseFrom.length ?? 0;
      }
      times.sort((a, b) => a - b);
      return { segments: strokes.length, creases, best: times[0]!, median: times[times.length >> 1]! };
    });
    return { drawing, rows, exponent: growth(rows.map((r) => [r.segments, r.best])) };
  });
}
