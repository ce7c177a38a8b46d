import * as v from 'valibot';
import { type Finding, finding } from '../../finding/finding.ts';
import type { FindingValues } from '../../finding/values.ts';
import type { Lesson } from '../../lesson/lesson.ts';
import { type LessonPictures, readPictures } from './pictures.ts';
import { lessonSchema } from './schema.ts';
import { upgradeLesson } from './upgrade.ts';
import { wantedIn } from './wanted.ts';

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
  const path = (issue.path ?? []).map(({ key }) => (typeof key === 'number' ? key : String(key)));
  return refuse({ how: 'lesson-entry', path, wanted: wantedIn(issue.message) });
}

const refuse = (why: FindingValues['file-unreadable']): LessonRead => ({
  lesson: null,
  pictures: null,
  findings: [finding('file-unreadable', 'error', why)],
});
