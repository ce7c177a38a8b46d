/** A lesson with a fold that was made on the model: its lines drawn, its step put in, and the other steps kept true. */

import { tidyDegrees } from '../../numeric/tidy.ts';
import { SNAP } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';
import { inPattern } from '../../sheet/frame.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { driveOf, insertStep, newStep, withStep } from '../edit-steps.ts';
import type { Drive, Lesson, PatternLine, Step } from '../lesson.ts';
import { creasesOnLine } from '../stages.ts';
import type { FoldPlan, NewCrease } from './folded.ts';

type Stretch = Pick<Drive, 'from' | 'to'>;

interface FoldMade {
  /** The sheet of the lesson before, and the pose that the fold was made on: fold angle per crease, radians. */
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly plan: FoldPlan;
  readonly title: string;
  readonly sentence?: string;
  /**
   * Fold angle per crease at the end of each step before, where known. A crease that turns to its other side now and
   * only followed then is driven from now on, since its kind no longer says which way it went.
   */
  readonly ends?: readonly (Float64Array | undefined)[];
}

/** The lesson with a fold put in as a step after the given one (-1: first). */
export function withFold(lesson: Lesson, index: number, made: FoldMade): Lesson {
  const { sheet, plan, title, sentence = '' } = made;
  const place = placing(sheet);
  const near = SNAP * sheet.frame.scale;
  const lines = plan.creases.map(place);
  const changed = plan.changed.map(place);
  const drives = [
    ...[...lines, ...changed],
    ...plan.closed.map(place).flatMap((one) => outside(one, changed, near)),
  ];
  const through = plan.through.map((pose) => pose.map(place));
  const step: Step = {
    ...{ ...newStep('fold', title), sentence, drives },
    ...(through.length > 0 ? { through } : {}),
  };
  const told = driveFollowers(lesson, index, made, changed);
  const steps = told.steps.map((one, k) => (k > index ? turnedLater(one, made, changed, near) : one));
  const pattern = {
    ...lesson.pattern,
    lines: [
      ...lesson.pattern.lines.flatMap((line) => redrawn(line, changed, near)),
      ...lines.map(
        ({ from, to, angle }): PatternLine => ({ from, to, kind: angle > 0 ? 'valley' : 'mountain', angle }),
      ),
    ],
  };
  return insertStep({ ...told, pattern, steps }, index + 1, step);
}

/** From the flat sheet and radians to the pattern's unit and degrees. */
const placing =
  (sheet: Sheet) =>
  ({ from, to, angle }: NewCrease): Drive => ({
    from: inPattern(sheet, from),
    to: inPattern(sheet, to),
    angle: tidyDegrees(angle),
  });

/** A line that was drawn, with the parts that fold otherwise now. */
function redrawn(line: PatternLine, changed: readonly Drive[], near: number): PatternLine[] {
  return cut(line, changed, near).map(({ from, to, of }): PatternLine => {
    if (!of) return { ...line, from, to };
    const kind = of.angle > 0 ? 'valley' : of.angle < 0 ? 'mountain' : line.kind;
    return { ...line, from, to, kind, angle: of.angle };
  });
}

/** What is left of a drive beside the stretches given. */
const outside = (drive: Drive, gone: readonly Stretch[], near: number): Drive[] =>
  cut(drive, gone, near).flatMap(({ from, to, of }) => (of ? [] : [{ ...drive, from, to }]));

/** A step with all its drives changed, those of the poses on its way too. */
function withDrives(step: Step, change: (drives: readonly Drive[]) => readonly Drive[]): Step {
  const through = step.through?.map(change);
  return { ...step, drives: change(step.drives), ...(through ? { through } : {}) };
}

/** Later steps that hold a crease as it was hold it as it is now. */
function turnedLater(step: Step, { sheet, angle }: FoldMade, changed: readonly Drive[], near: number): Step {
  const held = (drive: Drive): Drive[] => {
    const [crease] = creasesOnLine(sheet, drive);
    const was = crease === undefined ? Number.NaN : tidyDegrees(angle[crease]!);
    if (!(Math.abs(was - drive.angle) < SAME_DEGREES)) return [drive];
    return cut(drive, changed, near).map(({ from, to, of }) => ({
      ...{ from, to, angle: of ? of.angle : drive.angle },
    }));
  };
  return changed.length > 0 ? withDrives(step, (drives) => drives.flatMap(held)) : step;
}

/** Angles that differ by less, degrees, are the same. */
const SAME_DEGREES = 0.01;

function driveFollowers(
  lesson: Lesson,
  index: number,
  { sheet, ends = [] }: FoldMade,
  changed: readonly Drive[],
): Lesson {
  const turned = changed.flatMap((one) => touched(sheet, one));
  let told = lesson;
  for (let k = 0; k <= index; k++) {
    const end = ends[k];
    const step = told.steps[k]!;
    if (!end || step.off) continue;
    const driven = new Set(step.drives.flatMap((drive) => creasesOnLine(sheet, drive)));
    const follow = turned.filter(
      (crease) => !driven.has(crease) && end[crease] !== (ends[k - 1]?.[crease] ?? 0),
    );
    if (follow.length === 0) continue;
    const drives = follow.map((crease) => driveOf(sheet, crease, end[crease]!));
    told = withStep(told, k, { ...step, drives: [...step.drives, ...drives] });
  }
  return told;
}

/** Creases of the sheet before that a stretch is part of. */
function touched(sheet: Sheet, stretch: Stretch): number[] {
  const { x, y, scale } = sheet.frame;
  const point = (v: number): Point => [x + scale * sheet.vertexX[v]!, y + scale * sheet.vertexY[v]!];
  const found: number[] = [];
  for (let crease = 0; crease < sheet.creaseKind.length; crease++) {
    const line = { from: point(sheet.creaseFrom[crease]!), to: point(sheet.creaseTo[crease]!) };
    if (cut(line, [stretch], SNAP * scale).some(({ of }) => of)) found.push(crease);
  }
  return found;
}

/** A line cut at the ends of the stretches that lie along it, each piece with the stretch that it is part of. */
export function cut<T extends Stretch>(
  line: Stretch,
  stretches: readonly T[],
  near: number,
): (Stretch & { readonly of: T | null })[] {
  const length = Math.hypot(line.to[0] - line.from[0], line.to[1] - line.from[1]);
  const way: Point = [(line.to[0] - line.from[0]) / length, (line.to[1] - line.from[1]) / length];
  const share = (p: Point) => (p[0] - line.from[0]) * way[0] + (p[1] - line.from[1]) * way[1];
  const off = (p: Point) => Math.abs((p[1] - line.from[1]) * way[0] - (p[0] - line.from[0]) * way[1]);
  const on = stretches.flatMap((of) => {
    if (off(of.from) > near || off(of.to) > near) return [];
    const [a, b] = [share(of.from), share(of.to)];
    const [low, high] = [Math.max(0, Math.min(a, b)), Math.min(length, Math.max(a, b))];
    return high - low > near ? [{ low, high, of, ends: a < b ? [of.from, of.to] : [of.to, of.from] }] : [];
  });
  if (on.length === 0) return [{ from: line.from, to: line.to, of: null }];
  const pieces: (Stretch & { readonly of: T | null })[] = [];
  let [at, from] = [0, line.from];
  for (const { low, high, of, ends } of on.sort((p, q) => p.low - q.low)) {
    if (high <= at + near) continue;
    const start = low > at + near ? ends[0]! : from;
    if (low > at + near) pieces.push({ from, to: start, of: null });
    const end = high >= length - near ? line.to : ends[1]!;
    pieces.push({ from: start, to: end, of });
    [at, from] = [high, end];
  }
  if (at < length - near) pieces.push({ from, to: line.to, of: null });
  return pieces;
}
