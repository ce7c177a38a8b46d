/** What comes onto the table and how: files good and bad, kept lessons as they were left, drawings that are asked about. */
import 'fake-indexeddb/auto';
import { readFile } from 'node:fs/promises';
import { describe, expect, test } from 'vitest';
import { bytesOf } from '../../src/core/storage/text.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { words } from '../../src/words/words.ts';
import { eventually, workingAround } from '../support/desk.ts';
import { passed, ToldScreen } from '../support/hand-solver.ts';
import { creaseAt, letter } from '../support/letter.ts';
import { dropFile, keptAs, Locks, shelfHas, tab } from '../support/shelves.ts';
import { square } from '../support/square.ts';

/** Samples as they are served beside the page. */
const served = (path: string) =>
  readFile(new URL(`../../public/${path}`, import.meta.url)).then((file) => new Uint8Array(file));
const withSamples = { fetchFile: served };

const tableOf = ({ store }: Desk) => {
  const { lesson, sheet, stages, canUndo, canRedo } = store.document;
  const { bend, free } = store.run;
  return { lesson, sheet, stages, canUndo, canRedo, bend, free, turned: store.look.turned };
};

/** Two lines of two dash styles, which say nothing of what they mean. */
const unnamedDrawing = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
  <path d="M0 0H100V100H0Z" fill="none" stroke="#000"/>
  <path d="M50 0V100" stroke="#123456" stroke-dasharray="4 2"/>
</svg>`;

describe('a bad file', () => {
  test.each([
    ['is no lesson', '{"format": "a poem"}'],
    ['breaks off', '{"format": "creaseway-lesson", "version": 4, "ti'],
    ['has a curve', '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0C1 1 2 2 3 0"/></svg>'],
    ['is empty', ''],
  ])('that %s leaves everything as it is and says why', async (what, text) => {
    const { desk } = tab(`bad ${what}`);
    await dropFile(desk, letter);
    desk.paper.turnOver();
    desk.paper.toggleBend();
    const before = tableOf(desk);
    expect(await desk.opening.openBytes('bad.json', bytesOf(text))).toBe(false);
    expect(tableOf(desk)).toEqual(before);
    expect(desk.store.look.notice?.tone).toBe('trouble');
    expect(desk.store.look.notice?.text).toMatch(/^[A-Z“].+\.$/);
  });

  test('on the shelf leaves the lesson on the table as freely as it folds', async () => {
    const { desk, shelf } = tab('bad on the shelf');
    const turn = { writer: 'somebody', known: 0, revision: 1 };
    await shelf.put({ id: 'poem', text: '{"title": "Poem"}', changed: 1 }, turn);
    await shelf.putLook('poem', { place: 0, bend: false, free: true });
    await dropFile(desk, letter);
    desk.paper.toggleBend();
    expect(await desk.opening.openKept('poem')).toBe(false);
    expect(desk.store.run).toMatchObject({ bend: true, free: false });
    expect(desk.store.document.lesson!.title).toBe(letter.title);
  });
});

describe('a kept lesson', () => {
  /** The letter with one edit, looked at from behind, with bends, half-way through its first step. */
  async function leftAlone(name: string) {
    const { desk, clock, shelf } = tab(name);
    const screen = new ToldScreen();
    desk.screen.attach(screen);
    await dropFile(desk, letter);
    await shelfHas(shelf, letter.title);
    desk.credit.setTitle('Left');
    desk.paper.toggleBend();
    desk.paper.turnOver();
    await eventually(() => expect(desk.playhead.board!.reached).toBe(2));
    await eventually(() => expect(desk.store.run.computing).toBe(false));
    desk.player.takeInHand(0.5);
    screen.eye = { bearing: 1, fall: 0.5, zoom: 3 };
    clock.pass(250);
    const { id } = await keptAs(shelf, 'Left');
    await eventually(async () => expect((await shelf.look(id))?.place).toBe(0.5));
    return { id, shelf };
  }

  test('lies there as it was left: slider, bends, side and eye', async () => {
    const { id } = await leftAlone('as left');
    const { desk } = tab('as left');
    const screen = new ToldScreen();
    desk.screen.attach(screen);
    expect(await desk.opening.openKept(id)).toBe(true);
    await eventually(() => expect(desk.playhead.place).toBe(0.5));
    expect(desk.store.run.bend).toBe(true);
    expect(desk.store.look.turned).toBe(true);
    expect(screen.heard('fly').at(-1)).toEqual([{ bearing: 1, fall: 0.5, zoom: 3 }, false]);
    expect(screen.heard('over').at(-1)).toEqual([true, false]);
    expect(Math.abs(desk.playhead.pose!.angle[creaseAt(desk.store.document.sheet!, 100)]!)).toBeCloseTo(
      Math.PI / 2,
      1,
    );
  });

  test('stays turned over when an edit from before the restart is taken back', async () => {
    const { id } = await leftAlone('undo as left');
    const { desk } = tab('undo as left');
    await desk.opening.openKept(id);
    desk.edits.undo();
    expect(desk.store.document.lesson!.title).toBe(letter.title);
    expect(desk.store.look.turned).toBe(true);
    desk.edits.redo();
    expect(desk.store.document.lesson!.title).toBe('Left');
    expect(desk.store.look.turned).toBe(true);
  });

  test('of which one earlier state cannot be read opens all the same, without that state', async () => {
    const { id, shelf } = await leftAlone('spoilt');
    const kept = (await shelf.get(id))!;
    const change = { come: [{ key: kept.undo![0]!, text: 'no lesson {' }], gone: [] };
    const turn = { writer: 'somebody', known: kept.revision, revision: kept.revision + 1 };
    await shelf.put(kept, turn, change);
    const { desk } = tab('spoilt');
    expect(await desk.opening.openKept(id)).toBe(true);
    expect(desk.store.document.lesson!.title).toBe('Left');
    expect(desk.store.document.canUndo).toBe(false);
  });

  test('that was deleted does not open', async () => {
    const { id, shelf } = await leftAlone('deleted');
    await shelf.change(id, (one) => ({ ...one, deleted: 1 }));
    const { desk } = tab('deleted');
    expect(await desk.opening.openKept(id)).toBe(false);
    expect(desk.store.document.lesson).toBeNull();
  });
});

describe('the page begins', () => {
  test('with the first sample where nothing was open', async () => {
    const { desk } = tab('first time', new Locks(), withSamples);
    await desk.opening.begin();
    expect(desk.store.document.lesson!.title).toBe(desk.store.shelf.samples[0]!.title);
  });

  test('with the sample that lay there, its slider where it was', async () => {
    const { desk, shelf } = tab('this sample', new Locks(), withSamples);
    await shelf.putLast({ id: null, sample: 'ticket-wallet.json' });
    await shelf.putLook('sample ticket-wallet.json', { place: 1, bend: false, free: false, turned: true });
    await desk.opening.begin();
    const entry = desk.store.shelf.samples.find(({ file }) => file === 'ticket-wallet.json')!;
    expect(desk.store.document.lesson!.title).toBe(entry.title);
    expect(desk.store.look.turned).toBe(true);
    await eventually(() => expect(desk.playhead.place).toBe(1));
  });

  test('with a sample after fifteen seconds of a database that does not answer, and no sooner', async () => {
    const shelf = workingAround('silent', served).shelf;
    shelf.last = () => new Promise(() => {});
    const { desk, clock } = tab('silent', new Locks(), { ...withSamples, shelf });
    const begun = desk.opening.begin();
    await eventually(() => expect(desk.store.shelf.samples.length).toBeGreaterThan(0));
    clock.pass(14_999);
    await passed();
    expect(desk.store.document.lesson).toBeNull();
    clock.pass(1);
    await begun;
    expect(desk.store.document.lesson!.title).toBe(desk.store.shelf.samples[0]!.title);
  });

  test('with a sentence where neither a lesson nor a sample can be had', async () => {
    const { desk } = tab('nothing at all');
    await desk.opening.begin();
    expect(desk.store.document.lesson).toBeNull();
    expect(desk.store.look.notice?.text).toBe(words.lessonMissing);
  });

  test('with what a teacher opened meanwhile, not with a sample', async () => {
    let serve = (_: Uint8Array<ArrayBuffer>) => {};
    const fetchFile = () => new Promise<Uint8Array<ArrayBuffer>>((resolve) => (serve = resolve));
    const { desk } = tab('meanwhile', new Locks(), { fetchFile });
    const begun = desk.opening.begin();
    await dropFile(desk, letter);
    serve(new Uint8Array(await served('lessons/index.json')));
    await begun;
    expect(desk.store.document.lesson!.title).toBe(letter.title);
  });
});

describe('a drawing whose lines say nothing', () => {
  test('is asked about first, and opened as it was answered', async () => {
    const { desk } = tab('asked');
    await dropFile(desk, letter);
    expect(await desk.opening.openBytes('shapes.svg', bytesOf(unnamedDrawing))).toBe(false);
    expect(desk.store.document.lesson!.title).toBe(letter.title);
    const { title, groups, guess } = desk.store.opening.asked!;
    expect(title).toBe('shapes');
    const dashed = groups.findIndex(({ dash }) => dash === 'dashed');
    expect(dashed).toBeGreaterThanOrEqual(0);
    await desk.opening.takeMapping({ ...guess, [groups[dashed]!.key]: { kind: 'mountain' } });
    expect(desk.store.opening.asked).toBeNull();
    expect(desk.store.document.lesson!.title).toBe('shapes');
    expect(desk.store.document.lesson!.pattern.lines.map(({ kind }) => kind)).toEqual(['mountain']);
  });

  test('is asked about no more once another lesson was opened instead', async () => {
    const { desk } = tab('asked no more');
    await desk.opening.openBytes('shapes.svg', bytesOf(unnamedDrawing));
    await dropFile(desk, { ...square, title: 'Instead' });
    expect(desk.store.opening.asked).toBeNull();
    expect(desk.store.document.lesson!.title).toBe('Instead');
  });
});

test('a drawing that nearly closes is trued up in its own place on the shelf, and that can be kept', async () => {
  const { desk, shelf } = tab('true up');
  await dropFile(desk, letter);
  await shelfHas(shelf, letter.title);
  const { id } = await keptAs(shelf, letter.title);
  await desk.opening.trueUp();
  desk.credit.setTitle('Trued up');
  await shelfHas(shelf, 'Trued up');
  expect((await keptAs(shelf, 'Trued up')).id).toBe(id);
});
