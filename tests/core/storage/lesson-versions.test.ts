/** Lesson files of every version open, and are written as the present version. */

import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { lessonVersion } from '../../../src/core/lesson/lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { lessonSchema } from '../../../src/core/storage/lesson/schema.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { said } from '../../support/said.ts';
import { fixture, openText, refusalOf, sheetOf } from './help.ts';

const files = readdirSync(new URL('../../fixtures/lessons', import.meta.url));
const textOf = (file: string) => new TextDecoder().decode(fixture(`lessons/${file}`));

/** Names of all entries in a JSON value, with those above them: "steps.look.eye". */
function entriesOf(value: unknown, above = ''): string[] {
  if (Array.isArray(value)) return value.flatMap((one) => entriesOf(one, above));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => [above + key, ...entriesOf(one, `${above}${key}.`)]);
}

/** The same of what the format allows. */
function entriesAllowed(schema: unknown, above = ''): string[] {
  const { entries, wrapped, item } = schema as { entries?: object; wrapped?: unknown; item?: unknown };
  if (wrapped ?? item) return entriesAllowed(wrapped ?? item, above);
  return Object.entries(entries ?? {}).flatMap(([key, one]) => [
    above + key,
    ...entriesAllowed(one, `${above}${key}.`),
  ]);
}

test('there are files of every version, and one of each uses every entry that it knows', () => {
  for (let version = 1; version <= lessonVersion; version++) {
    const own = files.filter((file) => file.startsWith(`version-${version}-`));
    expect(own, `version ${version}`).toContain(`version-${version}-every-entry.json`);
    for (const file of own) expect(JSON.parse(textOf(file)).version).toBe(version);
  }
  const used = new Set(entriesOf(JSON.parse(textOf(`version-${lessonVersion}-every-entry.json`))));
  expect([...used].sort()).toEqual([...new Set(entriesAllowed(lessonSchema)), 'pictures'].sort());
});

describe.each(files)('%s', (file) => {
  const opened = openText(file, textOf(file));
  if (opened.kind !== 'lesson') throw new Error(said(opened.findings));
  const { lesson, pictures } = opened;

  test('opens without a remark, and its steps meet their creases', () => {
    expect(opened.findings).toEqual([]);
    expect(lesson.version).toBe(lessonVersion);
    expect(stagesOfLesson(lesson, sheetOf(opened)).findings).toEqual([]);
  });

  test('nothing in it is lost', () => {
    const { version: _old, ...before } = JSON.parse(textOf(file));
    expect({ ...lesson, ...(pictures && { pictures }) }).toMatchObject(before);
  });

  test('written anew it is of the present version and the same lesson, and stays so to the byte', () => {
    const written = writeLesson(lesson, pictures);
    expect(JSON.parse(written).version).toBe(lessonVersion);
    const again = openText(file, written);
    expect(again).toEqual(opened);
    if (again.kind !== 'lesson') throw new Error(`opened as ${again.kind}`);
    expect(writeLesson(again.lesson, again.pictures)).toBe(written);
  });
});

test('the file of the present version is written as it stands there', () => {
  const file = `version-${lessonVersion}-every-entry.json`;
  const opened = openText(file, textOf(file));
  if (opened.kind !== 'lesson') throw new Error('no lesson');
  expect(writeLesson(opened.lesson, opened.pictures)).toBe(textOf(file));
});

test('what version 1 could leave out is there after reading', () => {
  const old = {
    ...JSON.parse(textOf('version-1-ticket-wallet.json')),
    place: undefined,
    credit: undefined,
    steps: [{ title: 'Rest', kind: 'note' }],
  };
  const opened = openText('old.json', JSON.stringify(old));
  if (opened.kind !== 'lesson') throw new Error(said(opened.findings));
  expect(opened.lesson).toMatchObject({ place: '', credit: { maker: '', status: '' } });
  expect(opened.lesson.steps).toEqual([{ title: 'Rest', sentence: '', kind: 'note', drives: [] }]);
});

test('the one step that the tool made for a pattern without steps is marked, unless it was changed', () => {
  const marked = (change: object) => {
    const line = { from: [4, 0], to: [4, 4], kind: 'valley', angle: 180 };
    const [title, sentence] = ['Fold everything', 'Bring every crease to its finished angle together.'];
    const step = { title, sentence, kind: 'collapse', drives: [{ from: [4, 0], to: [4, 4], angle: 180 }] };
    const file = JSON.parse(textOf('version-2-ticket-wallet.json'));
    const pattern = {
      outline: [
        [0, 0],
        [8, 0],
        [8, 4],
        [0, 4],
      ],
      lines: [line],
    };
    const opened = openText('a.json', JSON.stringify({ ...file, pattern, steps: [{ ...step, ...change }] }));
    if (opened.kind !== 'lesson') throw new Error(said(opened.findings));
    return opened.lesson.steps[0]!.assumed === true;
  };
  expect(marked({})).toBe(true);
  expect(marked({ title: 'Close it' })).toBe(false);
  expect(marked({ drives: [{ from: [4, 0], to: [4, 4], angle: 90 }] })).toBe(false);
});

test.each([
  ['of a later version', lessonVersion + 1, 'newer Creaseway'],
  ['of version 0', 0, 'whole number'],
  ['of a version that is a word', '2', 'whole number'],
  ['of half a version', 1.5, 'whole number'],
  ['of no version', undefined, 'whole number'],
])('a lesson %s is refused in one sentence', (_what, version, said) => {
  const text = JSON.stringify({ ...JSON.parse(textOf('version-1-ticket-wallet.json')), version });
  expect(refusalOf(openText('a.json', text)).message).toContain(said);
});

test.each([
  ['no steps', { steps: undefined }, 'steps'],
  ['steps that are a number', { steps: 4 }, 'steps'],
  ['a step that is null', { steps: [null] }, 'steps, entry 1'],
  ['a credit that is a word', { credit: 'me' }, 'credit'],
])('a version 1 file with %s is refused with the place named', (_what, change, place) => {
  const text = JSON.stringify({ ...JSON.parse(textOf('version-1-ticket-wallet.json')), ...change });
  expect(refusalOf(openText('a.json', text)).message).toContain(`at ${place}`);
});
