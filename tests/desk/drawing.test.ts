/** Drawing on the flat sheet: every tool by its key, told by numbers, draws what its geometry says on a square of 150 mm. */
import { beforeEach, describe, expect, test } from 'vitest';
import type { Point } from '../../src/core/numeric/vector.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { drawWords, words } from '../../src/words/words.ts';
import { drawLine } from '../support/desk.ts';
import { deskInHand, readyOf } from '../support/hand-solver.ts';
import { creaseAt, letter } from '../support/letter.ts';

const empty = { ...letter, pattern: { ...letter.pattern, lines: [] }, steps: [] };

let desk: Desk;
beforeEach(async () => {
  ({ desk } = deskInHand(empty));
  await desk.drawing.begin();
});

/** Ends in mm, the lower or left one first. */
type Line = readonly [x1: number, y1: number, x2: number, y2: number];
const round = (value: number) => Math.round(value * 1e6) / 1e6 + 0;

const lines = (): Line[] =>
  desk.store.document
    .lesson!.pattern.lines.map(({ from, to }) => [from, to].toSorted((a, b) => a[0] - b[0] || a[1] - b[1]))
    .map(([a, b]): Line => [round(a![0]), round(a![1]), round(b![0]), round(b![1])])
    .toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]);

const upright = (x: number): Line => [x, 0, x, 150];
const across = (y: number): Line => [0, y, 150, y];

/** Takes the tool of a key in hand and tells it places by numbers. */
function use(key: string, ...places: Point[]): void {
  desk.commands.press(key, false);
  for (const [x, y] of places) desk.drawing.hands.pressAt(x, y);
}

describe('a construction', () => {
  const [left, right, bottom]: Point[] = [
    [0, 60],
    [150, 60],
    [60, 0],
  ];
  // each by hand from the geometry of the square
  test.each<[string, string, Point[], Line[]]>([
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
    expect(desk.store.document.lesson).toBe(empty);
  });

  test('a corner onto the middle line, through the other corner, is at 30 degrees (half of an equilateral triangle)', () => {
    use('1', [75, 0], [75, 150]);
    use('5', [150, 0], [75, 20], [0, 0]);
    expect(lines()).toEqual([[0, 0, 150, round(150 / Math.sqrt(3))], upright(75)]);
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
    expect(desk.store.document.lesson).toBe(empty);
    expect(desk.store.drawing.trouble).toMatch(/\.$/);
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
  ({ desk } = deskInHand(letter));
  await desk.drawing.begin();
  use('x', [100, 20]);
  expect(desk.store.look.notice?.text).toBe(drawWords.stepsLose(['Right third']));
  expect(desk.store.look.notice?.text).not.toBe(words.undoEnds);
});
