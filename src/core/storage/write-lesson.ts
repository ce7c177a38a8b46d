import type { Lesson } from '../lesson/lesson.ts';
import { layOutJson } from './json-layout.ts';

/** The text of a lesson file: JSON that a person can read, one pattern line a line. */
export function writeLesson(lesson: Lesson): string {
  return layOutJson(lesson);
}
