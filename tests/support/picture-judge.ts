/** A reading laid beside the pattern that was drawn: crease by crease, and the sheet after true-up. */

import { distance, type Point } from '../../src/core/numeric/vector.ts';
import { apply } from '../../src/core/picture/homography.ts';
import type { PictureReading } from '../../src/core/picture/read-picture.ts';
import { RIGHT } from '../../src/core/picture/sheet-corners.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import { type LineKind, lineKinds } from '../../src/core/sheet/kind.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { trueUp } from '../../src/core/sheet/true-up.ts';
import type { StrokeGroup } from '../../src/core/storage/drawing/drawing.ts';
import type { DrawnPicture } from './picture-drawn.ts';
import type { DrawnPattern } from './picture-patterns.ts';
import { distanceTo } from './simple-folds.ts';

export interface Judged {
  readonly creases: number;
  /** With both ends within a pixel. */
  readonly found: number;
  readonly read: number;
  /** Read creases that are none. */
  readonly invented: number;
  readonly wrongKind: number;
  /** Wrong kinds that the report does not mark. */
  readonly wrongKindUnmarked: number;
  /** After true-up vertices, faces and kinds are those of the pattern. */
  readonly right: boolean;
  /** Something is marked: unexplained ink or a doubtful line. */
  readonly marked: boolean;
  /** Creases that are missed or read wrong, and no mark within `near` pixels. */
  readonly silent: number;
  readonly worst: number;
}

/** How far from a wrong crease a mark may lie, pixels. */
const NEAR = 12;

/** As the teacher says of the lines: by dashes, or by colour where none is broken up. */
function kindOf({ dash, colour }: StrokeGroup): LineKind {
  if (dash === 'dashed') return 'valley';
  if (dash !== 'solid') return 'mountain';
  if (colour === '#000000') return 'edge';
  return Number.parseInt(colour.slice(1, 3), 16) > Number.parseInt(colour.slice(5, 7), 16)
    ? 'mountain'
    : 'valley';
}

export function judge(
  { sheet }: DrawnPattern,
  { place }: DrawnPicture,
  { drawing, report }: Extract<PictureReading, { kind: 'read' }>,
): Judged {
  const segments = drawing.strokes.map(
    (stroke, k): Segment => ({
      ...{ x1: stroke.x1, y1: stroke.y1, x2: stroke.x2, y2: stroke.y2 },
      kind: kindOf(drawing.groups[drawing.groupOf[k]!]!),
    }),
  );
  const built = buildSheet(segments);
  const toPixels = (p: Point) => apply(report.toPicture, p);
  const onPicture = (p: Point) => place(onFrame(sheet, p));
  const truth = creasesOf(sheet, onPicture);
  const read = built.sheet ? creasesOf(built.sheet, (p) => toPixels(onFrame(built.sheet!, p))) : [];
  const marks = report.lines.filter(({ doubts }) => doubts.length > 0);
  const isMarked = ({ a, b }: Crease) => {
    const isNear = (p: Point, off: number) => distanceTo(a, b, p) < NEAR + off;
    return (
      // the whole is: it can be no sheet, or it is seen at a slant
      built.sheet === null ||
      report.slant > RIGHT ||
      marks.some(
        ({ from, to }) =>
          isNear(from, 0) || isNear(to, 0) || [a, b].some((p) => distanceTo(from, to, p) < NEAR),
      ) ||
      report.unexplained.some(({ at, length }) => isNear(at, length / 2))
    );
  };
  const matched = truth.map((crease) => read.find((other) => apart(crease, other) <= 1));
  const missed = truth.filter((_, k) => !matched[k]);
  const invented = read.filter((crease) => !truth.some((other) => apart(crease, other) <= 3));
  const wrong = truth.filter((crease, k) => matched[k] && matched[k].kind !== crease.kind);
  const isSilent = (crease: Crease) => !isMarked(crease);
  return {
    creases: truth.length,
    found: truth.length - missed.length,
    read: read.length,
    invented: invented.length,
    wrongKind: wrong.length,
    wrongKindUnmarked: wrong.filter((crease) => !isMarked(crease)).length,
    right: built.sheet !== null && isRight(sheet, built.sheet, onPicture, toPixels),
    marked: built.sheet === null || report.slant > RIGHT || marks.length > 0 || report.unexplained.length > 0,
    silent: [
      ...missed.filter((one) => !read.some((other) => apart(one, other) <= 3 && one.kind === other.kind)),
      ...invented,
      ...wrong,
    ].filter(isSilent).length,
    worst: Math.max(0, ...truth.map((one) => Math.min(...read.map((other) => apart(one, other))))),
  };
}

interface Crease {
  readonly a: Point;
  readonly b: Point;
  readonly kind: string;
}

function creasesOf(sheet: Sheet, place: (p: Point) => Point): Crease[] {
  return Array.from(sheet.creaseFrom, (from, e) => {
    const [a, b] = [from, sheet.creaseTo[e]!].map((v) => place([sheet.vertexX[v]!, sheet.vertexY[v]!]));
    return { a: a!, b: b!, kind: lineKinds[sheet.creaseKind[e]!]! };
  });
}

const onFrame = ({ frame }: Sheet, [x, y]: Point): Point => [
  frame.x + frame.scale * x,
  frame.y + frame.scale * y,
];

const apart = (one: Crease, other: Crease): number =>
  Math.min(
    Math.max(distance(one.a, other.a), distance(one.b, other.b)),
    Math.max(distance(one.a, other.b), distance(one.b, other.a)),
  );

/** Movement that true-up may ask for, of the sheet: one millimetre of 210. */
const LIMIT = 1 / 210;

/** True-up ends well, and every vertex, face and kind has its counterpart. */
function isRight(
  truth: Sheet,
  read: Sheet,
  place: (p: Point) => Point,
  toPixels: (p: Point) => Point,
): boolean {
  const { sheet, findings } = trueUp(read, LIMIT);
  if (findings.some(({ severity }) => severity === 'error')) return false;
  const sizes = (one: Sheet) => [one.vertexX.length, one.creaseFrom.length, one.panelRings.length].join();
  if (sizes(sheet) !== sizes(truth)) return false;
  const [wanted, got] = [creasesOf(truth, place), creasesOf(sheet, (p) => toPixels(onFrame(sheet, p)))];
  return wanted.every((crease) =>
    got.some((other) => apart(crease, other) <= 2 && crease.kind === other.kind),
  );
}
