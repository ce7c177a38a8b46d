/**
 * Lines that are drawn as filled shapes: browsers print each dash of a line as a narrow rectangle, and some programs whole
 * lines. Middle lines give the lines back. What is told here was found by printing drawings; no source.
 */
import type { FilePlace } from '../../finding/values/place.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import type { Region } from '../drawing/clip.ts';
import { pointsOf, type Run } from '../drawing/runs.ts';
import type { SeenLines } from '../drawing/seen-lines.ts';
import type { Matrix } from '../matrix.ts';
import { drawnOn } from './drawn-on.ts';
import { joinedDashes, type Middle, type Piece } from './joined-dashes.ts';

type Shape = Middle & Pick<Piece, 'across'>;

interface Filled {
  readonly matrix: Matrix;
  readonly colour: string;
  readonly regions: readonly Region[];
  readonly place: FilePlace;
}

/** Wider than this, mm, is an area and no line. */
const WIDEST = 2.5;
/** How far a corner of a narrow rectangle may be off, in its width. */
const SQUARE = 0.05;

export class FilledPieces {
  private readonly pieces: Piece[] = [];
  private readonly filled: Filled[] = [];

  /** Ends of the lines that are drawn as such. */
  private readonly others: (readonly [Point, Point])[] = [];

  constructor(private readonly lines: SeenLines) {}

  /** Hears of lines that are drawn as such: where they lie, printed dashes may end. */
  see(points: readonly Point[], isClosed: boolean): void {
    for (let i = 1; i < points.length; i++) this.others.push([points[i - 1]!, points[i]!]);
    if (isClosed && points.length > 1) this.others.push([points.at(-1)!, points[0]!]);
  }

  /** Keeps the pieces of a filled shape. @returns whether all of it is such pieces */
  add(runs: readonly Run[], filled: Filled): boolean {
    const pieces = runs.map((run) => pieceOf(pointsOf(run, filled.matrix, filled.place), run));
    if (pieces.length === 0 || pieces.includes(null)) return false;
    const shape = this.filled.push(filled) - 1;
    for (const piece of pieces) this.pieces.push({ ...piece!, shape, colour: filled.colour });
    return true;
  }

  /** Draws the lines that the pieces make. */
  finish(): void {
    for (const { from, to, dash, width, shape } of drawnOn(joinedDashes(this.pieces), this.others)) {
      const { colour, regions, place } = this.filled[shape]!;
      const look = { colour, dash, width, layer: '' };
      this.lines.addChain([from, to], false, { look, place, regions });
    }
  }
}

/** The middle line of a narrow rectangle, or of a dot; null for any other shape. */
function pieceOf(points: readonly Point[], run: Run): Shape | null {
  if (run.curve) return dotOf(points);
  const corners = withoutRepeats(points);
  if (corners.length !== 4) return null;
  const [a, b, c, d] = corners as [Point, Point, Point, Point];
  const [one, other] = [distance(a, b), distance(b, c)];
  const width = Math.min(one, other);
  if (!(width > 0 && width <= WIDEST)) return null;
  const isParallel = distance(middle(a, c), middle(b, d)) <= SQUARE * width;
  const lean = Math.abs((b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]));
  if (!isParallel || lean > SQUARE * one * other) return null;
  const ways: [Middle, Middle] = [
    { from: middle(a, d), to: middle(b, c), width: other },
    { from: middle(a, b), to: middle(d, c), width: one },
  ];
  const [along, across] = one >= other ? ways : ways.reverse();
  return { ...along!, across: across! };
}

/** A round dot has no direction of its own. */
function dotOf(points: readonly Point[]): Shape | null {
  const spread = (axis: 0 | 1) => {
    const values = points.map((point) => point[axis]);
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const [across, up] = [spread(0), spread(1)];
  const [width, height] = [across[1] - across[0], up[1] - up[0]];
  if (!(width > 0 && width <= WIDEST) || Math.abs(width - height) > SQUARE * width) return null;
  const at: Point = [(across[0] + across[1]) / 2, (up[0] + up[1]) / 2];
  const dot = { from: at, to: at, width };
  return { ...dot, across: dot };
}

function withoutRepeats(points: readonly Point[]): Point[] {
  const kept = points.filter((point, k) => k === 0 || distance(point, points[k - 1]!) > 0);
  return kept.length > 1 && distance(kept[0]!, kept.at(-1)!) === 0 ? kept.slice(0, -1) : kept;
}

const middle = ([ax, ay]: Point, [bx, by]: Point): Point => [(ax + bx) / 2, (ay + by) / 2];
