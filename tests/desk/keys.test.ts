/** Every command of the table, by its key: it does what its name says, and no key of the table is left out here. */

import { describe, expect, test, vi } from 'vitest';
import type { Around } from '../../src/desk/around.ts';
import { keyText } from '../../src/desk/commands.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { commandWords, drawWords } from '../../src/words/words.ts';
import { eventually } from '../support/desk.ts';
import { deskInHand } from '../support/hand-solver.ts';
import { creaseAt, letter, panelAt } from '../support/letter.ts';

const page = { chooseFile: vi.fn(), focus: vi.fn() };

/** The letter, its steps played as tucks. */
const tucked = { ...letter, steps: letter.steps.map((step) => ({ ...step, kind: 'tuck' as const })) };

/** The letter folded as far as the middle of its first step; the middle panel is selected. */
function atHand(changes: Partial<Around> = {}) {
  const hand = deskInHand(tucked, { page, motionReduced: () => true, ...changes });
  hand.solver.finishAll();
  hand.desk.player.takeInHand(0.5);
  hand.screen.pick = vi.fn(() => null);
  hand.screen.setOnTable = vi.fn(() => new Promise<never>(() => {}));
  const { sheet } = hand.desk.store.document;
  hand.desk.store.put({ look: { selection: { kind: 'panel', id: panelAt(sheet!, 25) } } });
  page.chooseFile.mockClear();
  page.focus.mockClear();
  return hand;
}

type Hand = ReturnType<typeof atHand>;
type Does = (hand: Hand) => unknown;
const look = ({ desk }: Hand) => desk.store.look;
const place = ({ desk }: Hand) => desk.playhead.place;
const fall = ({ screen }: Hand) => Number(screen.eye.fall.toFixed(2));
const bearing = ({ screen }: Hand) => Number(screen.eye.bearing.toFixed(2));
const sheetOf = ({ desk }: Hand) => desk.store.document.lesson!.sheet;
const quarter = 1.57;

/** What each command changes: how it is read, and what it is afterwards. */
const does: Record<keyof typeof commandWords, readonly [read: Does, after: unknown]> = {
  play: [(hand) => look(hand).playing, true],
  stepBack: [place, 0],
  stepOn: [place, 1],
  foldBack: [place, 0.45],
  foldOn: [place, 0.55],
  tuck: [({ desk }) => desk.store.inside.tuck?.step, 0],
  turnOver: [(hand) => look(hand).turned, true],
  fit: [({ screen }) => screen.eye.zoom, 1],
  viewThreeQuarter: [(hand) => [bearing(hand), fall(hand)], [0.5, 0.98]],
  viewFront: [(hand) => [bearing(hand), fall(hand)], [0, quarter]],
  viewBack: [(hand) => [bearing(hand), fall(hand)], [2 * quarter, quarter]],
  viewLeft: [(hand) => [bearing(hand), fall(hand)], [-quarter, quarter]],
  viewRight: [(hand) => [bearing(hand), fall(hand)], [quarter, quarter]],
  viewTop: [(hand) => [bearing(hand), fall(hand)], [0, 0]],
  viewBottom: [(hand) => [bearing(hand), fall(hand)], [0, 2 * quarter]],
  setOnTable: [({ screen }) => vi.mocked(screen.setOnTable).mock.calls.length, 1],
  glass: [({ desk }) => desk.store.inside.glass, 'front'],
  fan: [({ desk }) => desk.store.inside.fan, 0.6],
  slice: [({ desk }) => [desk.store.inside.slice !== null, page.focus.mock.calls], [true, [['slice']]]],
  // the eye looks for a stack; what is lifted of it, tests/desk/inside.test.ts tells
  peel: [({ screen }) => vi.mocked(screen.pick).mock.calls.length > 0, true],
  putBack: [({ desk }) => desk.store.inside.peeled, 1],
  foldOnModel: [({ desk }) => desk.store.folding.on, true],
  draw: [({ desk }) => desk.store.drawing.on, true],
  foldNext: [(hand) => look(hand).notice?.tone, 'trouble'],
  sayWords: [() => page.focus.mock.calls, [['words']]],
  pickAll: [(hand) => look(hand).picked.length, 2],
  keepStill: [({ desk }) => desk.store.document.lesson!.still![0] < 50, true],
  sideUp: [(hand) => sheetOf(hand).sideUp, 'a'],
  swapColours: [(hand) => sheetOf(hand).sides.a.name, 'White'],
  paper: [(hand) => look(hand).paperShown, true],
  bend: [({ desk }) => desk.store.run.bend, true],
  free: [({ desk }) => desk.store.run.free, true],
  open: [() => page.chooseFile.mock.calls.length, 1],
  save: [({ solver }) => solver.asks('write').map(([format]) => format), ['lesson']],
  undo: [({ desk }) => desk.store.document.lesson!.title, letter.title],
  redo: [({ desk }) => desk.store.document.lesson!.title, 'Edited'],
  table: [(hand) => look(hand).dark, true],
  nextRoom: [() => page.focus.mock.calls, [['next room']]],
  keys: [(hand) => look(hand).keysShown, true],
  close: [(hand) => look(hand).selection, null],
};

/** What has to be done first for a command to have something to do. */
function prepare(name: string, { desk }: Hand): void {
  if (name === 'redo' || name === 'undo') desk.credit.setTitle('Edited');
  if (name === 'redo') desk.edits.undo();
  if (name === 'putBack') desk.store.put({ inside: { peeling: true, peeled: 2 } });
}

describe.each(Object.entries(does))('the command %s', (name, [read, after]) => {
  test('does what its name says, by its key and by itself', async () => {
    for (const byKey of [true, false]) {
      const hand = atHand();
      prepare(name, hand);
      expect(read(hand)).not.toEqual(after);
      const { commands } = hand.desk;
      const { key, held } = commands.list.find((one) => keyText(one) === commands.keyOf(name as never))!;
      if (byKey) expect(commands.press(key, held)).toBe(true);
      else commands.run(name as never);
      await eventually(() => expect(read(hand)).toEqual(after));
    }
  });
});

test('no command is left out', () => {
  const { desk } = atHand();
  const always = desk.commands.list.filter((one) => one.while === 'always').map(({ name }) => name);
  expect(always.toSorted()).toEqual(
    Object.keys(does)
      .map((name) => commandWords[name as never])
      .toSorted(),
  );
});

describe('keys while drawing', () => {
  const drawingDesk = async (): Promise<Desk> => {
    const { desk } = atHand();
    await desk.drawing.begin();
    return desk;
  };

  test('take the tool or the kind that they name, capital or not', async () => {
    const desk = await drawingDesk();
    for (const { key, name } of desk.commands.list.filter((one) => one.while === 'drawing')) {
      if (key.length > 1 || key === '/') continue;
      desk.commands.press(key.toUpperCase(), false);
      const { tool, kind } = desk.store.drawing;
      expect([drawWords.tools[tool], drawWords.kind[kind]]).toContain(name);
    }
  });

  test('with Ctrl mean what they mean elsewhere', async () => {
    const desk = await drawingDesk();
    desk.credit.setTitle('Edited');
    expect(desk.commands.press('z', true)).toBe(true);
    expect(desk.store.document.lesson).toBe(tucked);
    expect(desk.commands.press('Z', true)).toBe(true);
    expect(desk.store.document.lesson!.title).toBe('Edited');
    expect(desk.commands.press('x', true)).toBe(false);
    expect(desk.store.drawing.tool).toBe('through');
  });

  test('a slash asks for a place by numbers, and Backspace erases as Delete does', async () => {
    const desk = await drawingDesk();
    desk.commands.press('/', false);
    expect(page.focus).toHaveBeenCalledExactlyOnceWith('place');
    desk.picking.pickAll([creaseAt(desk.store.document.sheet!, 50)]);
    desk.commands.press('Backspace', false);
    expect(desk.store.document.lesson!.pattern.lines.map(({ from }) => from[0])).toEqual([100]);
  });

  test('mean nothing of drawing once it is over', async () => {
    const desk = await drawingDesk();
    await desk.drawing.toggle();
    expect(desk.commands.press('/', false)).toBe(false);
    expect(desk.commands.press('Delete', false)).toBe(false);
    expect(desk.commands.press('q', false)).toBe(false);
  });
});

test('Esc closes the innermost first: the tool, what is open inside, and then what is selected', async () => {
  const { desk } = atHand();
  desk.lookInside.toggleFan();
  await desk.folding.toggle();
  desk.store.put({ look: { selection: { kind: 'panel', id: 0 } } });
  const press = () => {
    desk.commands.press('Escape', false);
    return [desk.store.folding.on, desk.store.inside.fan, desk.store.look.selection?.id ?? null];
  };
  expect([press(), press(), press()]).toEqual([
    [false, 0.6, 0],
    [false, 0, 0],
    [false, 0, null],
  ]);
});
