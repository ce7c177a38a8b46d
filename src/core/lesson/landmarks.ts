/** Corners of the pattern by which a step is located. */
import { cornerInPattern, onSheet } from '../sheet/frame.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { withStep } from './edit-steps.ts';
import type { Lesson } from './lesson.ts';

/** A place named in a lesson is that of a corner when it is nearer than this, sheet units. */
const SAME_PLACE = 1e-6;

/** The corner at a place given in pattern units, or null where there is none. */
export function cornerAt(sheet: Sheet, place: readonly [number, number]): number | null {
  const [x, y] = onSheet(sheet, place);
  for (let v = 0; v < sheet.vertexX.length; v++)
    if (Math.hypot(sheet.vertexX[v]! - x, sheet.vertexY[v]! - y) < SAME_PLACE) return v;
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
