/**
 * Which strokes of a drawing belong to the sheet. Page frames, backgrounds, legends, labels and dimension lines stand round
 * or beside most patterns; they are told by what they lack: no crease ends on them. Common practice, no source.
 */
import { SNAP } from '../numeric/tolerance.ts';
import { between, distance, flatDot, flatMinus, type Point } from '../numeric/vector.ts';
import { arrange } from '../sheet/arrange.ts';
import { facesOf } from '../sheet/rings.ts';
import type { Drawing, DrawnCurve } from './drawing.ts';
import { type Piece, piecesOf } from './drawing-pieces.ts';

/** A region of a drawing that may be the sheet, in the drawing's own unit. */
export interface SheetRegion {
  /** Its outline, as it is walked round. */
  readonly outline: readonly Point[];
  /** Strokes of the drawing that belong to it. */
  readonly strokes: readonly number[];
  /** How many lines within it look like creases. */
  readonly creases: number;
}

/** What stands round and beside the sheet. */
interface SetAside {
  /** Strokes that run round the sheet, and strokes elsewhere. */
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
  const largest = Math.max(0, ...sheets.map(({ area }) => area));
  return sheets
    .filter(({ area }) => area >= LEAST_SHARE * largest)
    .map((sheet) => withDots(regionOf(sheet, pieces, home), pieces, drawing))
    .sort((a, b) => leftOf(a) - leftOf(b) || topOf(b) - topOf(a));
}

/** @param region the one that is taken */
export function setAside(drawing: Drawing, region: SheetRegion): SetAside {
  const kept = new Set(region.strokes);
  const others = drawing.strokes.filter((_, k) => !kept.has(k));
  const box = [extent(region.outline, 0), extent(region.outline, 1)];
  const ends = others.flatMap(endsOf);
  const isFramed = ([0, 1] as const).every((axis) => {
    const [low, high] = extent(ends, axis);
    return low < box[axis]![0] && high > box[axis]![1];
  });
  const round = others.filter((stroke) => {
    const spans = ([0, 1] as const).map((axis) => extent(endsOf(stroke), axis));
    return isFramed && spans.some(([low, high], axis) => low <= box[axis]![0] && high >= box[axis]![1]);
  });
  return { round: round.length, beside: others.length - round.length };
}

/** The curves that lie on the sheet, or touch its outline, in part at least; one that is not followed may do so. */
export function curvesOn(region: SheetRegion, curves: readonly DrawnCurve[]): DrawnCurve[] {
  const { outline } = region;
  const [left, right] = extent(outline, 0);
  const near = SNAP * (right - left);
  const touches = (at: Point) =>
    isInside(at, outline) ||
    outline.some(
      (to, k) => distanceToStretch(at, outline[(k + outline.length - 1) % outline.length]!, to) <= near,
    );
  return curves.filter(({ points }) => points.length === 0 || points.some(touches));
}

function distanceToStretch(p: Point, from: Point, to: Point): number {
  const along = flatMinus(to, from);
  const share = flatDot(flatMinus(p, from), along) / (flatDot(along, along) || 1);
  return distance(p, between(from, to, Math.min(1, Math.max(0, share))));
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
    const within = sheets.filter((one) => isWithin(one, outline, home));
    const theirs = within.reduce((sum, one) => sum + one.creases + (loose.get(one) ?? 0), 0);
    const isSheet =
      within.length === 0 ? outline.creases + (loose.get(outline) ?? 0) > 0 : outline.creases > theirs;
    if (isSheet) sheets = [...sheets.filter((one) => !within.includes(one)), outline];
  }
  return sheets;
}

/** Does one outline lie within another, however deep? */
function isWithin(piece: Piece, outline: Piece, home: Home): boolean {
  for (let at = home.get(piece); at; at = home.get(at)) if (at === outline) return true;
  return false;
}

function regionOf(sheet: Piece, pieces: readonly Piece[], home: Home): SheetRegion {
  const own = pieces.filter((piece) => piece === sheet || isWithin(piece, sheet, home));
  return {
    outline: sheet.outline,
    strokes: [...new Set(own.flatMap(({ strokes }) => strokes))].sort((a, b) => a - b),
    creases: own.reduce((sum, { creases }) => sum + creases, 0),
  };
}

/** Strokes too short to be drawn hang together with nothing: they belong where they lie, for the builder to tell of. */
function withDots(region: SheetRegion, pieces: readonly Piece[], { strokes }: Drawing): SheetRegion {
  const drawn = new Set(pieces.flatMap((piece) => piece.strokes));
  const box = ([0, 1] as const).map((axis) => extent(region.outline, axis));
  const dots = [...strokes.keys()].filter(
    (k) =>
      !drawn.has(k) &&
      [strokes[k]!.x1, strokes[k]!.y1].every((at, axis) => at >= box[axis]![0] && at <= box[axis]![1]),
  );
  return dots.length === 0
    ? region
    : { ...region, strokes: [...region.strokes, ...dots].sort((a, b) => a - b) };
}

function piecesOfDrawing(drawing: Drawing): Piece[] {
  const { strokes, groups, groupOf } = drawing;
  const [left, right] = extent(strokes.flatMap(endsOf), 0);
  const [low, high] = extent(strokes.flatMap(endsOf), 1);
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

const endsOf = ({ x1, y1, x2, y2 }: Drawing['strokes'][number]): Point[] => [
  [x1, y1],
  [x2, y2],
];

/** Is another piece inside an outline? Pieces touch nowhere, so that one corner tells. */
function holds(outline: Piece, { outline: other, area }: Piece): boolean {
  return area < outline.area && other !== outline.outline && isInside(other[0]!, outline.outline);
}

function isInside([x, y]: Point, ring: readonly Point[]): boolean {
  let inside = false;
  ring.forEach(([bx, by], k) => {
    const [ax, ay] = ring[(k + ring.length - 1) % ring.length]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  });
  return inside;
}

function extent(points: readonly Point[], axis: 0 | 1): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const point of points) {
    low = Math.min(low, point[axis]);
    high = Math.max(high, point[axis]);
  }
  return [low, high];
}

const leftOf = ({ outline }: SheetRegion) => extent(outline, 0)[0];
const topOf = ({ outline }: SheetRegion) => extent(outline, 1)[1];
