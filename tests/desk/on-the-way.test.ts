/** What a teacher stumbles over on the way: names of new lessons, all that is left to fold, a press beside a corner. */
import 'fake-indexeddb/auto';
import { expect, test, vi } from 'vitest';
import type { Finding } from '../../src/core/finding/finding.ts';
import { checkLesson } from '../../src/core/lesson/check/check-lesson.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import { runPlan } from '../../src/core/run/run.ts';
import { bytesOf } from '../../src/core/storage/text.ts';
import { summaryOf } from '../../src/desk/run/standing.ts';
import { drawWords, words } from '../../src/words/words.ts';
import { drawLine, settled, workingDesk } from '../support/desk.ts';
import { blueSquare } from '../support/square.ts';

test('a new lesson has a name of its own', async () => {
  const desk = workingDesk('names');
  const title = () => desk.store.document.lesson!.title;
  await desk.opening.newLesson();
  expect(title()).toBe(words.newTitle(1));
  await desk.drawing.begin();
  drawLine(desk, [75, 0], [75, 150]);
  await vi.waitFor(async () => expect(await desk.around.shelf.list()).toHaveLength(1));
  await desk.opening.newLesson();
  expect(title()).toBe(words.newTitle(2));
  // nothing was drawn on it, so that its name is free still
  await desk.opening.newLesson();
  expect(title()).toBe(words.newTitle(2));
});

// common practice, no source: a square halved along its middle line is two layers deep
test('an empty step folds all creases that no step folds yet, and then there are none', async () => {
  const desk = workingDesk('all of these');
  await desk.opening.newLesson();
  await desk.drawing.begin();
  drawLine(desk, [75, 0], [75, 150]);
  await settled(desk);
  desk.steps.add(-1, 'collapse');
  await settled(desk);
  const left = desk.steps.unfolded;
  expect(left).toHaveLength(1);
  desk.steps.finish(0, left);
  await settled(desk);
  expect(desk.steps.unfolded).toEqual([]);
  expect(summaryOf(desk.store.state).tone).toBe('well');
  desk.edits.undo();
  await settled(desk);
  expect(desk.steps.unfolded).toEqual(left);
});

test('what is picked is folded in a new step by its key; with nothing picked that is said', async () => {
  const desk = workingDesk('by key');
  await desk.opening.newLesson();
  await desk.drawing.begin();
  drawLine(desk, [0, 75], [150, 75]);
  await desk.drawing.toggle();
  await settled(desk);
  desk.commands.press('h', false);
  expect(desk.store.look.notice?.text).toBe(words.pickFirst);
  expect(desk.store.document.lesson!.steps).toHaveLength(0);
  const valley = [...desk.store.document.sheet!.creaseKind.keys()].find(
    (crease) => desk.store.document.sheet!.creaseKind[crease] === 1,
  )!;
  desk.picking.pickAll([valley]);
  desk.commands.press('h', false);
  expect(desk.store.document.lesson!.steps).toHaveLength(1);
  expect(desk.store.document.lesson!.steps[0]!.drives).toHaveLength(1);
});

test('a press a little beside a corner takes the corner; further off the place that was taken is named', async () => {
  const desk = workingDesk('beside');
  await desk.opening.newLesson();
  await desk.drawing.begin();
  const { hands } = desk.drawing;
  hands.choose('through');
  const reach = 4;
  const pressNear = (x: number, y: number) => {
    hands.point(hands.now.cursorAt([x, y], reach));
    hands.press();
  };
  pressNear(5, 2);
  expect(desk.store.drawing.given[0]).toMatchObject({ kind: 'point', at: [0, 0] });
  expect(desk.store.drawing.took).toBe('corner');
  hands.choose('through');
  pressNear(20, 31);
  expect(desk.store.drawing.given[0]).toMatchObject({ kind: 'point', at: [20, 31] });
  expect(desk.store.drawing.took).toBe('20, 31 mm');
  hands.choose('line-onto-line');
  pressNear(75, 75);
  expect(desk.store.drawing.given).toEqual([]);
  expect(desk.store.drawing.trouble).toBe(drawWords.noLineThere);
});

/**
 * One corner with sectors of 90, 60, 90 and 120 degrees, whose alternate sums are 180 (Kawasaki's condition), three valleys
 * and a mountain (Maekawa's), the two at the smallest sector unlike: it has one motion, so that one crease moves all four.
 */
const oneMotion = {
  ...blueSquare,
  title: 'One motion',
  sheet: { ...blueSquare.sheet, size: 100 },
  pattern: {
    outline: [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ],
    lines: [
      { from: [50, 50], to: [100, 50], kind: 'valley' },
      { from: [50, 50], to: [50, 100], kind: 'mountain' },
      { from: [50, 50], to: [0, 50 + 50 * Math.tan(Math.PI / 6)], kind: 'valley' },
      { from: [50, 50], to: [50 - 50 * Math.tan(Math.PI / 6), 0], kind: 'valley' },
    ],
  },
  steps: [
    {
      title: 'One crease',
      sentence: 'Fold it, and let the others follow.',
      kind: 'collapse',
      drives: [{ from: [50, 50], to: [100, 50], angle: 180 }],
    },
  ],
};

test('creases that only follow count as folded', async () => {
  const desk = workingDesk('followers');
  expect(await desk.opening.openBytes('one.json', bytesOf(JSON.stringify(oneMotion)))).toBe(true);
  await settled(desk);
  const { lesson, sheet } = desk.store.document;
  const never = (findings: readonly Finding[]) => findings.filter(({ code }) => code === 'crease-never-used');
  expect(never(checkLesson(lesson!, sheet!))[0]!.creases).toHaveLength(3);
  await vi.waitFor(() => expect(never(desk.store.document.findings)).toEqual([]));
  expect(desk.steps.unfolded).toEqual([]);

  const plan = planOfLesson(lesson!, sheet!);
  expect(never(plan.findings)).toHaveLength(1);
  expect(never(runPlan(plan, { bend: false, free: false, motionOnly: true }).findings)).toEqual([]);
});
