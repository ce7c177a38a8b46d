import * as v from 'valibot';
import { type Finding, finding } from '../finding/finding.ts';
import type { Lesson } from '../lesson/lesson.ts';
import { lessonSchema } from './lesson-schema.ts';
import { type LessonPictures, readPictures } from './pictures.ts';
import { upgradeLesson } from './upgrade-lesson.ts';

/** What a lesson file holds; lesson and pictures are null where it cannot be used, and the findings say why. */
interface LessonRead {
  readonly lesson: Lesson | null;
  /** One for each step. */
  readonly pictures: LessonPictures | null;
  readonly findings: Finding[];
}

/**
 * Checks a parsed JSON value against the lesson format, whatever version wrote it. Returns the lesson, or null with one
 * finding that names the first entry that does not fit. Pictures that cannot be shown are left out, and said.
 */
export function readLesson(value: unknown): LessonRead {
  const upgraded = upgradeLesson(value);
  if ('refused' in upgraded) return refuse(upgraded.refused);
  const read = v.safeParse(lessonSchema, upgraded.entries, { abortEarly: true });
  if (read.success)
    return { lesson: read.output, ...readPictures(upgraded.entries, read.output.steps.length) };
  const issue = read.issues[0];
  const place = placeOf(issue.path?.map((item) => item.key) ?? []);
  const said = /^Invalid (key|type|length)/.test(issue.message)
    ? 'an entry is missing or wrong'
    : issue.message;
  return refuse(`The lesson cannot be read at ${place}: ${said}; correct that entry and open it again.`);
}

const refuse = (message: string): LessonRead => ({
  lesson: null,
  pictures: null,
  findings: [finding('file-unreadable', 'error', message)],
});

/** "steps, entry 2, angle": list places count from 1, as people do. */
function placeOf(path: readonly unknown[]): string {
  if (path.length === 0) return 'its start';
  return path.map((key) => (typeof key === 'number' ? `entry ${key + 1}` : String(key))).join(', ');
}
