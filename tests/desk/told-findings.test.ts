/** Findings as the screen tells them: by the teacher's names, in mm from the lower left corner, alike ones as one. */
import { beforeAll, expect, test } from 'vitest';
import type { Finding } from '../../src/core/finding/finding.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { checkSheet } from '../../src/core/sheet/check.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { callingOf, toldFindings } from '../../src/desk/run/told-findings.ts';
import { called } from '../../src/words/calling.ts';
import { sentenceOf, sentencesReady } from '../../src/words/findings.ts';
import { words } from '../../src/words/words.ts';
import { square } from '../support/square.ts';

beforeAll(sentencesReady);

/** 150 mm, drawn 100 units wide and off the origin: three folds meet at two corners, 30 and 70 units from the left. */
const lesson: Lesson = {
  ...square,
  pattern: {
    outline: [
      [10, 20],
      [110, 20],
      [110, 120],
      [10, 120],
    ],
    lines: [
      { from: [10, 70], to: [110, 70], kind: 'valley' },
      { from: [40, 20], to: [40, 70], kind: 'valley' },
      { from: [80, 20], to: [80, 70], kind: 'valley' },
    ],
  },
  parts: [{ at: [60, 30], name: 'lid' }],
};
const { sheet } = sheetOfLesson(lesson);
const how = callingOf({ lesson, sheet });
const lid = panelContaining(sheet!, 0.5, 0.1);
const left = panelContaining(sheet!, 0.1, 0.1);
const right = panelContaining(sheet!, 0.9, 0.1);

// by hand: 30 and 70 units of 1.5 mm from the left, 50 from below
test('what is alike at two corners is told once, in mm from the lower left corner', () => {
  const [odd, ...others] = toldFindings(checkSheet(sheet!), how);
  expect(others).toEqual([]);
  expect(odd!.sentence).toMatch(/^At the corner at \(45, 75 mm\) 3 folds meet/);
  expect(odd!.sentence).toMatch(/The same at \(105, 75 mm\)\.$/);
  expect(odd!.where.vertices).toHaveLength(2);
  expect(odd!.isPlaced).toBe(true);
});

test('elsewhere each corner is told by itself, in the unit of the file', () => {
  const told = checkSheet(sheet!).map(sentenceOf);
  expect(told).toHaveLength(2);
  expect(told[0]).toContain('at (40, 70) 3 folds');
  expect(told[1]).toContain('at (80, 70) 3 folds');
});

test('findings that differ in more than their place stay apart', () => {
  const [one, other] = checkSheet(sheet!) as [Finding, Finding];
  expect(toldFindings([one, { ...other, severity: 'note' }], how)).toHaveLength(2);
});

test('a panel that has a name goes by it, others by their numbers', () => {
  const tell = (panels: readonly number[]) => called(how, () => words.panelsList(panels));
  expect(tell([lid])).toBe('"lid"');
  expect(tell([left])).toBe(`panel ${left}`);
  expect(tell([left, lid])).toBe(`"lid" and panel ${left}`);
  expect(tell([left, lid, right])).toBe(`"lid" and panels ${left} and ${right}`);
  expect(words.panelsList([lid])).toBe(`panel ${lid}`);
});

test('how things are called ends with the sentence, also where making it fails', () => {
  const failing = () =>
    called(how, () => {
      throw new Error('no words');
    });
  expect(failing).toThrow('no words');
  expect(words.panelsList([lid])).toBe(`panel ${lid}`);
});

test('without a lesson on the table panels have no names and places are those of the file', () => {
  const plain = callingOf({ lesson: null, sheet: null });
  expect(plain.nameOf(lid)).toBeUndefined();
  expect([plain.place, plain.length]).toEqual([null, null]);
});
