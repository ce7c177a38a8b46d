/** Creases that stop a hair short: told with the gap, and drawn on at a press. */
import { expect, test } from 'vitest';
import { square as outlineOf } from '../../../src/core/draw/outline.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { triedMend } from '../../../src/core/run/mend/tried.ts';
import { shortEnds } from '../../../src/core/sheet/short-ends.ts';
import { said } from '../../support/said.ts';
import { square } from '../../support/square.ts';

type Ends = readonly [number, number, number, number];

const withValleys = (...lines: readonly Ends[]): Lesson => ({
  ...square,
  pattern: {
    outline: outlineOf(100),
    lines: lines.map(([x1, y1, x2, y2]) => ({ from: [x1, y1], to: [x2, y2], kind: 'valley' })),
  },
});
const sheetOf = (lesson: Lesson) => sheetOfLesson(lesson).sheet!;
const mendOf = (lesson: Lesson) =>
  triedMend(
    sheetOfLesson(lesson).findings.find(({ code }) => code === 'crease-dangling')!,
    lesson,
    () => null,
    { bend: false, free: false },
  );

// by hand: 0.03 of 100 short of the right edge; nothing lies nearer
test('an end 0.03 short of the edge is told with its gap, and drawn on to the edge', () => {
  const lesson = withValleys([0, 40, 99.97, 40]);
  const [end, ...others] = shortEnds(sheetOf(lesson));
  expect(others).toEqual([]);
  expect(end!.gap).toBeCloseTo(0.0003, 12);
  expect(end!.to[0]).toBeCloseTo(1, 12);
  expect(said(sheetOfLesson(lesson).findings)).toContain('stops 0.03 short of the next line');
  const mended = mendOf(lesson)!;
  expect(mended.name).toEqual({ how: 'draw-on', count: 1 });
  expect(sheetOf(mended.lesson).panelRings).toHaveLength(2);
  expect(sheetOfLesson(mended.lesson).findings).toEqual([]);
});

test('an end near a corner where creases meet goes to the corner, though a line of it is a little nearer', () => {
  const lesson = withValleys([0, 50, 100, 50], [50, 50, 50, 0], [50.3, 50.2, 50.3, 100]);
  const [end, ...others] = shortEnds(sheetOf(lesson));
  expect(others).toEqual([]);
  expect(end!.to).toEqual([0.5, 0.5]);
});

test('several ends are drawn on together, and then all panels are there', () => {
  const lesson = withValleys([0, 30, 99.9, 30], [0.1, 60, 100, 60], [50, 60.1, 50, 100]);
  expect(shortEnds(sheetOf(lesson))).toHaveLength(3);
  const mended = mendOf(lesson)!;
  expect(mended.name).toEqual({ how: 'draw-on', count: 3 });
  expect(sheetOf(mended.lesson).panelRings).toHaveLength(4);
});

test('an end that lies further off than 1 % of the sheet is meant to end there', () => {
  const lesson = withValleys([0, 40, 98.5, 40]);
  expect(shortEnds(sheetOf(lesson))).toEqual([]);
  expect(said(sheetOfLesson(lesson).findings)).toContain('in the middle of a panel');
  expect(mendOf(lesson)).toBeNull();
});
