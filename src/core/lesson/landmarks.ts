/** Corners of the pattern by which a step is located. */
import { ON_LINE } from '../numeric/tolerance.ts';
import { cornerInPattern, onSheet } from '../sheet/frame.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { withStep } from './edit-steps.ts';
import type { Lesson } from './lesson.ts';

/** The corner at a place given in pattern units, or null where there is none. */
export function cornerAt(sheet: Sheet, place: readonly [number, number]): number | null {
  const [x, y] = onSheet(sheet, place);
  for (let v = 0; v < sheet.vertexX.length; v++)
    if (Math.hypot(sheet.vertexX[v]! - x, sheet.vertexY[v]! - y) < ON_LINE) return v;
  return null;
}

/** Is a step located by this corner? */
export const isLandmark = (lesson: Lesson, step: number, sheet: Sheet, vertex: number): boolean =>
  (lesson.steps[step]?.landmarkAt ?? []).some((at) => cornerAt(sheet, at) === vertex);

/** Has a step located by a corner, or no longer by it. */
export function toggleLandmark(lesson: Lesson, step: number, sheet: Sheet, vertex: number): Lesson {
  const { landmarkAt = [], ...rest } = lesson.steps[step]!;
  const others = landmarkAt.filter((at) => cornerAt(sheet, at) !== vertex);
  const now = others.length < landmarkAt.length ? others : [...landmarkAt, cornerInPattern(sheet, vertex)];
  return withStep(lesson, step, now.length > 0 ? { ...rest, landmarkAt: now } : rest);
}
