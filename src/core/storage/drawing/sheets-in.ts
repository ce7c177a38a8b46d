/**
 * Which strokes of a drawing belong to the sheet. Page frames, backgrounds, legends, labels and dimension lines stand round
 * or beside most patterns; they are told by what they lack: no crease ends on them. Common practice, no source.
 */
import { distanceToStretch, isWithin } from '../../numeric/plane.ts';
import { SNAP } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';
import { arrange } from '../../sheet/arrange.ts';
import { facesOf } from '../../sheet/rings.ts';
import type { Drawing, DrawnCurve } from './drawing.ts';
import { type Piece, piecesOf } from './pieces.ts';

/** From the lowest to the highest, across and up. */
type Box = readonly [across: readonly [number, number], up: readonly [number, number]];

/** A region of a drawing that may be the sheet, in the drawing's own unit. */
export interface SheetRegion {
  /** Its outline, as it is walked round, and the box round that. */
  readonly outline: readonly Point[];
  readonly box: Box;
  /** Strokes of the drawing that belong to it. */
  readonly strokes: readonly number[];
  /** How many lines within it look like creases. */
  readonly creases: number;
}

/** What stands round and beside the sheet. */
interface SetAside {
  readonly strokes: Drawing['strokes'];
  /** How many of them run round the sheet, and how many stand elsewhere. */
  readonly round: number;
  readonly beside: number;
}

/** A region smaller than this share of the largest one is a sample of a legend, or a label. */
const LEAST_SHARE = 0.05;
/** More crossings than this are left to the builder of the sheet, which says so. */
const MOST_CROSSINGS = 300_000;

/**
 * The sheets of a drawing, from the left to the right and from the top down; none where no outline holds a crease, so that
 * all strokes have to be taken as they are.
 */
export function sheetsIn(drawing: Drawing): SheetRegion[] {
  const pieces = piecesOfDrawing(drawing);
  const outlines = pieces.filter(({ isOutline }) => isOutline).sort((a, b) => a.area - b.area);
  if (outlines.length === 0) return [];
  const home = new Map(pieces.map((piece) => [piece, outlines.find((one) => holds(one, piece))]));
  const sheets = sheetsAmong(outlines, pieces, home);
  const dots = dotsOf(pieces, drawing);
  const largest = Math.max(0, ...sheets.map(({ area }) => area));
  return sheets
    .filter(({ area }) => area >= LEAST_SHARE * largest)
    .map((sheet) => regionOf(sheet, pieces, home, dots))
    .sort((a, b) => a.box[0][0] - b.box[0][0] || b.box[1][1] - a.box[1][1]);
}

/** @param region the one that is taken */
export function setAside(drawing: Drawing, { strokes, box }: SheetRegion): SetAside {
  const kept = new Set(strokes);
  const others = drawing.strokes.filter((_, k) => !kept.has(k));
  const all = boxOf(others.flatMap(endsOf));
  const isFramed = box.every(([low, high], axis) => all[axis]![0] < low && all[axis]![1] > high);
  const runsPast = (stroke: Stroke) =>
    boxOf(endsOf(stroke)).some(([low, high], axis) => low <= box[axis]![0] && high >= box[axis]![1]);
  const round = isFramed ? others.filter(runsPast).length : 0;
  return { strokes: others, round, beside: others.length - round };
}

/** The curves that lie on the sheet, or touch its outline, in part at least; one that is not followed may do so. */
export function curvesOn({ outline, box }: SheetRegion, curves: readonly DrawnCurve[]): DrawnCurve[] {
  const near = SNAP * (box[0][1] - box[0][0]);
  const touches = (at: Point) =>
    isIn(box, at, near) &&
    (isWithin(outline, at) ||
      outline.some((from, k) => distanceToStretch(from, outline[(k + 1) % outline.length]!, at) <= near));
  return curves.filter(({ points }) => points.length === 0 || points.some(touches));
}

type Home = ReadonlyMap<Piece, Piece | undefined>;

/** The outlines that hold creases, without frames round others and without what lies within another. */
function sheetsAmong(outlines: readonly Piece[], pieces: readonly Piece[], home: Home): Piece[] {
  const loose = new Map<Piece, number>();
  for (const piece of pieces) {
    const at = home.get(piece);
    if (at && !piece.isOutline) loose.set(at, (loose.get(at) ?? 0) + piece.creases);
  }
  let sheets: Piece[] = [];
  // the smaller first, so that what lies within is known
  for (const outline of outlines) {
    const within = sheets.filter((one) => isWithinOutline(one, outline, home));
    const theirs = within.reduce((sum, one) => sum + one.creases + (loose.get(one) ?? 0), 0);
    const isSheet =
      within.length === 0 ? outline.creases + (loose.get(outline) ?? 0) > 0 : outline.creases > theirs;
    if (isSheet) sheets = [...sheets.filter((one) => !within.includes(one)), outline];
  }
  return sheets;
}

/** Does one outline lie within another, however deep? */
function isWithinOutline(piece: Piece, outline: Piece, home: Home): boolean {
  for (let at = home.get(piece); at; at = home.get(at)) if (at === outline) return true;
  return false;
}

function regionOf(sheet: Piece, pieces: readonly Piece[], home: Home, dots: readonly Dot[]): SheetRegion {
  const own = pieces.filter((piece) => piece === sheet || isWithinOutline(piece, sheet, home));
  const box = boxOf(sheet.outline);
  const within = dots.filter(({ at }) => isIn(box, at)).map(({ stroke }) => stroke);
  return {
    ...{ outline: sheet.outline, box },
    strokes: [...new Set([...own.flatMap(({ strokes }) => strokes), ...within])].sort((a, b) => a - b),
    creases: own.reduce((sum, { creases }) => sum + creases, 0),
  };
}

interface Dot {
  readonly stroke: number;
  readonly at: Point;
}

/** Strokes too short to be drawn hang together with nothing: they belong where they lie, for the builder to tell of. */
function dotsOf(pieces: readonly Piece[], { strokes }: Drawing): Dot[] {
  const drawn = new Set(pieces.flatMap((piece) => piece.strokes));
  return strokes.flatMap(({ x1, y1 }, stroke) =>
    drawn.has(stroke) ? [] : [{ stroke, at: [x1, y1] as const }],
  );
}

function piecesOfDrawing(drawing: Drawing): Piece[] {
  const { strokes, groups, groupOf } = drawing;
  const [[left, right], [low, high]] = boxOf(strokes.flatMap(endsOf));
  const scale = Math.max(right - left, high - low);
  if (!(scale > 0)) return [];
  const read = (value: (stroke: (typeof strokes)[number]) => number, start: number) =>
    Float64Array.from(strokes, (stroke) => (value(stroke) - start) / scale);
  const arrangement = arrange(
    {
      x1: read(({ x1 }) => x1, left),
      y1: read(({ y1 }) => y1, low),
      x2: read(({ x2 }) => x2, left),
      y2: read(({ y2 }) => y2, low),
      kind: new Uint8Array(strokes.length),
      angle: new Float64Array(strokes.length).fill(Number.NaN),
    },
    SNAP,
    MOST_CROSSINGS,
  );
  if (!arrangement.complete) return [];
  const looks = groups.map(({ named, dash }) => ({ named: named?.kind, isBroken: dash !== 'solid' }));
  const back = ([x, y]: Point): Point => [left + scale * x, low + scale * y];
  return piecesOf(arrangement, facesOf(arrangement), (stroke) => looks[groupOf[stroke]!]!).map((piece) => ({
    ...piece,
    outline: piece.outline.map(back),
  }));
}

type Stroke = Drawing['strokes'][number];

const endsOf = ({ x1, y1, x2, y2 }: Stroke): Point[] => [
  [x1, y1],
  [x2, y2],
];

/** Is another piece inside an outline? Pieces touch nowhere, so that one corner tells. */
const holds = (outline: Piece, { outline: other, area }: Piece): boolean =>
  area < outline.area && other !== outline.outline && isWithin(outline.outline, other[0]!);

function boxOf(points: readonly Point[]): Box {
  const along = (axis: 0 | 1) =>
    points.reduce(
      ([low, high], point) => [Math.min(low, point[axis]), Math.max(high, point[axis])] as const,
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as readonly [number, number],
    );
  return [along(0), along(1)];
}

const isIn = (box: Box, at: Point, near = 0): boolean =>
  box.every(([low, high], axis) => at[axis]! >= low - near && at[axis]! <= high + near);
