import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { carryOut, edit, editLesson, opened, redo, undo } from '../../src/desk/document/edits.ts';
import { get, set } from '../../src/desk/store.ts';
import { square } from '../support/square.ts';

const lesson: Lesson = {
  ...square,
  sheet: { ...square.sheet, sides: { ...square.sheet.sides, a: { name: 'Red', colour: '#aa0000' } } },
};

const ready = (of: Lesson) => ({
  lesson: of,
  sheet: sheetOfLesson(of).sheet!,
  stages: [],
  findings: [],
  trueUp: null,
});

describe('edits', () => {
  beforeEach(() => {
    set({ lesson: null, sheet: null });
    opened(ready(lesson));
    carryOut.show = (shown) => set(shown);
    set({ ...ready(lesson), turned: false, bend: false, free: false });
    carryOut.apply = () => {};
    vi.restoreAllMocks();
  });

  it('undo and redo put back every setting, one after the other', () => {
    editLesson('size', (one) => ({ ...one, sheet: { ...one.sheet, size: 210 } }));
    editLesson('side up', (one) => ({ ...one, sheet: { ...one.sheet, sideUp: 'a' } }));
    edit('turn over', { turned: true });
    editLesson('still', (one) => ({ ...one, still: [0.2, 0.2] }));
    undo();
    expect(get().lesson?.still).toBeUndefined();
    undo();
    undo();
    expect(get().turned).toBe(false);
    expect(get().lesson?.sheet.sideUp).toBe('b');
    undo();
    expect(get().lesson).toEqual(lesson);
    expect(get().canUndo).toBe(false);
    for (let k = 0; k < 4; k++) redo();
    expect(get().lesson?.sheet.size).toBe(210);
    expect(get().lesson?.still).toEqual([0.2, 0.2]);
    expect(get().canRedo).toBe(false);
  });

  it('a lesson that another one replaced comes back by undo with its edits, and they too undo', () => {
    editLesson('size', (one) => ({ ...one, sheet: { ...one.sheet, size: 210 } }));
    const other = ready({ ...lesson, title: 'Other' });
    opened(other);
    set(other);
    editLesson('side up', (one) => ({ ...one, sheet: { ...one.sheet, sideUp: 'a' } }));
    undo();
    undo();
    expect(get().lesson?.title).toBe('Square');
    expect(get().lesson?.sheet.size).toBe(210);
    undo();
    expect(get().lesson).toEqual(lesson);
    for (let k = 0; k < 3; k++) redo();
    expect(get().lesson?.title).toBe('Other');
    expect(get().lesson?.sheet.sideUp).toBe('a');
    expect(get().canRedo).toBe(false);
  });

  it('turning over leaves the lesson as it is: only the eye moves', () => {
    edit('turn over', { turned: true });
    expect(get().lesson?.sheet).toEqual(lesson.sheet);
  });

  it('the side up changes no line and no angle', () => {
    editLesson('side up', (one) => ({ ...one, sheet: { ...one.sheet, sideUp: 'a' } }));
    expect(get().lesson?.pattern).toEqual(lesson.pattern);
  });

  it('a colour that is dragged is one edit; later changes are another', () => {
    const paint = (colour: string) =>
      editLesson(
        'colour a',
        (one) => ({
          ...one,
          sheet: { ...one.sheet, sides: { ...one.sheet.sides, a: { name: 'Red', colour } } },
        }),
        true,
      );
    let now = 1000;
    vi.spyOn(performance, 'now').mockImplementation(() => now);
    for (const colour of ['#bb0000', '#cc0000', '#dd0000']) {
      paint(colour);
      now += 100;
    }
    now += 5000;
    paint('#ee0000');
    undo();
    expect(get().lesson?.sheet.sides.a.colour).toBe('#dd0000');
    undo();
    expect(get().lesson?.sheet.sides.a.colour).toBe('#aa0000');
  });

  it('a new edit forgets what was undone', () => {
    editLesson('size', (one) => ({ ...one, sheet: { ...one.sheet, size: 210 } }));
    undo();
    editLesson('side up', (one) => ({ ...one, sheet: { ...one.sheet, sideUp: 'a' } }));
    expect(get().canRedo).toBe(false);
    redo();
    expect(get().lesson?.sheet.size).toBe(150);
  });
});
