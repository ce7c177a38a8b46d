/** Lines that are there: erased, changed, split, joined, moved, trimmed, picked; and the outline of the sheet itself. */
import { beforeEach, describe, expect, test } from 'vitest';
import type { Point } from '../../src/core/numeric/vector.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { drawWords } from '../../src/words/words.ts';
import { drawLine } from '../support/desk.ts';
import { across, drawingDesk, emptySquare, linesOn, upright, useTool } from '../support/drawn.ts';
import { readyOf } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';

let desk: Desk;
const lines = () => linesOn(desk);
const use = (key: string, ...places: Point[]) => useTool(desk, key, ...places);

beforeEach(async () => {
  desk = await drawingDesk();
});

describe('a change of lines', () => {
  beforeEach(() => {
    drawLine(desk, [75, 0], [75, 150]);
    drawLine(desk, [0, 75], [150, 75]);
  });

  test('erasing takes the piece between two crossings', () => {
    use('x', [75, 20]);
    expect(lines()).toEqual([across(75), [75, 75, 75, 150]]);
  });

  test('a stroke of the eraser takes every piece that it runs over, as one edit', () => {
    desk.commands.press('x', false);
    desk.drawing.hands.stroke([60, 30], [100, 30], false);
    expect(desk.store.drawing.stroke).toEqual({ from: [60, 30], to: [100, 30] });
    desk.drawing.hands.stroke([60, 30], [120, 90], true);
    expect(desk.store.drawing.stroke).toBeNull();
    expect(lines()).toEqual([
      [0, 75, 75, 75],
      [75, 75, 75, 150],
    ]);
    desk.edits.undo();
    expect(lines()).toEqual([across(75), upright(75)]);
  });

  test('the kind of one piece is changed, and its fold turned with it', () => {
    desk.drawing.hands.setKind('mountain');
    use('k', [75, 20]);
    const below = desk.store.document.lesson!.pattern.lines.find(
      ({ from, to }) => Math.min(from[1], to[1]) === 0,
    );
    expect(below).toMatchObject({ kind: 'mountain' });
    expect(lines()).toEqual([across(75), [75, 0, 75, 75], [75, 75, 75, 150]]);
  });

  test('splitting and joining leave the same line', () => {
    use('b', [75, 30]);
    expect(lines()).toHaveLength(3);
    use('j', [75, 20]);
    expect(lines()).toEqual([across(75), upright(75)]);
  });

  test('a point that is moved takes its lines along', () => {
    use('p', [0, 75], [0, 90]);
    // of the line that ended there the piece to the next crossing slopes now; what lies beyond stays
    expect(lines()).toEqual([[0, 90, 75, 75], upright(75), [75, 75, 150, 75]]);
  });

  test('trimming shortens a line to another', () => {
    use('t', [75, 20], [20, 75]);
    expect(lines()).toHaveLength(2);
    expect(lines()).not.toContainEqual(upright(75));
    expect(lines()).toContainEqual(across(75));
  });

  test('pieces are picked one by one or by a stroke, take a kind at once, and are erased by a key', () => {
    use('s', [75, 20]);
    use('s', [20, 75]);
    expect(desk.store.look.picked).toHaveLength(2);
    desk.commands.press('f', false);
    const kinds = desk.store.document.lesson!.pattern.lines.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'flat')).toHaveLength(2);
    desk.commands.press('s', false);
    desk.drawing.hands.stroke([60, 30], [100, 30], true);
    expect(desk.store.look.picked).toHaveLength(1);
    desk.commands.press('Backspace', false);
    // the lower piece was taken out by the stroke, so that the left one alone is erased
    expect(lines()).toEqual([
      [75, 0, 75, 75],
      [75, 75, 75, 150],
      [75, 75, 150, 75],
    ]);
    desk.drawing.hands.eraseMarks();
    expect(lines()).not.toContainEqual([75, 0, 75, 75]);
  });

  test('nowhere near a line a tool says that there is none', () => {
    desk.commands.press('x', false);
    desk.drawing.hands.point({ at: [20, 20], name: '', line: null });
    desk.drawing.hands.press();
    expect(desk.store.drawing.trouble).toBe(drawWords.noLineThere);
  });
});

describe('the sheet itself', () => {
  test('may be measured in any unit: numbers that are typed are mm from its lower left corner', async () => {
    const outline = [
      [2, 2],
      [3, 2],
      [3, 3],
      [2, 3],
    ] as const;
    desk = await drawingDesk({ ...emptySquare, still: [2.5, 2.5], pattern: { outline, lines: [] } });
    use('1', [75, 0], [75, 150]);
    expect(lines()).toEqual([[2.5, 2, 2.5, 3]]);
    use('8', [0, 60]);
    expect(lines()[0]![0]).toBeCloseTo(2 + 10 / 150, 6);
  });

  test('is drawn corner by corner and closed at the first', () => {
    desk.drawing.hands.choose('outline');
    for (const [x, y] of [
      [0, 0],
      [150, 0],
      [150, 100],
      [0, 100],
      [0, 0],
    ] as const)
      desk.drawing.hands.pressAt(x, y);
    expect(desk.store.document.lesson!.pattern.outline).toEqual([
      [0, 0],
      [150, 0],
      [150, 100],
      [0, 100],
    ]);
    expect(desk.store.document.lesson!.sheet.size).toBe(150);
  });

  test('of another size keeps its lines, cut to it, and counts in mm as before', () => {
    drawLine(desk, [75, 0], [75, 150]);
    desk.drawing.hands.setOutline([
      [0, 0],
      [100, 0],
      [100, 60],
      [0, 60],
    ]);
    expect(lines()).toEqual([[75, 0, 75, 60]]);
    expect(desk.store.document.lesson!.sheet.size).toBe(100);
  });

  test('that crosses itself is refused with a sentence', () => {
    desk.drawing.hands.setOutline([
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ]);
    expect(desk.store.document.lesson).toBe(emptySquare);
    expect(desk.store.drawing.trouble).toMatch(/\.$/);
  });
});

test('what is picked is never a line of another lesson', async () => {
  use('1', [75, 0], [75, 150]);
  desk.picking.pickEverything();
  desk.edits.open(readyOf(letter));
  await desk.drawing.begin();
  desk.commands.press('Delete', false);
  expect(desk.store.look.picked).toEqual([]);
  expect(desk.store.document.lesson).toBe(letter);
});

test('a line that a step folds and that is erased is said, with the name of the step', async () => {
  desk = await drawingDesk(letter);
  use('x', [100, 20]);
  expect(desk.store.look.notice?.text).toBe(drawWords.stepsLose(['Right third']));
});
