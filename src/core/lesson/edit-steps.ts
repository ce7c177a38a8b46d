/** Edits of a lesson's steps: plain functions from a lesson to a lesson, so that each is undone by keeping the old one. */
import { tidy, tidyDegrees } from '../numeric/tidy.ts';
import { ARRIVED } from '../numeric/tolerance.ts';
import { cornerInPattern } from '../sheet/frame.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Drive, Lesson, Step, StepKind } from './lesson.ts';
import { creasesOnLine } from './stages.ts';

const withSteps = (lesson: Lesson, steps: readonly Step[]): Lesson => ({ ...lesson, steps });

/** The lesson with one step replaced; one that is told what to fold is no longer assumed. */
export function withStep(lesson: Lesson, index: number, step: Step): Lesson {
  const { assumed: _no, ...own } = step;
  const changed = step.assumed && step.drives !== lesson.steps[index]?.drives ? own : step;
  return withSteps(
    lesson,
    lesson.steps.map((one, k) => (k === index ? changed : one)),
  );
}

/** Puts a step in, before the one that has the index now. */
export function insertStep(lesson: Lesson, index: number, step: Step): Lesson {
  return withSteps(lesson, [...lesson.steps.slice(0, index), step, ...lesson.steps.slice(index)]);
}

export function removeStep(lesson: Lesson, index: number): Lesson {
  return withSteps(
    lesson,
    lesson.steps.filter((_, k) => k !== index),
  );
}

/** Moves a step; `to` is its index afterwards. */
export function moveStep(lesson: Lesson, from: number, to: number): Lesson {
  const rest = lesson.steps.filter((_, k) => k !== from);
  return withSteps(lesson, [...rest.slice(0, to), lesson.steps[from]!, ...rest.slice(to)]);
}

/** A step of a kind that folds nothing yet. */
export function newStep(kind: StepKind, title: string): Step {
  return { title, sentence: '', kind, drives: [] };
}

/**
 * A copy beside the original, with its words and look. What the original folds lies folded when the copy begins, and a step
 * names only what it changes, so the copy folds nothing until it is told to.
 */
export function duplicateStep(lesson: Lesson, index: number): Lesson {
  const { through: _way, orders: _end, makes: _made, assumed: _own, ...step } = lesson.steps[index]!;
  return insertStep(lesson, index + 1, { ...step, drives: [] });
}

/**
 * Splits a step in two: the first stops at the given pose on its way, the second goes on to the end. Each names only the
 * creases that it turns.
 * @param poses fold angle per crease, radians, at the start of the step and where it is split
 */
export function splitStep(
  lesson: Lesson,
  index: number,
  sheet: Sheet,
  poses: { readonly start: Float64Array; readonly midway: Float64Array },
): Lesson {
  const { start, midway } = poses;
  const { through: _way, ...step } = lesson.steps[index]!;
  const target = targetOf(step.drives, sheet);
  const turns = (from: Float64Array, to: (crease: number) => number) =>
    new Set([...target.keys()].filter((crease) => Math.abs(to(crease) - from[crease]!) > ARRIVED));
  const before = turns(start, (crease) => midway[crease]!);
  const after = turns(midway, (crease) => target.get(crease)!);
  const arrived = new Set([...target.keys()].filter((crease) => !after.has(crease)));
  const { orders: _end, ...first } = {
    ...step,
    drives: [...before].map((crease) => driveOf(sheet, crease, midway[crease]!)),
  };
  const { makes: _made, ...last } = { ...step, drives: withoutCreases(step.drives, arrived, sheet) };
  return insertStep(withStep(lesson, index, first), index + 1, last);
}

/** The angle, radians, that drives bring each crease to; where several do, the last counts. */
function targetOf(drives: readonly Drive[], sheet: Sheet): Map<number, number> {
  return new Map(
    drives.flatMap((drive) =>
      creasesOnLine(sheet, drive).map((crease) => [crease, (drive.angle * Math.PI) / 180] as const),
    ),
  );
}

/** Joins a step with the one after it: what the second drives counts, the rest stays as the first had it. */
export function joinSteps(lesson: Lesson, index: number, sheet: Sheet): Lesson {
  const [first, second] = [lesson.steps[index]!, lesson.steps[index + 1]!];
  const again = new Set(second.drives.flatMap((drive) => creasesOnLine(sheet, drive)));
  const kept = withoutCreases(first.drives, again, sheet);
  const joined: Step = {
    ...first,
    ...(second.orders ? { orders: second.orders } : {}),
    ...(second.through ? { through: [...(first.through ?? []), first.drives, ...second.through] } : {}),
    sentence: [first.sentence, second.sentence].filter(Boolean).join(' '),
    minutes: (first.minutes ?? 0) + (second.minutes ?? 0) || undefined,
    drives: [...kept, ...second.drives],
  };
  return removeStep(withStep(lesson, index, joined), index + 1);
}

/**
 * Has a step bring creases to angles (radians); NaN leaves a crease free to follow. Lines that drove other creases as
 * well go on driving these.
 */
export function driveCreases(
  lesson: Lesson,
  index: number,
  sheet: Sheet,
  angles: ReadonlyMap<number, number>,
): Lesson {
  const step = lesson.steps[index]!;
  const kept = withoutCreases(step.drives, new Set(angles.keys()), sheet);
  const driven = [...angles].filter(([, angle]) => !Number.isNaN(angle));
  const drives = [...kept, ...driven.map(([crease, angle]) => driveOf(sheet, crease, angle))];
  return withStep(lesson, index, { ...step, drives });
}

/** Drives that do not name the given creases; a line with others on it is cut into these. */
function withoutCreases(drives: readonly Drive[], gone: ReadonlySet<number>, sheet: Sheet): Drive[] {
  return drives.flatMap((drive) => {
    const creases = creasesOnLine(sheet, drive);
    if (!creases.some((crease) => gone.has(crease))) return [drive];
    return creases
      .filter((crease) => !gone.has(crease))
      .map((crease) => driveOf(sheet, crease, (drive.angle * Math.PI) / 180));
  });
}

/** A drive of one crease, in pattern units and degrees. */
export function driveOf(sheet: Sheet, crease: number, angle: number): Drive {
  return {
    from: cornerInPattern(sheet, sheet.creaseFrom[crease]!),
    to: cornerInPattern(sheet, sheet.creaseTo[crease]!),
    angle: tidyDegrees(angle),
  };
}

export type Elsewhere = 'left-right' | 'up-down' | 'half-turn';

/**
 * A step repeated elsewhere on the sheet, as the step after it: its folds mirrored or turned about the middle of the
 * outline. Null where no crease lies at the new places.
 */
export function repeatStep(lesson: Lesson, index: number, sheet: Sheet, elsewhere: Elsewhere): Lesson | null {
  const step = lesson.steps[index]!;
  const xs = lesson.pattern.outline.map(([x]) => x);
  const ys = lesson.pattern.outline.map(([, y]) => y);
  const [sumX, sumY] = [Math.min(...xs) + Math.max(...xs), Math.min(...ys) + Math.max(...ys)];
  const place = ([x, y]: readonly [number, number]): [number, number] => [
    elsewhere === 'up-down' ? x : tidy(sumX - x),
    elsewhere === 'left-right' ? y : tidy(sumY - y),
  ];
  const elsewhereOf = (drive: Drive): Drive => ({ ...drive, from: place(drive.from), to: place(drive.to) });
  const there = step.drives.map(elsewhereOf).filter((drive) => creasesOnLine(sheet, drive).length > 0);
  if (there.length === 0) return null;
  const { orders: _there, look: _look, ...rest } = step;
  const through = step.through?.map((drives) => drives.map(elsewhereOf));
  return insertStep(lesson, index + 1, { ...rest, drives: there, ...(through ? { through } : {}) });
}
