/** Invented crease patterns to be drawn as pictures: lines on a sheet of longer side 1, and the sheet that they make. */
import { seededRandom } from '../../src/core/numeric/random.ts';
import { distance, flatCross, flatDot, flatMinus } from '../../src/core/numeric/vector.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { foldPart, type Part, type Point } from './simple-folds.ts';

export type PatternLine = Pick<Segment, 'x1' | 'y1' | 'x2' | 'y2'> & {
  readonly kind: 'edge' | 'mountain' | 'valley';
};

export interface DrawnPattern {
  readonly name: string;
  /** Each as it is drawn in one go. */
  readonly lines: readonly PatternLine[];
  readonly sheet: Sheet;
}

type Random = () => number;

/** Shortest crease, and least way from a corner to a line beside it, of the longer side: 8 mm and 4 mm of 210 mm. */
const SHORTEST = 8 / 210;
const NEAREST = 4 / 210;

const makers: readonly (readonly [string, (random: Random) => PatternLine[]])[] = [
  ['grid', gridLines],
  ['skew', skewLines],
  ['gussets', gussetLines],
  ['22.5', (random) => foldedLines(random, true)],
  ['folds', (random) => foldedLines(random, false)],
];

/** A pattern whose lines stand far enough apart to be drawn by hand; the kind of pattern goes by the number. */
export function invented(number: number, series: number): DrawnPattern {
  const [name, make] = makers[number % makers.length]!;
  const random = seededRandom(series * 100_003 + number);
  for (let trial = 0; trial < 2000; trial++) {
    const lines = sized(make(random));
    const { sheet, findings } = buildSheet(lines);
    if (sheet && findings.every(({ severity }) => severity === 'note') && isRoomy(sheet))
      return { name: `${name} ${series}-${number}`, lines, sheet };
  }
  throw new Error(`No ${name} pattern with room enough.`);
}

/** The longer side of a pattern that begins at the origin is made 1. */
function sized(lines: readonly PatternLine[]): PatternLine[] {
  const size = Math.max(...lines.flatMap(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2]));
  return lines.map(({ kind, x1, y1, x2, y2 }) => line(kind, [x1 / size, y1 / size], [x2 / size, y2 / size]));
}

const line = (kind: PatternLine['kind'], [x1, y1]: Point, [x2, y2]: Point): PatternLine => ({
  ...{ x1, y1, x2, y2, kind },
});

const either = (random: Random) => (random() < 0.5 ? 'mountain' : 'valley');

const rectangle = (width: number, height: number): PatternLine[] => [
  line('edge', [0, 0], [width, 0]),
  line('edge', [width, 0], [width, height]),
  line('edge', [width, height], [0, height]),
  line('edge', [0, height], [0, 0]),
];

/** Uneven rows and columns; the columns change their kind where they cross a row, as in a folded map. */
function gridLines(random: Random): PatternLine[] {
  const height = 0.6 + 0.4 * random();
  const places = (count: number, size: number) => {
    const steps = Array.from({ length: count }, () => 1 + (random() < 0.5 ? 0 : random()));
    const whole = steps.reduce((sum, step) => sum + step, 0);
    let at = 0;
    return [0, ...steps.map((step) => (at += (step * size) / whole))];
  };
  const [columns, rows] = [
    places(3 + Math.floor(6 * random()), 1),
    places(2 + Math.floor(5 * random()), height),
  ];
  const lines = rectangle(1, height);
  for (const y of rows.slice(1, -1)) lines.push(line(either(random), [0, y], [1, y]));
  const changes = random() < 0.6;
  columns.slice(1, -1).forEach((x) => {
    let kind = either(random) as 'mountain' | 'valley';
    if (!changes) lines.push(line(kind, [x, 0], [x, height]));
    else
      rows.slice(1).forEach((y, k) => {
        lines.push(line(kind, [x, rows[k]!], [x, y]));
        kind = kind === 'mountain' ? 'valley' : 'mountain';
      });
  });
  return lines;
}

/** Slanted parallelograms in rows, every other row mirrored. */
function skewLines(random: Random): PatternLine[] {
  const [columns, rows] = [2 + Math.floor(6 * random()), 2 + Math.floor(5 * random())];
  const slant = (50 + 30 * random()) * (Math.PI / 180);
  const [wide, tall] = [1 / (columns + 0.5), 1 / (rows + 1)];
  const shift = tall / Math.tan(slant);
  const at = (i: number, j: number): Point => [i * wide + (j % 2) * shift, j * tall];
  const lines: PatternLine[] = [];
  for (let j = 0; j <= rows; j++)
    if (j % rows === 0) lines.push(line('edge', at(0, j), at(columns, j)));
    else
      for (let i = 0; i < columns; i++)
        lines.push(line((i + j) % 2 ? 'mountain' : 'valley', at(i, j), at(i + 1, j)));
  for (let i = 0; i <= columns; i++)
    for (let j = 0; j < rows; j++) {
      const kind = i % columns === 0 ? 'edge' : i % 2 ? 'mountain' : 'valley';
      lines.push(line(kind, at(i, j), at(i, j + 1)));
    }
  return lines;
}

/** A tray: walls of two heights, a slanting fold in each corner. */
function gussetLines(random: Random): PatternLine[] {
  const height = 0.7 + 0.3 * random();
  const [left, low, right, high] = Array.from({ length: 4 }, () => 0.12 + 0.15 * random()) as [
    number,
    number,
    number,
    number,
  ];
  const walls = either(random);
  const lines = [...rectangle(1, height)];
  for (const x of [left, 1 - right]) lines.push(line(walls, [x, 0], [x, height]));
  for (const y of [low, height - high]) lines.push(line(walls, [0, y], [1, y]));
  const gusset = walls === 'valley' ? 'mountain' : 'valley';
  const corners: [number, number, number, number][] = [
    [left, low, -1, -1],
    [1 - right, low, 1, -1],
    [left, height - high, -1, 1],
    [1 - right, height - high, 1, 1],
  ];
  for (const [x, y, sideways, upward] of corners) {
    const reach = Math.min(sideways < 0 ? x : 1 - x, upward < 0 ? y : height - y);
    lines.push(line(gusset, [x, y], [x + sideways * reach, y + upward * reach]));
  }
  if (random() < 0.5) lines.push(line(gusset, [left, height / 2], [1 - right, height / 2]));
  return lines;
}

/** A square folded through all layers, along lines of 22.5 degrees through corners of the folded model or any lines. */
function foldedLines(random: Random, even: boolean): PatternLine[] {
  const square: Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  let parts: Part[] = [{ flat: square, folded: square, over: false }];
  const kinds: { a: Point; b: Point; degrees: number }[] = [];
  const folds = (even ? 3 : 2) + Math.floor(3 * random());
  for (let fold = 0; fold < folds; fold++) {
    const corners = parts.flatMap(({ folded }) => folded);
    const middle = [0, 1].map((k) => corners.reduce((sum, p) => sum + p[k]!, 0) / corners.length);
    const direction = even ? (Math.floor(16 * random()) * Math.PI) / 8 : 2 * Math.PI * random();
    const normal: Point = [Math.cos(direction), Math.sin(direction)];
    const through = corners[Math.floor(random() * corners.length)]!;
    const half: Point = [(through[0] + middle[0]!) / 2, (through[1] + middle[1]!) / 2];
    const offset = flatDot(normal, even && random() < 0.6 ? through : half);
    parts = parts.flatMap((part) => foldPart(part, (p) => flatDot(normal, p) - offset, normal, kinds));
  }
  const lines = kinds
    .filter(({ a, b }) => distance(a, b) > 1e-9)
    .map(({ a, b, degrees }) => line(degrees > 0 ? 'valley' : 'mountain', a, b));
  return [...rectangle(1, 1), ...lines];
}

function isRoomy({ vertexX, vertexY, creaseFrom, creaseTo, creaseKind }: Sheet): boolean {
  const points = Array.from(vertexX, (x, v): Point => [x, vertexY[v]!]);
  const isFolded = creaseKind.length > 7 && creaseKind.length < 220;
  const isFarFrom = (p: Point, a: Point, b: Point): boolean => {
    const [way, off] = [flatMinus(b, a), flatMinus(p, a)];
    const share = flatDot(off, way) / flatDot(way, way);
    return share <= 0 || share >= 1 || Math.abs(flatCross(way, off)) >= NEAREST * Math.hypot(...way);
  };
  return (
    isFolded &&
    Array.from(creaseFrom).every((from, e) => {
      const [a, b] = [points[from]!, points[creaseTo[e]!]!];
      return distance(a, b) >= SHORTEST && points.every((p) => p === a || p === b || isFarFrom(p, a, b));
    }) &&
    points.every((p, k) => points.every((q, l) => l <= k || distance(p, q) >= SHORTEST))
  );
}
