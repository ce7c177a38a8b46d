/** Drawing on the flat sheet: every construction by its key, told by numbers, draws what geometry says on a square of 150 mm. */
import { beforeEach, describe, expect, test } from 'vitest';
import type { Point } from '../../src/core/numeric/vector.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { drawWords } from '../../src/words/words.ts';
import { drawLine } from '../support/desk.ts';
import {
  across,
  type DrawnLine,
  drawingDesk,
  emptySquare,
  linesOn,
  rounded,
  upright,
  useTool,
} from '../support/drawn.ts';
import { creaseAt } from '../support/letter.ts';

let desk: Desk;
const lines = () => linesOn(desk);
const use = (key: string, ...places: Point[]) => useTool(desk, key, ...places);

beforeEach(async () => {
  desk = await drawingDesk();
});

describe('a construction', () => {
  const [left, right, bottom]: Point[] = [
    [0, 60],
    [150, 60],
    [60, 0],
  ];
  // each by hand from the geometry of the square
  test.each<[string, string, Point[], DrawnLine[]]>([
    [
      'through two points',
      '1',
      [
        [0, 0],
        [150, 150],
      ],
      [[0, 0, 150, 150]],
    ],
    [
      'one corner onto the next',
      '2',
      [
        [0, 0],
        [150, 0],
      ],
      [upright(75)],
    ],
    ['one edge onto the opposite', '3', [left!, right!], [upright(75)]],
    ['one edge onto its neighbour', '3', [left!, bottom!], [[0, 0, 150, 150]]],
    ['square to an edge, told by a point on it', '4', [[30, 150]], [upright(30)]],
    ['two corners onto the opposite edge', '6', [[0, 0], right!, [0, 150], right!], [upright(75)]],
    ['a point onto an edge, square to another', '7', [[30, 0], right!, bottom!], [upright(90)]],
    ['beside an edge, at 10 mm', '8', [left!], [upright(10)]],
  ])('%s', (_, key, told, drawn) => {
    use(key, ...told);
    expect(lines()).toEqual(drawn);
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(emptySquare);
  });

  test('a corner onto the middle line, through the other corner, is at 30 degrees (half of an equilateral triangle)', () => {
    use('1', [75, 0], [75, 150]);
    use('5', [150, 0], [75, 20], [0, 0]);
    expect(lines()).toEqual([[0, 0, 150, rounded(150 / Math.sqrt(3))], upright(75)]);
  });

  test('equal parts between two edges, as many as were set', () => {
    desk.drawing.hands.set({ count: 3 });
    use('9', left!, right!);
    expect(lines()).toEqual([upright(50), upright(100)]);
  });

  test('a grid needs no place: its key and one press', () => {
    use('g');
    desk.drawing.hands.press();
    expect(lines()).toEqual([across(75), upright(75)]);
  });

  test('a mirror image lies as far beyond the line, with the same kind', () => {
    desk.drawing.hands.setKind('mountain');
    use('1', [50, 0], [50, 150]);
    desk.drawing.hands.setKind('valley');
    use('1', [75, 0], [75, 150]);
    desk.picking.pick(creaseAt(desk.store.document.sheet!, 50));
    use('i', [75, 20]);
    expect(lines()).toEqual([upright(50), upright(75), upright(100)]);
    const kinds = desk.store.document.lesson!.pattern.lines.map(({ from, kind }) => [from[0], kind]);
    expect(kinds).toContainEqual([100, 'mountain']);
  });

  test('on all sides: a line across one corner comes to all four', () => {
    desk.drawing.hands.set({ extent: 'between' });
    use('1', [50, 0], [0, 50]);
    use('r');
    desk.drawing.hands.press();
    expect(lines()).toEqual([
      [0, 50, 50, 0],
      [0, 100, 50, 150],
      [100, 0, 150, 50],
      [100, 150, 150, 100],
    ]);
  });

  test('that has no answer says so, and what lies there already is not drawn twice', () => {
    use('2', [0, 0], [0, 0]);
    expect(desk.store.drawing.trouble).toBe(drawWords.noAnswer);
    use('1', [75, 0], [75, 150]);
    const { lesson } = desk.store.document;
    use('1', [75, 150], [75, 0]);
    expect(desk.store.drawing.trouble).toBe(drawWords.thereAlready);
    expect(desk.store.document.lesson).toBe(lesson);
  });

  test('with two answers waits for one of them: arrows go round, a press takes it, Esc leaves it', () => {
    // the two diagonals cross in the middle: two creases halve their angles
    use('1', [0, 0], [150, 150]);
    use('1', [0, 150], [150, 0]);
    const before = desk.store.document.lesson;
    use('3', [20, 20], [20, 130]);
    const first = desk.store.drawing.choice!;
    expect(desk.drawing.hands.now.proposals).toHaveLength(2);
    expect(desk.store.document.lesson).toBe(before);
    desk.drawing.hands.walk(1, 0);
    expect(desk.store.drawing.choice).toBe(1 - first);
    desk.drawing.hands.walk(1, 0);
    expect(desk.store.drawing.choice).toBe(first);
    desk.drawing.hands.press();
    expect(lines()).toHaveLength(3);
    use('3', [20, 20], [20, 130]);
    desk.commands.press('Escape', false);
    expect(desk.store.drawing).toMatchObject({ choice: null, given: [{ kind: 'line' }], on: true });
  });
});

describe('how far a line goes', () => {
  beforeEach(() => drawLine(desk, [75, 0], [75, 150]));

  test.each([
    ['over the whole sheet', 'whole', across(60)],
    ['from point to point', 'between', [20, 60, 50, 60]],
    ['for a length', 'length', [20, 60, 40, 60]],
  ] as const)('%s', (_, extent, line) => {
    desk.drawing.hands.set({ extent, length: 20 });
    use('1', [20, 60], [50, 60]);
    expect(lines()).toContainEqual(line);
  });

  test('to the next crease', () => {
    desk.drawing.hands.set({ extent: 'next' });
    use('4', [0, 60]);
    expect(lines()).toContainEqual([0, 60, 75, 60]);
  });
});

describe('with keys alone', () => {
  test('arrows walk from corner to corner, and a line is drawn without a pointer', () => {
    const { hands } = desk.drawing;
    hands.set({ parts: 1 });
    const at = () => desk.store.drawing.cursor!.at;
    hands.point({ at: [0, 0], name: '', line: null });
    hands.walk(1, 0);
    hands.walk(1, 0);
    expect(at()).toEqual([150, 0]);
    hands.press();
    hands.walk(0, 1);
    hands.walk(0, 1);
    hands.walk(-1, 0);
    hands.walk(-1, 0);
    expect(at()).toEqual([0, 150]);
    hands.press();
    expect(lines()).toEqual([[0, 150, 150, 0]]);
  });

  test('Esc takes back what was told, then what is picked, then the tool', () => {
    drawLine(desk, [75, 0], [75, 150]);
    desk.picking.pickEverything();
    use('1', [0, 0]);
    const press = () => {
      desk.commands.press('Escape', false);
      const { drawing, look } = desk.store;
      return [drawing.given.length, look.picked.length, drawing.on];
    };
    expect([press(), press(), press()]).toEqual([
      [0, 1, true],
      [0, 0, true],
      [0, 0, false],
    ]);
  });

  test('what was chosen to draw with is there again the next time; what was told is not', async () => {
    desk.drawing.hands.set({ angle: 90, extent: 'next' });
    use('4');
    use('2', [0, 0]);
    await desk.drawing.toggle();
    await desk.drawing.toggle();
    expect(desk.store.drawing).toMatchObject({
      on: true,
      tool: 'point-onto-point',
      angle: 90,
      extent: 'next',
    });
    expect(desk.store.drawing).toMatchObject({ given: [], cursor: null });
  });
});
