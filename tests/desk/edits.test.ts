import { beforeEach, describe, expect, it } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { Desk } from '../../src/desk/desk.ts';
import { words } from '../../src/words/words.ts';
import { HandClock, quietAround } from '../support/desk.ts';
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
  let clock: HandClock;
  let desk: Desk;
  const now = () => desk.store.document;

  beforeEach(() => {
    clock = new HandClock();
    desk = new Desk(quietAround(clock));
    desk.edits.open(ready(lesson));
  });

  it('undo and redo put back every setting, one after the other', () => {
    desk.paper.setSize(210);
    desk.paper.setSideUp('a');
    desk.paper.turnOver();
    desk.edits.lesson('still', (one) => ({ ...one, still: [0.2, 0.2] }));
    desk.edits.undo();
    expect(now().lesson?.still).toBeUndefined();
    desk.edits.undo();
    expect(desk.store.look.turned).toBe(false);
    desk.edits.undo();
    expect(now().lesson?.sheet.sideUp).toBe('b');
    desk.edits.undo();
    expect(now().lesson).toEqual(lesson);
    expect(now().canUndo).toBe(false);
    for (let k = 0; k < 4; k++) desk.edits.redo();
    expect(now().lesson?.sheet.size).toBe(210);
    expect(now().lesson?.still).toEqual([0.2, 0.2]);
    expect(now().canRedo).toBe(false);
  });

  it('all findings are shown of one lesson only', () => {
    desk.store.put({ look: { allFindings: true } });
    desk.paper.setSize(210);
    expect(desk.store.look.allFindings).toBe(true);
    desk.edits.open(ready({ ...lesson, title: 'Other' }));
    expect(desk.store.look.allFindings).toBe(false);
  });

  it('undo ends at the border of the lesson, and says so', () => {
    desk.paper.setSize(210);
    const other = { ...lesson, title: 'Other' };
    desk.edits.open(ready(other));
    desk.paper.setSideUp('a');
    for (let k = 0; k < 100; k++) desk.edits.undo();
    expect(now().lesson).toBe(other);
    expect(desk.store.look.notice).toEqual({ text: words.undoEnds, tone: 'plain' });
    for (let k = 0; k < 100; k++) desk.edits.redo();
    expect(now().lesson).toEqual({ ...other, sheet: { ...other.sheet, sideUp: 'a' } });
    expect(desk.store.look.notice?.text).toBe(words.redoEnds);
  });

  it('turning over leaves the lesson as it is: only the eye moves', () => {
    desk.paper.turnOver();
    expect(now().lesson).toBe(lesson);
  });

  it('the side up changes no line and no angle', () => {
    desk.paper.setSideUp('a');
    expect(now().lesson?.pattern).toBe(lesson.pattern);
  });

  it('a colour that is dragged is one edit; later changes are another', () => {
    for (const colour of ['#bb0000', '#cc0000', '#dd0000']) {
      desk.paper.setColour('a', colour);
      clock.pass(100);
    }
    clock.pass(5000);
    desk.paper.setColour('a', '#ee0000');
    desk.edits.undo();
    expect(now().lesson?.sheet.sides.a.colour).toBe('#dd0000');
    desk.edits.undo();
    expect(now().lesson?.sheet.sides.a.colour).toBe('#aa0000');
  });

  it('a new edit forgets what was undone', () => {
    desk.paper.setSize(210);
    desk.edits.undo();
    desk.paper.setSideUp('a');
    expect(now().canRedo).toBe(false);
    desk.edits.redo();
    expect(now().lesson?.sheet.size).toBe(150);
  });
});
