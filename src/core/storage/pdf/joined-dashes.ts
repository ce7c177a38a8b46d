/**
 * Dashes that were printed one by one, joined to the lines that they were. How a line is broken up is told by its own
 * dashes where there are enough of them, else by those of longer lines of the same colour and width.
 */
import { medianOf } from '../../numeric/quantile.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import { type DashStyle, dashStyleOf } from '../drawing/dash.ts';

/** The middle line of a dash. */
export interface Middle {
  readonly from: Point;
  readonly to: Point;
  readonly width: number;
}

/** A dash, or a dot whose ends are one. */
export interface Piece extends Middle {
  /** Its middle line the other way: of a dash that is cut off so short that it is wider than long. */
  readonly across: Middle;
  /** The filled shape that it is a part of, and its colour. */
  readonly shape: number;
  readonly colour: string;
}

export interface JoinedLine extends Middle {
  readonly shape: number;
  readonly dash: DashStyle;
  /** The longest gap between its dashes: as much may be missing at its ends. */
  readonly reach: number;
}

/** How far a dash may lie beside the line of those before it, in its width. */
const BESIDE = 0.2;
/** A gap this many times as long as the longest before it parts two lines. */
const LONGER = 1.6;
/** Before a second gap is known: as long as the longest dash, or so many widths. */
const FIRST_GAP = 8;
/** A dash this many times as long as another one is a long dash. */
const LONG = 1.8;
/** How far the widths of dashes of one line may differ, in their width. */
const SAME_WIDTH = 0.05;
/** Dashes that tell a style by themselves. */
const ENOUGH = 4;
/** How far lengths of the same dash may differ, in their width. */
const ALIKE = 0.25;

/** @param pieces in the order in which they are drawn */
export function joinedDashes(pieces: readonly Piece[]): JoinedLine[] {
  const runs = runsOf(pieces);
  const styles = stylesOf(runs);
  return runs.map((run): JoinedLine => {
    const gaps = gapsOf(run);
    const style = ownStyle(run) ?? likelyStyle(run, styles.get(lookOf(run[0]!)) ?? []);
    const ends = { from: run[0]!.from, to: run.at(-1)!.to };
    const { width, shape } = run[0]!;
    const reach = Math.max(0, ...gaps, style?.gap ?? 0);
    return { ...ends, width, shape, dash: style?.dash ?? (run.length > 1 ? 'dashed' : 'solid'), reach };
  });
}

type Run = Piece[];

/** Pieces that follow one another on a line; those of a later shape only where each shape is one piece. */
function runsOf(pieces: readonly Piece[]): Run[] {
  const runs: Run[] = [];
  const sizes = new Map<number, number>();
  for (const { shape } of pieces) sizes.set(shape, (sizes.get(shape) ?? 0) + 1);
  for (const piece of pieces) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const mayFollow =
      last && (last.shape === piece.shape || (sizes.get(last.shape) === 1 && sizes.get(piece.shape) === 1));
    const ways = mayFollow ? [piece, { ...piece, ...piece.across }].filter((one) => isAlike(last, one)) : [];
    const next = ways.map((way) => following(run!, way)).find((one) => one !== null);
    if (next) run!.push(next);
    else runs.push([piece]);
  }
  return runs;
}

/** The piece turned the way of the run, where it goes on with it; null where it does not. */
function following(run: Run, piece: Piece): Piece | null {
  const start = run[0]!.from;
  const last = run.at(-1)!;
  const middle: Point = [(piece.from[0] + piece.to[0]) / 2, (piece.from[1] + piece.to[1]) / 2];
  const reach = distance(start, middle);
  if (reach === 0) return null;
  const [dx, dy] = [(middle[0] - start[0]) / reach, (middle[1] - start[1]) / reach];
  const along = ([x, y]: Point) => (x - start[0]) * dx + (y - start[1]) * dy;
  const beside = ([x, y]: Point) => Math.abs((x - start[0]) * dy - (y - start[1]) * dx);
  const turned = along(piece.from) <= along(piece.to) ? piece : { ...piece, from: piece.to, to: piece.from };
  const isOnLine = [...run.flatMap(({ from, to }) => [from, to]), piece.from, piece.to].every(
    (point) => beside(point) <= BESIDE * piece.width,
  );
  const gap = along(turned.from) - along(last.to);
  if (!isOnLine || along(last.to) < along(last.from) || gap < -BESIDE * piece.width) return null;
  const gaps = gapsOf(run);
  const longest = Math.max(...run.map(({ from, to }) => distance(from, to)));
  const most = gaps.length > 0 ? LONGER * Math.max(...gaps) : Math.max(longest, FIRST_GAP * piece.width);
  return gap <= most + BESIDE * piece.width ? turned : null;
}

const gapsOf = (run: Run) => run.slice(1).map((piece, k) => distance(run[k]!.to, piece.from));

const isAlike = (one: Piece, other: Piece) =>
  one.colour === other.colour && Math.abs(one.width - other.width) <= SAME_WIDTH * one.width;

const lookOf = ({ colour, width }: Piece) => `${colour} ${width.toPrecision(2)}`;

interface Style {
  readonly dash: DashStyle;
  /** Lengths of its dashes in their order from the start of a line, and of its gaps. */
  readonly lengths: readonly number[];
  readonly gap: number;
}

/** The styles of the lines that tell one by themselves, by their colour and width. */
function stylesOf(runs: readonly Run[]): Map<string, Style[]> {
  const styles = new Map<string, Style[]>();
  for (const run of runs) {
    const style = ownStyle(run);
    if (!style) continue;
    const known = styles.get(lookOf(run[0]!)) ?? [];
    if (!known.some(({ dash }) => dash === style.dash)) styles.set(lookOf(run[0]!), [...known, style]);
  }
  return styles;
}

/** The style that the dashes between the first and the last tell; null where there are too few. */
function ownStyle(run: Run): Style | null {
  if (run.length < ENOUGH) return null;
  const { width } = run[0]!;
  const all = run.map(({ from, to }) => distance(from, to));
  // the last dash may be cut off, and the first where the pattern is moved
  const lengths = all.slice(1, -1);
  const gap = medianOf(gapsOf(run));
  const longest = Math.max(...lengths, all[0]!);
  const isLong = (length: number) => length * LONG > longest;
  const isMixed = lengths.some((length) => !isLong(length));
  if (!isMixed) return { dash: dashStyleOf([medianOf(lengths), gap], width), lengths: all.slice(0, -1), gap };
  const firstLong = lengths.findIndex(isLong);
  const between = firstLong < 0 ? -1 : lengths.slice(firstLong + 1).findIndex(isLong);
  const shorts = between >= 0 ? between : lengths.filter((length) => !isLong(length)).length;
  const short = medianOf(lengths.filter((length) => !isLong(length)));
  const pattern = [longest, gap, ...Array.from({ length: shorts }, () => [short, gap]).flat()];
  return { dash: dashStyleOf(pattern, width), lengths: all.slice(0, -1), gap };
}

/** Of a line of few dashes: the one style of its look that begins as it does. */
function likelyStyle(run: Run, styles: readonly Style[]): Style | null {
  const near = ALIKE * run[0]!.width;
  const own = run.map(({ from, to }) => distance(from, to));
  const begins = ({ lengths, gap }: Style) =>
    own.every((length, k) => {
      const wanted = lengths[k];
      if (wanted === undefined) return false;
      return Math.abs(length - wanted) <= near || (k === own.length - 1 && length < wanted);
    }) && gapsOf(run).every((one) => Math.abs(one - gap) <= near);
  const fitting = styles.filter(begins);
  return fitting.length === 1 ? fitting[0]! : null;
}
