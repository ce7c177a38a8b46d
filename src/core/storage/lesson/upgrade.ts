/**
 * Lesson files of earlier versions, brought to the present one step after the other. Every version that was ever written
 * opens for ever; `tests/fixtures/lessons` keeps files of each.
 */
import type { FindingValues } from '../../finding/values.ts';
import { lessonVersion } from '../../lesson/lesson.ts';

/** What version 2 called the one step that it made for a pattern without steps. */
const assumedStep = {
  title: 'Fold everything',
  sentence: 'Bring every crease to its finished angle together.',
} as const;

/** The entries of a lesson file, not checked yet. */
type Entries = Readonly<Record<string, unknown>>;

/** What leads from each version to the next; the first leads from version 1 to 2. Each copes with entries of any shape. */
const upgrades: readonly ((old: Entries) => Entries)[] = [fromVersion1, fromVersion2, fromVersion3];

/**
 * Version 1 grew while it was in use: precreases, landmarks, looks, minutes, orders, a lid, the terms of a credit. Whoever
 * read it before one of these was there drops it without a word, and loses it when saving. As version 2 such a file is
 * refused there instead. What version 1 could leave out (place, credit, sentences, drives) is always written now.
 */
function fromVersion1(old: Entries): Entries {
  const { place = '', credit = { maker: '', status: '' }, steps, ...rest } = old;
  const whole = (step: unknown) => (isEntries(step) ? { sentence: '', drives: [], ...step } : step);
  return { ...rest, place, credit, steps: Array.isArray(steps) ? steps.map(whole) : steps };
}

/**
 * Since version 3 a crease that a step does not name stays where it is unless closure forces it. Before, it might follow
 * though nothing tied it to the step, so that steps had to repeat what earlier ones had folded: read there, a step that
 * names only what it changes would end elsewhere. What version 2 repeats does no harm and stays: a crease driven to where
 * it is goes nowhere, and the step ends as it did. The one step that the tool made for a pattern without steps is marked.
 */
function fromVersion2(old: Entries): Entries {
  const { steps } = old;
  if (!Array.isArray(steps) || steps.length !== 1 || !isEntries(steps[0])) return old;
  const { title, sentence, kind } = steps[0];
  const made = kind === 'collapse' && title === assumedStep.title && sentence === assumedStep.sentence;
  return made && drivesAll(old.pattern, steps[0].drives)
    ? { ...old, steps: [{ ...steps[0], assumed: true }] }
    : old;
}

/** Version 4 gives panels names; what knows only version 3 would lose them when saving. */
function fromVersion3(old: Entries): Entries {
  return old;
}

/** Is every line that has a finished angle driven to it, and nothing else? */
function drivesAll(pattern: unknown, drives: unknown): boolean {
  if (!isEntries(pattern) || !Array.isArray(pattern.lines) || !Array.isArray(drives)) return false;
  const told = (one: unknown) => (isEntries(one) ? JSON.stringify([one.from, one.to, one.angle]) : '');
  const finished = pattern.lines.filter((line) => isEntries(line) && line.angle !== undefined).map(told);
  return JSON.stringify(finished.sort()) === JSON.stringify(drives.map(told).sort());
}

/** @returns the entries as the present version writes them, or why a version cannot be read */
export function upgradeLesson(
  value: unknown,
): { entries: Entries } | { refused: FindingValues['file-unreadable'] } {
  if (!isEntries(value)) return { refused: { how: 'no-lesson' } };
  const { version } = value;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return { refused: { how: 'lesson-version' } };
  if (version > lessonVersion) return { refused: { how: 'lesson-newer', version, known: lessonVersion } };
  const entries = upgrades.slice(version - 1).reduce((old, upgrade) => upgrade(old), value);
  return { entries: { ...entries, version: lessonVersion } };
}

const isEntries = (value: unknown): value is Entries =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
