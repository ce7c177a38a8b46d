/** One table of commands: keys, the list of keys and the README come from it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import { type Command, keyText } from '../../src/desk/commands.ts';
import { Desk } from '../../src/desk/desk.ts';
import { quietAround } from '../support/desk.ts';
import { sampleOf } from '../support/lessons.ts';
import { square } from '../support/square.ts';

const fresh = (lesson: Lesson = square) => {
  const desk = new Desk(quietAround());
  const sheet = sheetOfLesson(lesson).sheet!;
  desk.edits.open({ lesson, sheet, stages: [], findings: [], trueUp: null });
  return desk;
};

const told = (list: readonly Command[]) =>
  list.map((one) => `\`${keyText(one)}\` ${one.name[0]!.toLowerCase()}${one.name.slice(1)}`).join('; ');

describe('the table of commands', () => {
  const { list } = fresh().commands;

  test.each(['always', 'drawing'] as const)('no key means two things (%s)', (when) => {
    const keys = list.filter((one) => one.while === when).map(keyText);
    expect(keys.filter((key, k) => keys.indexOf(key) !== k)).toEqual([]);
    expect(keys.length).toBeGreaterThan(20);
  });

  test('the README lists each key with what it does', () => {
    const readme = readFileSync(join(import.meta.dirname, '..', '..', 'README.md'), 'utf8').replace(
      /\s+/g,
      ' ',
    );
    for (const when of ['always', 'drawing'] as const)
      expect(readme).toContain(told(list.filter((one) => one.while === when)));
  });
});

describe('a key', () => {
  test('does nothing before a lesson is on the table', () => {
    const desk = new Desk(quietAround());
    expect(desk.commands.press('t', false)).toBe(false);
    expect(desk.store.look.turned).toBe(false);
  });

  test('does what its command does, and Ctrl makes it another', () => {
    const desk = fresh();
    expect(desk.commands.press('t', false)).toBe(true);
    expect(desk.store.look.turned).toBe(true);
    expect(desk.commands.press('z', true)).toBe(true);
    expect(desk.store.look.turned).toBe(false);
    expect(desk.commands.press('Z', true)).toBe(true);
    expect(desk.store.look.turned).toBe(true);
    expect(desk.commands.press('z', false)).toBe(false);
  });

  test('means the tool while drawing, and what it meant before once drawing is over', async () => {
    const desk = fresh();
    await desk.drawing.begin();
    expect(desk.commands.press('t', false)).toBe(true);
    expect(desk.store.drawing.tool).toBe('trim');
    expect(desk.store.look.turned).toBe(false);
    expect(desk.commands.press('Escape', false)).toBe(true);
    expect(desk.store.drawing.on).toBe(false);
    desk.commands.press('t', false);
    expect(desk.store.look.turned).toBe(true);
  });

  test('Ctrl A picks every line and no raw edge', () => {
    const desk = fresh(sampleOf('pencil-case'));
    const kinds = [...desk.store.document.sheet!.creaseKind];
    const lines = [...kinds.keys()].filter((crease) => kinds[crease] !== KIND.edge);
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.length).toBeLessThan(kinds.length);
    expect(desk.commands.press('a', true)).toBe(true);
    expect([...desk.store.look.picked].sort((a, b) => a - b)).toEqual(lines);
  });
});
