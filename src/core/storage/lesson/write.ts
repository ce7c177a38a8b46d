import * as v from 'valibot';
import type { Lesson } from '../../lesson/lesson.ts';
import { layOutJson } from '../json-layout.ts';
import { type LessonPictures, picturesThatFit } from './pictures.ts';
import { lessonSchema } from './schema.ts';

/**
 * The text of a lesson file: JSON that a person can read, one pattern line a line, entries always in the same order, so
 * that a file read and written again is the same to the byte.
 * @param pictures one for each step; left out for a file without any
 */
export function writeLesson(lesson: Lesson, pictures: LessonPictures = []): string {
  const ordered = v.safeParse(lessonSchema, lesson);
  const own = picturesThatFit(pictures);
  const carried = own.some((one) => one !== null) ? { pictures: own } : {};
  return layOutJson({ ...(ordered.success ? ordered.output : lesson), ...carried });
}
