/** Patterns as people draw them: in three sizes, turned, mirrored, with a frame, a legend, labels and dimension lines round them. */
import { type PrintedLine, printedLines } from './printed.ts';

export interface Cluttered {
  /** The lines of the pattern, mm from the lower left corner of the page. */
  readonly pattern: readonly PrintedLine[];
  /** Lines that stand round and beside it. */
  readonly beside: readonly PrintedLine[];
  readonly texts: readonly {
    readonly at: readonly [number, number];
    readonly text: string;
    readonly height: number;
  }[];
  /** Width and height, mm. */
  readonly page: readonly [number, number];
  /** How many times as large as on paper dashes and line widths are drawn. */
  readonly scale: number;
}

type Ends = PrintedLine['ends'];

/** @param seed of the pattern; it also says how it is placed and whether anything stands round it */
export function cluttered(seed: number): Cluttered {
  const scale = [0.5, 1, 4][seed % 3]!;
  const turn = ([0, 90, 30, 17][seed % 4]! * Math.PI) / 180;
  const side = seed % 2 === 0 ? 1 : -1;
  const map = (x: number, y: number) =>
    [
      scale * (side * x * Math.cos(turn) - y * Math.sin(turn)),
      scale * (side * x * Math.sin(turn) + y * Math.cos(turn)),
    ] as const;
  const placed = printedLines(seed).lines.map(({ ends: [a, b, c, d], dash }): PrintedLine => {
    return { dash, ends: [...map(a, b), ...map(c, d)] };
  });
  const across = placed.flatMap(({ ends: [a, , c] }) => [a, c]);
  const up = placed.flatMap(({ ends: [, b, , d] }) => [b, d]);
  const [left, low] = [Math.min(...across), Math.min(...up)];
  const [width, height] = [Math.max(...across) - left, Math.max(...up) - low];
  const room = 45 * scale;
  const moved = ([a, b, c, d]: Ends): Ends => [
    a - left + room,
    b - low + room,
    c - left + room,
    d - low + room,
  ];
  const pattern = placed.map(({ ends, dash }) => ({ ends: moved(ends), dash }));
  const page = [width + 2 * room + 60 * scale, height + 2 * room] as const;
  const bare = { pattern, beside: [], texts: [], page, scale };
  return seed % 5 === 0 ? bare : { ...bare, ...surroundings(width, height, room, page, scale) };
}

/** Frame with a title block, legend, dimension line and labels. */
function surroundings(
  width: number,
  height: number,
  room: number,
  [across, up]: readonly [number, number],
  scale: number,
): Pick<Cluttered, 'beside' | 'texts'> {
  const solid = (...ends: Ends): PrintedLine => ({ ends, dash: 'solid' });
  const box = (a: number, b: number, c: number, d: number) => [
    solid(a, b, c, b),
    solid(c, b, c, d),
    solid(c, d, a, d),
    solid(a, d, a, b),
  ];
  const edge = 5 * scale;
  const [right, block] = [across - edge, 18 * scale];
  const below = room - 14 * scale;
  const arrow = 3 * scale;
  const legend = right - 50 * scale;
  const sample = (row: number, dash: PrintedLine['dash']): PrintedLine => {
    const y = up - room - row * 12 * scale;
    return { ends: [legend, y, legend + 22 * scale, y], dash };
  };
  const text = (x: number, y: number, words: string) => ({
    at: [x, y] as const,
    text: words,
    height: 4 * scale,
  });
  return {
    beside: [
      ...box(edge, edge, right, up - edge),
      solid(right - 45 * scale, edge, right - 45 * scale, edge + block),
      solid(right - 45 * scale, edge + block, right, edge + block),
      sample(0, 'solid'),
      sample(1, 'dashed'),
      sample(2, 'dash-dot-dot'),
      solid(room, below, room + width, below),
      solid(room, below, room + arrow, below + arrow / 3),
      solid(room, below, room + arrow, below - arrow / 3),
      solid(room + width, below, room + width - arrow, below + arrow / 3),
      solid(room + width, below, room + width - arrow, below - arrow / 3),
    ],
    texts: [
      text(legend + 25 * scale, up - room, 'raw edge'),
      text(legend + 25 * scale, up - room - 12 * scale, 'valley'),
      text(legend + 25 * scale, up - room - 24 * scale, 'mountain'),
      text(room + width / 2, below + 2 * scale, `${Math.round(width)}`),
      text(right - 42 * scale, edge + 6 * scale, 'Quay school, sheet 3'),
      text(room + width / 2, room + height + 4 * scale, 'Top'),
    ],
  };
}
