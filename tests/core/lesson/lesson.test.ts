import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Lesson, lessonVersion } from '../../../src/core/lesson/lesson.ts';
import { lessonOfSheet } from '../../../src/core/lesson/lesson-of-sheet.ts';
import { nameless } from '../../../src/core/lesson/plain-sides.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine, stageOfFinishedAngles, stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { foldStep } from '../../../src/core/pose/fold-step.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { said } from '../../support/said.ts';
import { bytesOf, fixture, openText, patternOf, refusalOf, sampleLesson, sheetOf } from '../storage/help.ts';

const index: { file: string; title: string; place: string }[] = JSON.parse(
  readFileSync(new URL('../../../public/lessons/index.json', import.meta.url), 'utf8'),
);

function load(file: string): Lesson {
  const opened = openFile(file, sampleLesson(file));
  if (opened.kind !== 'lesson') throw new Error(said(opened.findings));
  return opened.lesson;
}

describe.each(index)('$file', ({ file, title, place }) => {
  const lesson = load(file);
  const sheet = sheetOf({ kind: 'lesson', lesson, findings: [] });

  test('the list of lessons names it as it names itself', () => {
    expect([lesson.title, lesson.place]).toEqual([title, place]);
  });

  test('written and read again it is the same', () => {
    expect(openText('x.json', writeLesson(lesson))).toEqual({ kind: 'lesson', lesson, findings: [] });
  });

  test('every drive meets a crease, and each step says which way in words', () => {
    expect(stagesOfLesson(lesson, sheet).findings).toEqual([]);
    for (const step of lesson.steps) expect(step.sentence).toMatch(/^[A-Z].*\.$/);
  });

  test('its steps fold one after the other and end at the finished angles (except where paper cannot)', () => {
    const { stages } = stagesOfLesson(lesson, sheet);
    let angle = new Float64Array(sheet.creaseKind.length);
    const outcomes = stages.map((stage) => {
      const motion = foldStep(sheet, angle, stage, { bend: false, free: false });
      let next = motion.next();
      while (!next.done) next = motion.next();
      angle = Float64Array.from(next.value.poses[next.value.poses.length - 1]!.angle);
      return next.value.report.outcome;
    });
    // no rigid motion: round the twist's four corners the half-angle ratios multiply to 2.414^4 instead of 1
    if (file === 'twist-coaster.json') {
      expect(outcomes).toEqual(['fails']);
      return;
    }
    expect(outcomes).toEqual(stages.map(() => 'rigid'));
    stageOfFinishedAngles(sheet).target.forEach((target, crease) => {
      if (!Number.isNaN(target)) expect(angle[crease]).toBeCloseTo(target, 6);
    });
  });
});

describe('stages', () => {
  const lesson = load('pencil-case.json');
  const sheet = sheetOf({ kind: 'lesson', lesson, findings: [] });
  const withDrives = (...drives: Lesson['steps'][number]['drives'][number][]): Lesson => ({
    ...lesson,
    steps: [{ title: 'Try', sentence: 'Try it.', kind: 'fold', drives }],
  });

  test('a line is resolved to all creases on it, in either direction, and to no others', () => {
    // y = 4 is cut by the two hems into three creases; raw edges never count (by hand)
    expect(creasesOnLine(sheet, { from: [0, 4], to: [7, 4] })).toHaveLength(3);
    expect(creasesOnLine(sheet, { from: [7, 4], to: [0, 4] })).toHaveLength(3);
    expect(creasesOnLine(sheet, { from: [1, 4], to: [6, 4] })).toHaveLength(1);
    expect(creasesOnLine(sheet, { from: [0, 0], to: [7, 0] })).toHaveLength(0);
    expect(creasesOnLine(sheet, { from: [3, 3], to: [3, 3] })).toHaveLength(0);
  });

  test('angles become radians; creases no drive names are free', () => {
    const { stages } = stagesOfLesson(withDrives({ from: [1, 4], to: [6, 4], angle: 90 }), sheet);
    const [crease] = creasesOnLine(sheet, { from: [1, 4], to: [6, 4] });
    expect(stages[0]!.target[crease!]).toBeCloseTo(Math.PI / 2, 15);
    expect(stages[0]!.target.filter((value) => !Number.isNaN(value))).toHaveLength(1);
  });

  test('a drive beside every crease is an error that names step and line', () => {
    const { findings } = stagesOfLesson(withDrives({ from: [0, 2.5], to: [7, 2.5], angle: 90 }), sheet);
    expect(findings).toMatchObject([{ code: 'step-misses', severity: 'error' }]);
    expect(sentenceOf(findings[0]!)).toContain('Step 1 ("Try")');
  });

  test('two drives that ask for different angles: the later one counts, with a warning', () => {
    const line = { from: [1, 4], to: [6, 4] } as const;
    const { stages, findings } = stagesOfLesson(
      withDrives({ ...line, angle: 90 }, { ...line, angle: 45 }),
      sheet,
    );
    expect(findings.map(({ code }) => code)).toEqual(['step-misses']);
    expect(stages[0]!.target.find((value) => !Number.isNaN(value))).toBeCloseTo(Math.PI / 4, 15);
  });
});

describe('a lesson made of a sheet', () => {
  test.each(['s1.svg', 's3.dxf', 's5.fold'])(
    '%s: same pattern, one step that drives every crease',
    (name) => {
      const sheet = sheetOf(openFile(name, fixture(name)));
      const lesson = lessonOfSheet(sheet, { title: 'Try', names: nameless, size: 100 });
      const again = sheetOf(openFile('x.json', bytesOf(writeLesson(lesson))));
      expect(patternOf(again)).toEqual(patternOf(sheet));
      const { stages, findings } = stagesOfLesson(lesson, again);
      expect(findings).toEqual([]);
      expect(stages).toHaveLength(1);
      stageOfFinishedAngles(again).target.forEach((target, crease) => {
        if (!Number.isNaN(target)) expect(stages[0]!.target[crease]).toBeCloseTo(target, 12);
      });
    },
  );

  test('a hole stays a hole', () => {
    const edge = (d: string) => `<path class="edge" d="${d}"/>`;
    const text = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">${edge('M0 0H9V9H0Z')}${edge('M3 3H6V6H3Z')}</svg>`;
    const sheet = sheetOf(openText('x.svg', text));
    const lesson = lessonOfSheet(sheet, { title: 'Frame', names: nameless });
    const again = sheetOfLesson(lesson).sheet!;
    expect(again.panelRings.map((rings) => rings.length)).toEqual(
      sheet.panelRings.map((rings) => rings.length),
    );
    expect(patternOf(again)).toEqual(patternOf(sheet));
  });
});

describe('lesson files that do not fit the format', () => {
  const good = JSON.parse(writeLesson(load('pencil-case.json')));
  const change = (edit: (lesson: typeof good) => void) => {
    const copy = structuredClone(good);
    edit(copy);
    return refusalOf(openText('x.json', JSON.stringify(copy))).message;
  };

  test.each([
    ['no title', (l) => delete l.title, ['title']],
    ['a newer version', (l) => (l.version = lessonVersion + 1), ['newer']],
    [
      'an unknown kind',
      (l) => (l.pattern.lines[3].kind = 'hill'),
      ['pattern, lines, entry 4, kind', 'mountain'],
    ],
    [
      'an angle beyond a half turn',
      (l) => (l.steps[1].drives[0].angle = 181),
      ['steps, entry 2, drives, entry 1, angle', '-180'],
    ],
    ['a point of one number', (l) => (l.pattern.outline[0] = [1]), ['outline, entry 1']],
    ['text for a number', (l) => (l.pattern.lines[0].to[1] = 'x'), ['lines, entry 1, to, entry 2', 'number']],
    ['a coordinate out of reach', (l) => (l.pattern.lines[0].to[1] = 1e300), ['larger']],
    ['two corners', (l) => l.pattern.outline.splice(2), ['three corners']],
    ['a wrong colour', (l) => (l.sheet.sides.a.colour = 'red'), ['#rrggbb']],
    ['a sheet of no size', (l) => (l.sheet.size = 0), ['size', '1 mm']],
    ['steps that are no list', (l) => (l.steps = {}), ['steps']],
  ] as [string, (lesson: typeof good) => void, string[]][])('%s', (_name, edit, words) => {
    const message = change(edit);
    for (const word of words) expect(message).toContain(word);
    expect(message).toMatch(/^[A-Z].*\.$/);
  });
});
