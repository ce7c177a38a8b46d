/** Models drawn as a teacher would for printing: black lines in the trade's dashes, in mm, without any names. */
import { seededRandom } from '../../src/core/numeric/random.ts';
import {
  cuffedTray,
  flare,
  hingedCase,
  type Model,
  pick,
  squareTwist,
  twistSides,
  wallet,
} from './models.ts';

export interface PrintedLine {
  readonly ends: readonly [number, number, number, number];
  readonly dash: 'solid' | 'dashed' | 'dash-dot-dot';
}

/** Lengths drawn and left out, mm: common practice, no source. */
const dashes = { solid: '', dashed: '3 1.5', 'dash-dot-dot': '5 1.2 0.6 1.2 0.6 1.2' } as const;
/** Of the sheet's longer side. */
const SIZE = 210;
const WIDTH = 0.35;
const MARGIN = 20;

const makers: readonly ((random: () => number) => Model)[] = [
  cuffedTray,
  hingedCase,
  flare,
  wallet,
  (random) => squareTwist(random, pick(random, twistSides)),
];

/** The lines of a random model, mm from the lower left corner of a page with a margin round it. */
export function printedLines(seed: number): { lines: PrintedLine[]; page: number } {
  const random = seededRandom(seed);
  const { outline, creases } = makers[seed % makers.length]!(random);
  const least = [0, 1].map((axis) => Math.min(...outline.map((corner) => corner[axis]!)));
  const most = [0, 1].map((axis) => Math.max(...outline.map((corner) => corner[axis]!)));
  const scale = SIZE / Math.max(most[0]! - least[0]!, most[1]! - least[1]!);
  const place = ([x, y]: readonly [number, number]) =>
    [MARGIN + scale * (x - least[0]!), MARGIN + scale * (y - least[1]!)] as const;
  const rim = outline.map((from, k): PrintedLine => {
    const to = outline[(k + 1) % outline.length]!;
    return { ends: [...place(from), ...place(to)], dash: 'solid' };
  });
  const folds = creases.map(({ from, to, steps }): PrintedLine => {
    return { ends: [...place(from), ...place(to)], dash: steps.at(-1)! > 0 ? 'dashed' : 'dash-dot-dot' };
  });
  return { lines: [...rim, ...folds], page: SIZE + 2 * MARGIN };
}

export function printedSvg(seed: number): string {
  const { lines, page } = printedLines(seed);
  const drawn = lines.map(({ ends: [x1, y1, x2, y2], dash }) => {
    const pattern = dashes[dash] && ` stroke-dasharray="${dashes[dash]}"`;
    return `<line x1="${x1}" y1="${page - y1}" x2="${x2}" y2="${page - y2}"${pattern}/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${page}mm" height="${page}mm" viewBox="0 0 ${page} ${page}">
<g stroke="#000" stroke-width="${WIDTH}" fill="none">
${drawn.join('\n')}
</g></svg>
`;
}
