/** Edits of a lesson's steps: plain functions from a lesson to a lesson, so that each is undone by keeping the old one. */
import type { Lesson, Step } from './lesson.ts';

const withSteps = (lesson: Lesson, steps: readonly Step[]): Lesson => ({ ...lesson, steps });

/** The lesson with one step replaced. */
export function withStep(lesson: Lesson, index: number, step: Step): Lesson {
  return withSteps(
    lesson,
    lesson.steps.map((one, k) => (k === index ? step : one)),
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
