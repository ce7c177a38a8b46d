import type { Lesson } from '../../core/lesson/lesson.ts';
import { readLesson } from '../../core/storage/lesson/read.ts';
import { parseJson } from '../../core/storage/parse-json.ts';

/** The lesson that a kept text says; null where it cannot be read. Reading is strict, and fetched when it is wanted. */
export const lessonIn = (text: string): Lesson | null => {
  try {
    return readLesson(parseJson(text)).lesson;
  } catch {
    return null;
  }
};
