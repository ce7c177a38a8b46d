/** Folding on the model: two places make a line, what lies beside it is folded over, and the step comes into the lesson. */
import { describe, expect, test } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { isRefused } from '../../src/core/lesson/on-model/folded.ts';
import { deskInHand, layersHere, passed } from '../support/hand-solver.ts';
import { creaseAt, letter, panelAt } from '../support/letter.ts';

const plain: Lesson = { ...letter, pattern: { ...letter.pattern, lines: [] }, steps: [] };

/** The tool in hand on a lesson that is folded up to a place, its layers known. */
async function withTool(lesson: Lesson, place = 0) {
  const hand = deskInHand(lesson, { layers: layersHere });
  const { desk, clock, solver } = hand;
  if (lesson.steps.length > 0) solver.finishAll();
  await passed();
  desk.player.takeInHand(place);
  clock.pass(90);
  await passed();
  await desk.folding.toggle();
  clock.pass(90);
  await passed();
  const { hands } = desk.folding;
  /** Points at a place of the flat sheet, mm. */
  const pointAt = (x: number, y: number, panelX = x) => {
    const panel = panelAt(desk.store.document.sheet!, panelX);
    hands.addPoint(hands.pointOf({ panel, flat: [x / 150, y / 150], vertex: null, crease: null })!);
  };
  return { ...hand, hands, pointAt };
}

const linesOf = (lesson: Lesson) =>
  lesson.pattern.lines.map(({ from, to, kind }) => {
    const [a, b] = [from, to].toSorted((p, q) => p[0] - q[0] || p[1] - q[1]);
    return [...a!, ...b!, kind].map((one) => (typeof one === 'number' ? Math.round(one * 1e6) / 1e6 : one));
  });

describe('a fold over a line', () => {
  test('between two places of the flat sheet is a valley there, in a step that folds it flat', async () => {
    const { desk, hands, pointAt } = await withTool(plain);
    pointAt(50, 0.1, 40);
    pointAt(50, 149.9, 40);
    expect(hands.now.depth).toBe(1);
    hands.fold();
    const lesson = desk.store.document.lesson!;
    expect(linesOf(lesson)).toEqual([[50, 0, 50, 150, 'valley']]);
    expect(lesson.steps.map(({ kind, drives }) => [kind, drives.map(({ angle }) => angle)])).toEqual([
      ['fold', [180]],
    ]);
    expect(desk.store.folding.on).toBe(false);
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(plain);
  });

  test('behind is a mountain', async () => {
    const { desk, hands, pointAt } = await withTool(plain);
    hands.chooseWay('behind');
    pointAt(50, 10);
    pointAt(50, 140);
    hands.fold();
    expect(linesOf(desk.store.document.lesson!)).toEqual([[50, 0, 50, 150, 'mountain']]);
  });

  test('moves the smaller part, unless the other is chosen', async () => {
    const { hands, pointAt } = await withTool(plain);
    pointAt(50, 10);
    pointAt(50, 140);
    const reach = () => {
      const xs = hands.now.movingPaper.flat().map(([x]) => Math.round(x * 150));
      return [Math.min(...xs), Math.max(...xs)];
    };
    expect(reach()).toEqual([0, 50]);
    hands.choose({ otherSide: true });
    expect(reach()).toEqual([50, 150]);
  });

  test('through two layers creases every panel that lies on the line, each as it faces the eye', async () => {
    // the right third lies over the middle: half-way up, all of it is folded up over a level line
    const step = { ...letter, steps: letter.steps.slice(0, 1) };
    const { desk, hands, pointAt } = await withTool(step, 1);
    pointAt(55, 50, 75);
    pointAt(95, 50, 75);
    expect(hands.now.depth).toBe(2);
    hands.fold();
    const level = linesOf(desk.store.document.lesson!).filter(([, y1, , y2]) => y1 === 50 && y2 === 50);
    // a valley where the paper's first side faces the eye, a mountain where the right third shows its back
    expect(level.map(([x1, , x2, , kind]) => `${x1} ${x2} ${kind}`).toSorted()).toEqual([
      '0 50 valley',
      '100 150 mountain',
      '50 100 valley',
    ]);
  });
});

describe('the tool', () => {
  test('takes back point by point at Esc, and is put away at last', async () => {
    const { desk, pointAt } = await withTool(plain);
    pointAt(50, 10);
    pointAt(50, 140);
    const press = () => {
      desk.commands.press('Escape', false);
      return [desk.store.folding.points.length, desk.store.folding.on];
    };
    expect([press(), press(), press()]).toEqual([
      [1, true],
      [0, true],
      [0, false],
    ]);
  });

  test('begins a new line with a third point', async () => {
    const { desk, pointAt } = await withTool(plain);
    for (const y of [10, 140, 70]) pointAt(50, y);
    expect(desk.store.folding.points.map(({ flat }) => Math.round(flat[1] * 150))).toEqual([70]);
  });

  test('goes to the end of the step that the slider is in', async () => {
    const { desk } = await withTool(letter, 0.4);
    expect(desk.playhead.place).toBe(1);
    expect(desk.store.folding.on).toBe(true);
  });

  test('is put away by its key, and by another lesson', async () => {
    const { desk } = await withTool(plain);
    desk.commands.press('a', false);
    expect(desk.store.folding.on).toBe(false);
  });

  test('refuses two places of two planes, and names the panels', async () => {
    const half = {
      ...letter,
      steps: [{ ...letter.steps[0]!, drives: [{ ...letter.steps[0]!.drives[0]!, angle: 90 }] }],
    };
    const { desk, hands, pointAt } = await withTool(half, 1);
    pointAt(75, 75);
    pointAt(125, 75);
    const folded = hands.now.folded!;
    expect(isRefused(folded) && folded.refused).toMatchObject({ how: 'two-planes' });
    hands.fold();
    expect(desk.store.document.lesson).toBe(half);
    expect(desk.store.folding.on).toBe(true);
  });

  test('a flap that opens begins at the top layer, a straight fold takes all', async () => {
    const { desk, hands } = await withTool(plain);
    hands.chooseWay('squash');
    expect(desk.store.folding).toMatchObject({ way: 'squash', layers: 1 });
    hands.choose({ layers: 2 });
    hands.chooseWay('petal');
    expect(desk.store.folding.layers).toBe(2);
  });

  test('takes a corner before a crease, and on a crease its quarters, thirds and middle', async () => {
    const { desk, hands } = await withTool(letter, 0);
    const { sheet } = desk.store.document;
    const panel = panelAt(sheet!, 75);
    const crease = creaseAt(sheet!, 50);
    const take = (y: number, vertex: number | null = null) => {
      const { took, flat } = hands.pointOf({ panel, flat: [51 / 150, y / 150], vertex, crease })!;
      return [took, Math.round(flat[0] * 150), Math.round(flat[1] * 1500) / 10];
    };
    expect(take(73)).toEqual(['crease', 50, 75]);
    expect(take(51)).toEqual(['crease', 50, 50]);
    expect(take(36)).toEqual(['crease', 50, 37.5]);
    // six hundredths of the crease from the middle: too far to be meant
    expect(take(84)).toEqual(['crease', 50, 84]);
    expect(take(73, sheet!.creaseFrom[crease]!)[0]).toBe('corner');
    const free = hands.pointOf({ panel, flat: [0.5, 0.4], vertex: null, crease: null })!;
    expect([free.took, free.flat]).toEqual(['panel', [0.5, 0.4]]);
  });
});
