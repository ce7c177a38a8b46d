/** What is said of the paper and of the lesson: each is one edit that undo takes back; a slip of the finger is none. */
import { describe, expect, test } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { partNames } from '../../src/core/lesson/part-names.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { deskInHand } from '../support/hand-solver.ts';
import { creaseAt, letter, panelAt } from '../support/letter.ts';

type Case = readonly [
  what: string,
  edit: (desk: Desk) => void,
  read: (lesson: Lesson) => unknown,
  after: unknown,
];

const cases: readonly Case[] = [
  ['size', ({ paper }) => paper.setSize(210), ({ sheet }) => sheet.size, 210],
  ['thickness', ({ paper }) => paper.setThickness(0.07), ({ sheet }) => sheet.thickness, 0.07],
  ['side up', ({ paper }) => paper.otherSideUp(), ({ sheet }) => sheet.sideUp, 'a'],
  ['colour', ({ paper }) => paper.setColour('a', '#010203'), ({ sheet }) => sheet.sides.a.colour, '#010203'],
  [
    'name of a side',
    ({ paper }) => paper.setName('b', ' Chalk '),
    ({ sheet }) => sheet.sides.b.name,
    'Chalk',
  ],
  [
    'both colours',
    ({ paper }) => paper.swapColours(),
    ({ sheet }) => [sheet.sides.a.name, sheet.sides.b.name],
    ['White', 'Blue'],
  ],
  ['title', ({ credit }) => credit.setTitle('Other'), ({ title }) => title, 'Other'],
  ['place', ({ credit }) => credit.setPlace('Corhaven'), ({ place }) => place, 'Corhaven'],
  ['maker', ({ credit }) => credit.setMaker('O. Wren'), ({ credit }) => credit.maker, 'O. Wren'],
  ['source', ({ credit }) => credit.setSource('A leaflet'), ({ credit }) => credit.source, 'A leaflet'],
  ['status', ({ credit }) => credit.setStatus('Asked'), ({ credit }) => credit.status, 'Asked'],
  ['date', ({ credit }) => credit.setDate('last May'), ({ credit }) => credit.date, 'last May'],
  ['permission', ({ credit }) => credit.setPermission('asked'), ({ credit }) => credit.permission, 'asked'],
];

describe.each(cases)('the %s', (_, edit, read, after) => {
  test('is changed in one edit, and nothing else with it; undo and redo go there and back', () => {
    const { desk } = deskInHand(letter);
    const before = read(letter);
    expect(before).not.toEqual(after);
    edit(desk);
    const changed = desk.store.document.lesson!;
    expect(read(changed)).toEqual(after);
    expect(changed.pattern).toBe(letter.pattern);
    expect(changed.steps).toBe(letter.steps);
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(letter);
    expect(desk.store.document.canUndo).toBe(false);
    desk.edits.redo();
    expect(desk.store.document.lesson).toBe(changed);
  });
});

test('what is allowed is kept in one order, whatever the order in which it is ticked', () => {
  const { desk } = deskInHand(letter);
  desk.credit.setAllowed(['post', 'teach-paid', 'flying']);
  expect(desk.store.document.lesson!.credit.allowed).toEqual(['teach-paid', 'post']);
});

test.each([0, 0.99, 100_001, Number.NaN, -150])('a sheet of %s mm is not taken', (size) => {
  const { desk } = deskInHand(letter);
  desk.paper.setSize(size);
  expect(desk.store.document.lesson).toBe(letter);
  expect(desk.store.document.canUndo).toBe(false);
});

test('a size that is said is no longer assumed', () => {
  const { desk } = deskInHand({ ...letter, sheet: { ...letter.sheet, sizeAssumed: true } });
  desk.paper.setSize(150);
  expect(desk.store.document.lesson!.sheet).toEqual(letter.sheet);
});

test('a slip of the finger is no edit: paper of no thickness, an empty name, what is there already', () => {
  const { desk } = deskInHand(letter);
  desk.paper.setThickness(0.001);
  desk.paper.setName('a', '  ');
  desk.paper.setName('a', 'Blue ');
  desk.paper.setColour('a', '#225588');
  desk.paper.namePanel(0, ' ');
  desk.paper.keepSelectedStill();
  expect(desk.store.document.lesson).toBe(letter);
  expect(desk.store.document.canUndo).toBe(false);
});

test('a panel gets a name, another one, and loses it', () => {
  const { desk } = deskInHand(letter);
  const { sheet } = desk.store.document;
  const flap = panelAt(sheet!, 125);
  const nameNow = () => partNames(desk.store.document.lesson!, sheet!).get(flap);
  desk.paper.namePanel(flap, ' right flap ');
  expect(nameNow()).toBe('right flap');
  desk.paper.namePanel(flap, 'lid');
  expect(nameNow()).toBe('lid');
  desk.paper.namePanel(flap, '');
  expect(nameNow()).toBeUndefined();
  desk.edits.undo();
  expect(nameNow()).toBe('lid');
});

test('the selected panel stays still while the others move', () => {
  const { desk, solver } = deskInHand(letter);
  solver.finishAll();
  const { sheet } = desk.store.document;
  const left = panelAt(sheet!, 25);
  desk.store.put({ look: { selection: { kind: 'panel', id: left } } });
  desk.playhead.moveTo(1.5);
  desk.paper.keepSelectedStill();
  const [x, y] = desk.store.document.lesson!.still!;
  expect(x).toBeGreaterThan(0);
  expect(x).toBeLessThan(50);
  expect(y).toBeGreaterThan(0);
  expect(y).toBeLessThan(150);
  const turned = (panel: number) => [
    ...desk.playhead.pose!.placement.rotation.slice(4 * panel, 4 * panel + 4),
  ];
  expect(turned(left)).toEqual([0, 0, 0, 1]);
  expect(turned(panelAt(sheet!, 75))).not.toEqual([0, 0, 0, 1]);
});

test('a panel kept still while the model is computed anew stays still on the new model, too', () => {
  const { desk, solver, clock } = deskInHand(letter);
  solver.finishAll();
  const { sheet } = desk.store.document;
  const left = panelAt(sheet!, 25);
  desk.steps.setAngle(1, [creaseAt(sheet!, 50)], 90);
  desk.store.put({ look: { selection: { kind: 'panel', id: left } } });
  desk.paper.keepSelectedStill();
  clock.pass(600);
  expect(desk.playhead.board!.stillPanel(sheet!)).toBe(left);
});

test('small pictures are taken anew once colours have rested for half a second', () => {
  const { desk, solver, screen, clock } = deskInHand(letter);
  solver.finishAll();
  screen.heard('picture');
  desk.paper.setColour('a', '#111111');
  clock.pass(499);
  desk.paper.setColour('a', '#222222');
  clock.pass(499);
  expect(screen.heard('picture')).toEqual([]);
  clock.pass(1);
  expect(screen.heard('picture')).toEqual([[0], [1]]);
});

test('bends and ways are asked of the solver as they are chosen, and undo asks it again', () => {
  const { desk, solver } = deskInHand(letter);
  solver.finishAll();
  desk.paper.toggleBend();
  solver.finishAll();
  desk.paper.toggleFree();
  solver.finishAll();
  desk.edits.undo();
  const asked = solver.bakes.map(({ choices }) => [choices.bend, choices.free]);
  expect(asked).toEqual([
    [false, false],
    [true, false],
    [true, true],
    [true, false],
  ]);
});
