import { tidyDegrees } from '../numeric/tidy.ts';
import { USUAL_SHEET } from '../numeric/tolerance.ts';
import { cornerInPattern } from '../sheet/frame.ts';
import { kindFolds, lineKinds } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin } from '../sheet/walk.ts';
import {
  type Drive,
  type Lesson,
  lessonFormat,
  lessonVersion,
  type PatternLine,
  type SideLook,
} from './lesson.ts';
import { numbersOf, sameNumbers } from './numbers.ts';
import { type LessonNames, plainSides } from './plain-sides.ts';
import { sheetOfLesson } from './sheet-of-lesson.ts';

interface LessonFacts {
  readonly title: string;
  readonly place?: string;
  /** Length of the longer side of the sheet, mm; left out where it is not known. */
  readonly size?: number;
  readonly sideUp?: 'a' | 'b';
  readonly sides?: { readonly a: SideLook; readonly b: SideLook };
  readonly names: LessonNames;
}

/**
 * A lesson made of a sheet: pattern in the input's own unit, angles in degrees, and one step that drives every
 * crease to its finished angle.
 */
export function lessonOfSheet(sheet: Sheet, facts: LessonFacts): Lesson {
  const place = (vertex: number) => cornerInPattern(sheet, vertex);
  const rim = rimOfSheet(sheet);
  const onRim = new Set(rim.map((halfEdge) => halfEdge >> 1));
  const lines: PatternLine[] = [];
  const drives: Drive[] = [];
  sheet.creaseKind.forEach((kind, crease) => {
    if (onRim.has(crease)) return;
    const ends = { from: place(sheet.creaseFrom[crease]!), to: place(sheet.creaseTo[crease]!) };
    const angle = sheet.creaseAngle[crease]!;
    const given = kindFolds(kind) && !Number.isNaN(angle);
    const degrees = tidyDegrees(angle);
    lines.push({ ...ends, kind: lineKinds[kind]!, ...(given ? { angle: degrees } : {}) });
    if (given) drives.push({ ...ends, angle: degrees });
  });
  const lesson: Lesson = {
    format: lessonFormat,
    version: lessonVersion,
    title: facts.title || facts.names.untitled,
    place: facts.place ?? '',
    credit: { maker: '', status: '' },
    sheet: {
      ...sizeOf(facts),
      sideUp: facts.sideUp ?? 'b',
      sides: facts.sides ?? plainSides(facts.names.sides),
    },
    pattern: { outline: rim.map((halfEdge) => place(halfEdgeOrigin(sheet, halfEdge ^ 1))).reverse(), lines },
    steps: [
      {
        ...facts.names.step,
        kind: 'collapse',
        assumed: true,
        drives,
      },
    ],
  };
  const built = sheetOfLesson(lesson).sheet;
  if (built && sameNumbers(built, sheet)) return lesson;
  return { ...lesson, pattern: { ...lesson.pattern, numbers: numbersOf(sheet) } };
}

const sizeOf = ({ size }: LessonFacts) =>
  size === undefined ? { size: USUAL_SHEET, sizeAssumed: true } : { size };

/** Half-edges of the outer boundary in walking order, outside the paper (clockwise round it). */
function rimOfSheet(sheet: Sheet): number[] {
  const seen = new Uint8Array(sheet.halfEdgeNext.length);
  let rim: number[] = [];
  let largest = Number.NEGATIVE_INFINITY;
  for (let first = 0; first < seen.length; first++) {
    if (seen[first] || sheet.halfEdgePanel[first] !== NONE) continue;
    const ring: number[] = [];
    for (let half = first; !seen[half]; half = sheet.halfEdgeNext[half]!) {
      seen[half] = 1;
      ring.push(half);
    }
    const area = -signedArea(sheet, ring);
    if (area > largest) {
      largest = area;
      rim = ring;
    }
  }
  return rim;
}

function signedArea(sheet: Sheet, ring: readonly number[]): number {
  let twice = 0;
  for (const half of ring) {
    const a = halfEdgeOrigin(sheet, half);
    const b = halfEdgeOrigin(sheet, half ^ 1);
    twice += sheet.vertexX[a]! * sheet.vertexY[b]! - sheet.vertexX[b]! * sheet.vertexY[a]!;
  }
  return twice / 2;
}
