/** What can be done to the steps of a lesson, each as one edit; where the slider goes; what is told at the step. */
import { describe, expect, test } from 'vitest';
import type { Lesson, Step } from '../../src/core/lesson/lesson.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { proposedFor } from '../../src/desk/run/proposed.ts';
import { ringsNow } from '../../src/desk/tools/rings.ts';
import { stepKindWords, words } from '../../src/words/words.ts';
import { deskInHand, passed } from '../support/hand-solver.ts';
import { creaseAt, letter, panelAt } from '../support/letter.ts';

const folded = (lesson: Lesson = letter) => {
  const hand = deskInHand(lesson);
  hand.solver.finishAll();
  return hand;
};

const stepsOf = (desk: Desk) => desk.store.document.lesson!.steps;
const titles = (desk: Desk) => stepsOf(desk).map(({ title }) => title);
const crease = (desk: Desk, x: number) => creaseAt(desk.store.document.sheet!, x);

/** What a step drives: where its line stands, mm from the left, and the angle there. */
const drives = ({ drives }: Step) => drives.map(({ from, angle }) => [from[0], angle]);

type Case = readonly [
  what: string,
  edit: (desk: Desk) => void,
  after: (steps: readonly Step[]) => unknown,
  is: unknown,
];
const all = (steps: readonly Step[]) => steps.map(({ title }) => title);
const [right, left] = ['Right third', 'Left third'];
const fresh = words.newStepTitle(stepKindWords.note);

const cases: readonly Case[] = [
  ['added first', ({ steps }) => steps.add(-1, 'note'), all, [fresh, right, left]],
  ['added between', ({ steps }) => steps.add(0, 'note'), all, [right, fresh, left]],
  ['duplicated', ({ steps }) => steps.duplicate(0), all, [right, right, left]],
  ['moved', ({ steps }) => steps.move(0, 1), all, [left, right]],
  ['removed', ({ steps }) => steps.remove(0), all, [left]],
  ['switched off', ({ steps }) => steps.toggleOff(1), (now) => now.map(({ off }) => off), [undefined, true]],
  ['named', ({ steps }) => steps.setTitle(0, ' Over '), all, ['Over', left]],
  ['worded', ({ steps }) => steps.setSentence(0, 'Fold. '), ([one]) => one!.sentence, 'Fold.'],
  ['given a landmark', ({ steps }) => steps.setLandmark(0, ' thirds '), ([one]) => one!.landmark, 'thirds'],
  ['given minutes', ({ steps }) => steps.setMinutes(0, 3), ([one]) => one!.minutes, 3],
  ['of another kind', ({ steps }) => steps.setKind(0, 'collapse'), ([one]) => one!.kind, 'collapse'],
  ['turned', ({ steps }) => steps.setTurn(0, -90), ([one]) => one!.turn, -90],
  ['split', ({ steps }) => steps.split(0), (now) => now.slice(0, 2).map(drives), [[[100, 90]], [[100, 180]]]],
  [
    'joined',
    ({ steps }) => steps.joinWithNext(0),
    (now) => now.map((one) => drives(one).toSorted()),
    [
      [
        [100, 180],
        [50, 180],
      ].toSorted(),
    ],
  ],
];

describe.each(cases)('a step that is %s', (_, edit, after, is) => {
  test('is so by one edit that undo takes back', () => {
    const { desk } = folded();
    edit(desk);
    expect(after(stepsOf(desk))).toEqual(is);
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(letter);
    expect(desk.store.document.canUndo).toBe(false);
  });
});

test('what changes nothing is no edit', () => {
  const { desk } = folded();
  desk.steps.setTitle(0, 'Right third');
  desk.steps.setTitle(0, 'Right third ');
  desk.steps.setTitle(0, '  ');
  desk.steps.setSentence(0, 'Right third.\n');
  desk.steps.setLandmark(0, ' ');
  desk.steps.move(0, 0);
  desk.steps.move(0, 2);
  desk.steps.move(1, -1);
  desk.steps.setAngle(0, [], 90);
  expect(desk.store.document.lesson).toBe(letter);
  expect(desk.store.document.canUndo).toBe(false);
});

test('switched on again a step is as it was', () => {
  const { desk } = folded();
  desk.steps.toggleOff(0);
  desk.steps.toggleOff(0);
  expect(desk.store.document.lesson).toEqual(letter);
});

test('a repeated step folds the mirrored creases; where there are none that is said', () => {
  const { desk } = folded({ ...letter, steps: letter.steps.slice(0, 1) });
  desk.steps.repeat(0, 'left-right');
  expect(stepsOf(desk).map(drives)).toEqual([[[100, 180]], [[50, 180]]]);
  const lopsided = { ...letter.pattern, lines: letter.pattern.lines.slice(1) };
  const other = folded({ ...letter, pattern: lopsided, steps: letter.steps.slice(0, 1) }).desk;
  other.steps.repeat(0, 'left-right');
  expect(stepsOf(other)).toHaveLength(1);
  expect(other.store.look.notice?.text).toBe(words.nothingToRepeat);
});

describe('the angle at the end of a step', () => {
  test('is held to a half turn either way, and left free where it is taken away', () => {
    const { desk } = folded();
    const set = (degrees: number | null) => {
      desk.steps.setAngle(0, [crease(desk, 100)], degrees);
      return drives(stepsOf(desk)[0]!);
    };
    expect(set(200)).toEqual([[100, 180]]);
    expect(set(-200)).toEqual([[100, -180]]);
    expect(set(null)).toEqual([]);
  });

  test('of mountains and valleys together turns each its own way', () => {
    const lines = letter.pattern.lines.map((line, k) =>
      k === 0 ? { ...line, kind: 'mountain' as const } : line,
    );
    const { desk } = folded({ ...letter, pattern: { ...letter.pattern, lines } });
    desk.steps.setAngle(0, [crease(desk, 50), crease(desk, 100)], 90);
    expect(drives(stepsOf(desk)[0]!).toSorted()).toEqual(
      [
        [100, 90],
        [50, -90],
      ].toSorted(),
    );
  });
});

describe('the next fold', () => {
  test('is of the whole line of the crease that is selected, after the step that is shown', () => {
    const { desk } = folded({ ...letter, steps: letter.steps.slice(0, 1) });
    desk.playhead.moveTo(1);
    desk.picking.pick(crease(desk, 50));
    desk.commands.press('h', false);
    expect(stepsOf(desk).map(drives)).toEqual([[[100, 180]], [[50, 180]]]);
    expect(titles(desk)[1]).not.toBe('');
    expect(desk.store.look.picked).toEqual([crease(desk, 50)]);
  });

  test('is the first where the flat sheet is shown', () => {
    const { desk } = folded({ ...letter, steps: letter.steps.slice(0, 1) });
    desk.picking.pick(crease(desk, 50));
    desk.steps.foldPickedNext();
    expect(stepsOf(desk).map(drives)).toEqual([[[50, 180]], [[100, 180]]]);
  });
});

test('a step proposes its own words once its track is known', async () => {
  const { desk, solver } = deskInHand(letter);
  const proposed = () => proposedFor(letter, desk.store.document.sheet!, desk.playhead.board!, 1);
  expect(proposed()).toBe('');
  solver.finishAll();
  await passed();
  expect(proposed()).toMatch(/^[A-Z].*\.$/);
});

describe('rings', () => {
  test('stand at the corners that locate the step, while the slider is in it', () => {
    const { desk } = folded();
    const corner = desk.store.document.sheet!.creaseFrom[crease(desk, 50)]!;
    desk.steps.toggleLandmark(1, corner);
    const at = (place: number) => {
      desk.playhead.moveTo(place);
      return [...ringsNow(desk.store, desk.playhead)];
    };
    expect(at(1)).toEqual([]);
    expect(at(1.5)).toEqual([[corner, 'ring-landmark']]);
    expect(at(2)).toEqual([[corner, 'ring-landmark']]);
    desk.steps.toggleLandmark(1, corner);
    expect(at(1.5)).toEqual([]);
  });

  test('tell a corner that does not close from one that is only pointed at', () => {
    const { desk } = folded();
    desk.store.put({
      look: { hover: { kind: 'vertex', id: 2 }, marks: { vertices: [1, 3], creases: [], panels: [] } },
      run: { rest: { freedoms: 0, open: [{ vertex: 3, rotation: 0.1 }] } },
    });
    expect([...ringsNow(desk.store, desk.playhead)].toSorted()).toEqual([
      [1, 'ring-marked'],
      [2, 'ring-marked'],
      [3, 'ring-open'],
    ]);
  });
});

describe('picking', () => {
  test('adds and takes out; the last of them is the one that is spoken of', () => {
    const { desk } = folded();
    const [a, b] = [crease(desk, 50), crease(desk, 100)];
    desk.picking.pick(a);
    desk.picking.pick(b);
    expect(desk.store.look).toMatchObject({ picked: [a, b], selection: { kind: 'crease', id: b } });
    desk.picking.pick(b);
    expect(desk.store.look).toMatchObject({ picked: [a], selection: { kind: 'crease', id: a } });
    desk.picking.pick(a);
    expect(desk.store.look).toMatchObject({ picked: [], selection: null });
  });

  test('begins with the crease that is selected already, and with none where a panel is', () => {
    const { desk } = folded();
    const [a, b] = [crease(desk, 50), crease(desk, 100)];
    desk.store.put({ look: { selection: { kind: 'crease', id: a } } });
    desk.picking.pick(b);
    expect(desk.store.look.picked).toEqual([a, b]);
    desk.store.put({
      look: { picked: [], selection: { kind: 'panel', id: panelAt(desk.store.document.sheet!, 25) } },
    });
    expect(desk.picking.picked).toEqual([]);
  });
});
