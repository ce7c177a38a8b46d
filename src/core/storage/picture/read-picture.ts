/**
 * A crease pattern read from a picture. What comes back is a reading, never exact: whoever shows it has to lay it over
 * the picture, with the marks of the report, before it is used.
 */
import { medianOf } from '../../numeric/quantile.ts';
import type { Point } from '../../numeric/vector.ts';
import type { DashStyle } from '../drawing/dash.ts';
import { type Drawing, DrawingBuilder } from '../drawing/drawing.ts';
import { coloursOf } from './colours.ts';
import { type CrossedLine, crossingsOf, withoutRepeats } from './crossings.ts';
import {
  blurOf,
  type DashPattern,
  learnedPatterns,
  scalesOfLearned,
  type Template,
  templateOf,
  usualPatterns,
} from './dashes.ts';
import { findLines } from './find-lines.ts';
import { after, apply, type Homography, unmoved } from './homography.ts';
import { type Ink, inkOf } from './ink.ts';
import type { FittedLine } from './line-fit.ts';
import { onOuterRim } from './outer-rim.ts';
import { inkShare, type Piece, piecesOf } from './profile.ts';
import { drawnAnew, madeSmaller, type Raster } from './raster.ts';
import { type Ridges, ridgesOf, seenWidth } from './ridges.ts';
import { offRectangle, RIGHT, sheetCorners, straightOn } from './sheet-corners.ts';
import { costOfSome, type PieceStyle, stylesAlong } from './styles.ts';
import { unexplainedInk } from './witness.ts';

interface PictureChoices {
  /**
   * The corners of the paper in the picture, pixels, y down, from the upper left one to the upper right and round; where
   * left out the picture is taken to be seen straight on.
   */
  readonly corners?: readonly Point[];
  /** Told from time to time how much is done, 0 to 1. */
  readonly progress?: (done: number) => void;
}

/** Why a line is to be looked at. */
type Doubt =
  /** two styles of dashes fit about as well */
  | 'kind'
  /** little ink under it, or ink that fits no style */
  | 'ink'
  /** not broken up, and inside a sheet whose creases are; or broken up, and on its rim */
  | 'place'
  /** an end that meets no other line */
  | 'loose-end'
  /** its ink does not lie straight */
  | 'bent';

interface ReadLine {
  /** In the picture, pixels, y down. */
  readonly from: Point;
  readonly to: Point;
  readonly dash: DashStyle;
  /** Share of the line that has ink, NaN where other lines hide all of it. */
  readonly ink: number;
  /** 0 to 1: of its style of dashes. */
  readonly certainty: number;
  readonly doubts: readonly Doubt[];
}

/** Ink that no line explains. In the picture, pixels. */
interface UnexplainedInk {
  readonly at: Point;
  readonly length: number;
}

export interface PictureReport {
  /** As many as the drawing has strokes, in their order. */
  readonly lines: readonly ReadLine[];
  readonly unexplained: readonly UnexplainedInk[];
  /** Standard deviation of the blur, pixels; null where no dash shows it. */
  readonly blur: number | null;
  /** Seen width of lines, and the shortest gap of a dash pattern (null without dashes), pixels. */
  readonly width: number;
  readonly gap: number | null;
  /** Length of the sheet's longer side, pixels. */
  readonly pixelsPerSheet: number;
  /** The corners of the sheet as given, or as found where its edge is a closed quadrilateral, in the picture. */
  readonly corners: readonly Point[] | null;
  /** Largest turn of a found corner from a right angle, radians: the picture may have been taken at a slant. */
  readonly slant: number;
  /** From the drawing to the picture. */
  readonly toPicture: Homography;
}

export type PictureRefusal =
  /** nothing that looks like a line */
  | { readonly how: 'no-lines' }
  /** the corners given are no quadrilateral */
  | { readonly how: 'corners' }
  /** gaps between dashes are too short against the blur, pixels */
  | { readonly how: 'blurred'; readonly gap: number; readonly blur: number }
  /** too few pixels: of the sheet's longer side, or of a gap between dashes */
  | { readonly how: 'coarse'; readonly of: 'sheet' | 'gap'; readonly pixels: number; readonly least: number }
  /** more lines than a crease pattern has: a photograph, or a page of text */
  | { readonly how: 'crowded'; readonly lines: number; readonly most: number };

export type PictureReading =
  | { readonly kind: 'read'; readonly drawing: Drawing; readonly report: PictureReport }
  | { readonly kind: 'refused'; readonly why: PictureRefusal };

/** Larger pictures are made smaller first. */
const MOST_PIXELS = 5_000_000;
/** Lines that are seen wider than this are made finer by making the picture smaller, pixels. */
const WIDEST = 5;
/** Dashes can be told from this many pixels a gap, and this many deviations of the blur. */
const LEAST_GAP = 2.6;
const GAP_OVER_BLUR = 3;
const LEAST_SHEET = 400;
/** Pieces with less ink are none; with less than the second they are doubtful. */
const NO_INK = 0.28;
const LITTLE_INK = 0.45;
/** Natural logarithms of likelihood between the best style and the next below which a piece is undecided. */
const DECIDED = 3;
/** Least misfit, of full ink, that is doubtful, and how many times the usual one of the picture. */
const MISFIT = 0.15;
const OVER_USUAL = 1.7;
const BENT = 0.6;
/** A gap of a dash pattern in seen widths of a line, dots left out: common practice, no source. */
const LONGEST_GAP = 14;
const MOST_PIECES = 6000;
/** A loose end shorter than this, in seen widths, is none. */
const STUB = 4;
/** Scales of the usual patterns that are tried, of what the width of the lines says. */
const SCALES = Array.from({ length: 34 }, (_, k) => 0.48 * 1.04 ** k);
/** Width at half height of a bell curve, in its deviations. */
const HALF_WIDTH = 2.355;

/** Thrown within a reading and caught at its end. */
class Unfit extends Error {
  constructor(readonly why: PictureRefusal) {
    super(why.how);
  }
}

/** Reads a picture. Never throws for what a picture may hold; takes about two seconds for 1200 pixels square. */
export function readPicture(raster: Raster, choices: PictureChoices = {}): PictureReading {
  try {
    return new PictureReader(raster, choices).read();
  } catch (error) {
    if (error instanceof Unfit) return { kind: 'refused', why: error.why };
    throw error;
  }
}

interface Seen {
  readonly raster: Raster;
  readonly ink: Ink;
  readonly ridges: Ridges;
  readonly width: number;
  readonly toPicture: Homography;
}

class PictureReader {
  private readonly progress: (done: number) => void;

  constructor(
    private readonly raster: Raster,
    private readonly choices: PictureChoices,
  ) {
    this.progress = choices.progress ?? (() => {});
  }

  read(): PictureReading {
    const seen = this.look();
    const { raster, ink, ridges, width } = seen;
    const diagonal = Math.hypot(raster.width, raster.height);
    const gap = Math.min(0.08 * diagonal, Math.max(12, LONGEST_GAP * width));
    const found = findLines(ridges, diagonal, {
      ...{ width, gap },
      progress: (share) => this.progress(0.3 + 0.4 * share),
    });
    if (found.length === 0) throw new Unfit({ how: 'no-lines' });
    this.progress(0.7);
    const lines = inkedLines(ink, withoutRepeats(found, width), gap, width);
    const { crossings, crossed } = crossingsOf(lines, gap, width);
    const { pieces: all } = piecesOf(ink, crossings, crossed, width);
    const inked = all.filter(({ profile }) => !(inkShare(profile) < NO_INK));
    const pieces = withoutStubs(inked, STUB * width + 4);
    if (pieces.length === 0) throw new Unfit({ how: 'no-lines' });
    if (pieces.length > MOST_PIECES)
      throw new Unfit({ how: 'crowded', lines: pieces.length, most: MOST_PIECES });
    this.progress(0.8);
    const { styles, blur, shortest } = this.styled(pieces, width);
    this.progress(0.95);
    return this.result(seen, pieces, styles, crossed, { blur, gap: shortest });
  }

  /** The picture as it is read: straight on, small enough, with lines that are not too wide. */
  private look(): Seen {
    let raster = this.raster;
    let toPicture = unmoved;
    const { corners } = this.choices;
    if (corners) {
      const straight = corners.length === 4 ? straightOn(corners) : null;
      if (!straight || straight.width * straight.height > 4 * raster.width * raster.height)
        throw new Unfit({ how: 'corners' });
      raster = drawnAnew(raster, straight.width, straight.height, straight.toPicture);
      toPicture = straight.toPicture;
    }
    const shrink = (factor: number) => {
      raster = madeSmaller(raster, factor);
      toPicture = after(toPicture, [factor, 0, 0, 0, factor, 0, 0, 0, 1]);
    };
    shrink(Math.ceil(Math.sqrt((raster.width * raster.height) / MOST_PIXELS)));
    for (let round = 0; ; round++) {
      const ink = inkOf(raster);
      this.progress(0.1);
      let sigma = 1.2;
      let ridges = ridgesOf(ink, sigma);
      const width = seenWidth(ink, ridges);
      if (ridges.count === 0) throw new Unfit({ how: 'no-lines' });
      if (width > WIDEST && round < 2) {
        shrink(Math.max(2, Math.round(width / 3)));
        continue;
      }
      const wanted = Math.min(2.2, Math.max(1, 0.45 * width));
      if (Math.abs(wanted - sigma) > 0.35) {
        sigma = wanted;
        ridges = ridgesOf(ink, sigma);
      }
      this.progress(0.3);
      return { raster, ink, ridges, width, toPicture };
    }
  }

  private styled(pieces: readonly Piece[], width: number) {
    const blur = blurOf(pieces);
    const learned = learnedPatterns(pieces);
    const soft = blur?.picture ?? 0.4;
    // from the seen width without the blur, for a drawing that shows no pattern by itself
    const thin = Math.sqrt(Math.max(0.5, width ** 2 - (HALF_WIDTH * soft) ** 2));
    const solid: DashPattern = { dash: 'solid', lengths: [], learned: false };
    const seen = blur?.profile ?? 0.5;
    const templatesOf = (patterns: readonly DashPattern[]) =>
      patterns.map((pattern) => templateOf(pattern, seen));
    const scales = [...SCALES.map((share) => (share * thin) / 0.35), ...scalesOfLearned(learned)];
    const costs = scales.map((scale) => costOfSome(pieces, templatesOf([solid, ...usualPatterns(scale)])));
    const scale = scales[costs.indexOf(Math.min(...costs))]!;
    const patterns = [solid, ...learned, ...usualPatterns(scale)];
    const templates = templatesOf(patterns);
    const styles = stylesOf(pieces, templates);
    const used = new Set(styles.map((style) => style?.dash));
    const gaps = patterns
      .filter(({ dash }) => used.has(dash))
      .flatMap(({ lengths }) => lengths.filter((_, k) => k % 2 === 1));
    const shortest = gaps.length > 0 ? Math.min(...gaps) : null;
    if (shortest !== null && shortest < GAP_OVER_BLUR * soft)
      throw new Unfit({ how: 'blurred', gap: shortest, blur: soft });
    if (shortest !== null && shortest < LEAST_GAP)
      throw new Unfit({ how: 'coarse', of: 'gap', pixels: shortest, least: LEAST_GAP });
    return { styles, blur: blur?.picture ?? null, shortest };
  }

  private result(
    { raster, ridges, width, toPicture }: Seen,
    pieces: readonly Piece[],
    styles: readonly (PieceStyle | undefined)[],
    crossed: readonly CrossedLine[],
    facts: { blur: number | null; gap: number | null },
  ): PictureReading {
    const colours = coloursOf(raster, pieces);
    const dashes = byColour(styles, colours);
    const solid = pieces.filter((_, k) => dashes[k]!.dash === 'solid');
    const found = sheetCorners(solid.length > 0 ? solid : pieces);
    const { toSheet, size } = placing(pieces, found);
    if (size < LEAST_SHEET) throw new Unfit({ how: 'coarse', of: 'sheet', pixels: size, least: LEAST_SHEET });
    const loose = looseEnds(pieces);
    const rim = onOuterRim(pieces);
    const misfits = dashes.map(({ misfit }) => misfit).filter((misfit) => !Number.isNaN(misfit));
    const misfitting = Math.max(MISFIT, OVER_USUAL * medianOf(misfits));
    const isDashed = dashes.some(({ dash }) => dash !== 'solid');
    const builder = new DrawingBuilder();
    const lines = pieces.map((piece, k): ReadLine => {
      const [a, b] = piece.ends.map((end) => apply(toSheet, end)) as [Point, Point];
      const { dash, margin, misfit } = dashes[k]!;
      const look = { colour: colours[k]!, dash, width: width / size, layer: '' };
      builder.add(...a, ...b, look, { how: 'stroke', index: k });
      const ink = inkShare(piece.profile);
      const { line } = crossed[piece.line]!;
      const doubts: Doubt[] = [];
      if (margin < DECIDED) doubts.push('kind');
      if (!(ink >= LITTLE_INK) || misfit > misfitting) doubts.push('ink');
      if (isDashed && (dash === 'solid') !== rim[k]) doubts.push('place');
      if (loose[k]) doubts.push('loose-end');
      if (Math.abs(line.bow) > BENT || line.rough > BENT) doubts.push('bent');
      const [from, to] = piece.ends.map((end) => apply(toPicture, end)) as [Point, Point];
      return { from, to, dash, ink, certainty: 1 - Math.exp(-margin), doubts };
    });
    const near = 1.2 * width + 1.5;
    const least = 0.45 * ridges.depth;
    const heaps = unexplainedInk(ridges.smooth, raster.width, raster.height, pieces, least, near);
    const zoom = Math.hypot(toPicture[0]!, toPicture[3]!) / toPicture[8]!;
    const unexplained = heaps
      .filter(({ length, pixels }) => length >= 3 && pixels >= 4)
      .map(({ at, length }) => ({ at: apply(toPicture, at), length: length * zoom }));
    this.progress(1);
    const report = {
      ...{ lines, unexplained, width: width * zoom, pixelsPerSheet: size * zoom },
      blur: facts.blur === null ? null : facts.blur * zoom,
      gap: facts.gap === null ? null : facts.gap * zoom,
      corners: this.choices.corners ?? found?.map((corner) => apply(toPicture, corner)) ?? null,
      slant: found ? offRectangle(found) : 0,
      toPicture: after(toPicture, inverse(toSheet)),
    };
    return { kind: 'read', drawing: builder.finish(null, []), report };
  }
}

/** Lines without the stretches between crossings on which there is no ink: such a line falls into several. */
function inkedLines(ink: Ink, lines: readonly FittedLine[], gap: number, width: number): FittedLine[] {
  const { crossings, crossed } = crossingsOf(lines, gap, width);
  const { pieces } = piecesOf(ink, crossings, crossed, width);
  const ofLine = lines.map((): Piece[] => []);
  for (const piece of pieces) ofLine[piece.line]!.push(piece);
  return lines.flatMap((line, number) => {
    const parts: { from: number; to: number }[] = [];
    let isOpen = false;
    for (const piece of ofLine[number]!) {
      if (inkShare(piece.profile) < NO_INK) {
        isOpen = false;
        continue;
      }
      const [from, to] = piece.ends.map(([x, y]) => -line.ny * x + line.nx * y) as [number, number];
      if (isOpen) parts.at(-1)!.to = to;
      else parts.push({ from, to });
      isOpen = true;
    }
    const whole = parts.length === 1 ? parts[0]! : null;
    if (whole) return [{ ...line, from: Math.max(line.from, whole.from), to: Math.min(line.to, whole.to) }];
    return parts.map(({ from, to }) => ({
      ...line,
      from: Math.max(from, line.from),
      to: Math.min(to, line.to),
    }));
  });
}

/** Without short ends that run on beyond a crossing, and without those of which nothing is seen apart from other lines. */
function withoutStubs(pieces: readonly Piece[], short: number): Piece[] {
  const loose = looseEnds(pieces);
  const kept = pieces.filter(
    ({ length, profile }, k) => !loose[k] || (length >= short && !Number.isNaN(inkShare(profile))),
  );
  return kept.length < pieces.length ? withoutStubs(kept, short) : kept;
}

function stylesOf(pieces: readonly Piece[], templates: readonly Template[]): (PieceStyle | undefined)[] {
  const ofLine = new Map<number, number[]>();
  pieces.forEach(({ line }, k) => ofLine.set(line, [...(ofLine.get(line) ?? []), k]));
  const styles: (PieceStyle | undefined)[] = pieces.map(() => undefined);
  for (const order of ofLine.values())
    for (const [piece, style] of stylesAlong(pieces, order, templates)) styles[piece] = style;
  return styles;
}

/** Pieces whose dashes leave the style open take that of all others in their colour, black apart. */
function byColour(styles: readonly (PieceStyle | undefined)[], colours: readonly string[]): PieceStyle[] {
  const known = new Map<string, Set<DashStyle>>();
  styles.forEach((style, k) => {
    if (!style || style.margin < 2 * DECIDED || colours[k] === '#000000') return;
    known.set(colours[k]!, (known.get(colours[k]!) ?? new Set()).add(style.dash));
  });
  return styles.map((style, k) => {
    const plain = style ?? { dash: 'solid' as const, margin: 0, misfit: Number.NaN };
    const said = known.get(colours[k]!);
    if (plain.margin >= DECIDED || said?.size !== 1) return plain;
    return { ...plain, dash: [...said][0]!, margin: DECIDED };
  });
}

/** From pixels to the sheet: longer side 1, y up, upright where the sheet is a rectangle that lies askew. */
function placing(
  pieces: readonly Piece[],
  corners: readonly Point[] | null,
): { toSheet: Homography; size: number } {
  let turn = 0;
  if (corners && offRectangle(corners) < RIGHT) {
    const turns = corners.map((a, k) => {
      const b = corners[(k + 1) % 4]!;
      const angle = Math.atan2(b[1] - a[1], b[0] - a[0]);
      return angle - (Math.round(angle / (Math.PI / 2)) * Math.PI) / 2;
    });
    turn = turns.reduce((sum, angle) => sum + angle / 4, 0);
  }
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const points = pieces.flatMap(({ ends }) =>
    ends.map(([x, y]): Point => [cos * x + sin * y, cos * y - sin * x]),
  );
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, low] = [least(xs), most(ys)];
  const size = Math.max(most(xs) - left, low - least(ys));
  const toSheet = [cos / size, sin / size, -left / size, sin / size, -cos / size, low / size, 0, 0, 1];
  return { toSheet, size };
}

const least = (values: readonly number[]) =>
  values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);

/** Of a map without perspective. */
function inverse([a, b, c, d, e, f]: Homography): Homography {
  const size = a! * e! - b! * d!;
  const [p, q, r, s] = [e! / size, -b! / size, -d! / size, a! / size];
  return [p, q, -(p * c! + q * f!), r, s, -(r * c! + s * f!), 0, 0, 1];
}

/** Has a piece an end on which no other piece ends? */
function looseEnds(pieces: readonly Piece[]): boolean[] {
  const uses = new Map<number, number>();
  for (const { from, to } of pieces) for (const end of [from, to]) uses.set(end, (uses.get(end) ?? 0) + 1);
  return pieces.map(({ from, to }) => uses.get(from)! < 2 || uses.get(to)! < 2);
}
