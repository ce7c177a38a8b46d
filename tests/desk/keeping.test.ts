/** Every edit is kept the moment it is made: what happens with other tabs, a full disk, a database that is closed. */
import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bytesOf } from '../../src/core/storage/text.ts';
import { newHome } from '../../src/desk/document/homes.ts';
import { words } from '../../src/words/words.ts';
import { eventually } from '../support/desk.ts';
import { passed, readyOf } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';
import { dropFile, keptAs, Locks, shelfHas, tab } from '../support/shelves.ts';
import { square } from '../support/square.ts';

/** A tab with the letter on its shelf and on its table. */
async function withLetter(name: string, locks?: Locks) {
  const one = tab(name, locks);
  await dropFile(one.desk, letter);
  await shelfHas(one.shelf, letter.title);
  return one;
}

describe('a lesson of this tab alone', () => {
  test('is written edit by edit, in the order in which they were made', async () => {
    const { desk, shelf } = await withLetter('in order');
    for (const title of ['One', 'Two', 'Three']) desk.edits.lesson('title', (one) => ({ ...one, title }));
    expect(shelf.asked.map(({ title }) => title)).toEqual([letter.title, 'One', 'Two', 'Three']);
    await shelfHas(shelf, 'Three');
    expect((await keptAs(shelf, 'Three')).undo).toHaveLength(3);
  });

  test('that is opened again from the same file comes back to its own place', async () => {
    const { desk, shelf } = await withLetter('same file');
    const { id } = await keptAs(shelf, letter.title);
    await dropFile(desk, letter);
    await eventually(() => expect(desk.library.idOnTable).toBe(id));
    desk.credit.setTitle('Once more');
    await shelfHas(shelf, 'Once more');
    expect(desk.library.idOnTable).toBe(id);
  });

  test('that is opened from its file after a restart goes on in its place, not as a copy', async () => {
    const { shelf } = await withLetter('after a restart');
    const { id } = await keptAs(shelf, letter.title);
    const later = tab('after a restart');
    await dropFile(later.desk, letter);
    await eventually(() => expect(later.desk.library.idOnTable).toBe(id));
    later.desk.credit.setTitle('Gone on');
    await shelfHas(shelf, 'Gone on');
    expect((await keptAs(shelf, 'Gone on')).id).toBe(id);
  });

  test('each lesson keeps what was done to it, however quickly another is opened', async () => {
    const { desk, shelf } = await withLetter('two in a row');
    desk.credit.setPlace('Aldermoor');
    await dropFile(desk, { ...square, title: 'Second' });
    desk.credit.setPlace('Birkmere');
    await shelfHas(shelf, letter.title, 'Second');
    expect((await keptAs(shelf, letter.title)).place).toBe('Aldermoor');
    await eventually(async () => expect((await keptAs(shelf, 'Second')).place).toBe('Birkmere'));
  });
});

test('a sample is never written to; the first change makes a lesson of one’s own', async () => {
  const { desk, shelf } = tab('sample');
  const { sheet } = readyOf(letter);
  const bytes = bytesOf(JSON.stringify(letter));
  expect(await desk.opening.openBytes('letter.json', bytes, newHome({ sample: 'letter.json' }))).toBe(true);
  await passed();
  expect(shelf.asked).toEqual([]);
  expect(await shelf.last()).toEqual({ id: null, sample: 'letter.json' });
  desk.paper.namePanel(sheet.panelRings.length - 1, 'flap');
  await shelfHas(shelf, letter.title);
  const { id, copy } = await keptAs(shelf, letter.title);
  expect(copy).toBeUndefined();
  await eventually(async () => expect(await shelf.last()).toEqual({ id, sample: 'letter.json' }));
});

describe('a lesson that another tab holds', () => {
  test('may be looked at; what is changed here becomes a copy, and the other stays as it was', async () => {
    const locks = new Locks();
    const first = await withLetter('held', locks);
    const { id } = await keptAs(first.shelf, letter.title);
    const second = tab('held', locks);
    await second.desk.opening.openKept(id);
    await eventually(() => expect(second.desk.store.look.notice?.text).toBe(words.openElsewhere));
    second.desk.credit.setTitle('Changed here');
    expect(second.desk.store.look.notice).toMatchObject({ text: words.copyElsewhere, stays: true });
    await shelfHas(first.shelf, letter.title, 'Changed here');
    expect((await keptAs(first.shelf, 'Changed here')).copy).toBe(true);
    expect((await keptAs(first.shelf, letter.title)).id).toBe(id);
  });

  test('is shown as that tab left it, once it lets go', async () => {
    const locks = new Locks();
    const first = await withLetter('let go', locks);
    const second = tab('let go', locks);
    await second.desk.opening.openKept((await keptAs(first.shelf, letter.title)).id);
    first.desk.credit.setTitle('Changed there');
    await shelfHas(first.shelf, 'Changed there');
    await dropFile(first.desk, { ...square, title: 'Another' });
    await eventually(() => expect(second.desk.store.document.lesson!.title).toBe('Changed there'));
    expect(second.desk.store.look.notice).toBeNull();
    second.desk.credit.setTitle('Mine now');
    await shelfHas(first.shelf, 'Another', 'Mine now');
  });

  test('is let go of when it is left, but not before all of it is written', async () => {
    const locks = new Locks();
    const first = await withLetter('still writing', locks);
    const second = tab('still writing', locks);
    await second.desk.opening.openKept((await keptAs(first.shelf, letter.title)).id);
    let write = () => {};
    first.shelf.waits = new Promise((resolve) => {
      write = resolve;
    });
    first.desk.credit.setTitle('At the last moment');
    await dropFile(first.desk, { ...square, title: 'Another' });
    await passed();
    expect(second.desk.store.document.lesson!.title).toBe(letter.title);
    write();
    await eventually(() => expect(second.desk.store.document.lesson!.title).toBe('At the last moment'));
  });

  test('where browsers have no locks, a writing that comes between makes a copy and overwrites nothing', async () => {
    const first = await withLetter('no locks');
    const second = tab('no locks');
    await second.desk.opening.openKept((await keptAs(first.shelf, letter.title)).id);
    first.desk.credit.setTitle('Of the first');
    await shelfHas(first.shelf, 'Of the first');
    second.desk.credit.setTitle('Of the second');
    await shelfHas(first.shelf, 'Of the first', 'Of the second');
    expect(second.desk.store.look.notice).toMatchObject({ text: words.copyChanged, stays: true });
    second.desk.credit.setTitle('Of the second still');
    await shelfHas(first.shelf, 'Of the first', 'Of the second still');
  });
});

describe.each([
  ['full', words.notKept.full],
  ['closed', words.notKept.closed],
] as const)('a database that is %s', (why, sentence) => {
  test('is said once, with a way out; it is tried again every four seconds until it keeps', async () => {
    const { desk, shelf, clock } = await withLetter(`again ${why}`);
    shelf.fails = () => why;
    desk.credit.setTitle('Not yet');
    await passed();
    expect(desk.keeping.unkept).toBe(why);
    expect(desk.store.look.notice).toMatchObject({ text: sentence, tone: 'trouble' });
    expect(desk.store.look.notice?.action?.label).toBe(words.saveAsFile);
    desk.store.put({ look: { notice: null } });
    const tried = shelf.asked.length;
    clock.pass(3999);
    expect(shelf.asked).toHaveLength(tried);
    clock.pass(1);
    await passed();
    expect(shelf.asked).toHaveLength(tried + 1);
    expect(desk.store.look.notice).toBeNull();
    shelf.fails = () => null;
    clock.pass(4000);
    await shelfHas(shelf, 'Not yet');
    await eventually(() => expect(desk.store.look.notice?.text).toBe(words.keptAgain));
    expect(desk.keeping.unkept).toBeNull();
  });
});

test('two lessons that could not be kept are both kept once there is room', async () => {
  const { desk, shelf, clock } = await withLetter('both');
  shelf.fails = () => 'full';
  desk.credit.setPlace('Aldermoor');
  await passed();
  await dropFile(desk, { ...square, title: 'Second' });
  await eventually(() => expect(shelf.asked.at(-1)!.title).toBe('Second'));
  await passed();
  shelf.fails = () => null;
  clock.pass(4000);
  await shelfHas(shelf, letter.title, 'Second');
  await eventually(async () => expect((await keptAs(shelf, letter.title)).place).toBe('Aldermoor'));
});

test('while one lesson is not kept yet, keeping another does not say that all is well', async () => {
  const { desk, shelf } = await withLetter('one of two');
  const { id } = await keptAs(shelf, letter.title);
  shelf.fails = (of) => (of === id ? 'full' : null);
  desk.credit.setPlace('Aldermoor');
  await passed();
  await dropFile(desk, { ...square, title: 'Second' });
  await shelfHas(shelf, letter.title, 'Second');
  await passed();
  expect(desk.keeping.unkept).toBe('full');
});

const deed = fc.oneof(
  fc.record({ title: fc.string({ minLength: 1, maxLength: 3 }) }),
  fc.constantFrom('undo' as const, 'redo' as const, 'fail' as const, 'work' as const, 'wait' as const),
);

test('whatever was done while writings fail at random, the last state is kept with its undo (seed 1203)', async () => {
  let run = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(deed, { maxLength: 14 }), async (deeds) => {
      const name = `at random ${run++}`;
      const { desk, shelf, clock } = await withLetter(name);
      for (const one of deeds) {
        if (typeof one === 'object') desk.edits.lesson('title', (lesson) => ({ ...lesson, ...one }));
        else if (one === 'undo') desk.edits.undo();
        else if (one === 'redo') desk.edits.redo();
        else if (one === 'wait') {
          await passed();
          clock.pass(4000);
        } else shelf.fails = () => (one === 'fail' ? 'full' : null);
      }
      shelf.fails = () => null;
      await passed();
      clock.pass(4000);
      const { lesson, canUndo, canRedo } = desk.store.document;
      const text = JSON.stringify(lesson);
      await eventually(async () => expect((await shelf.list()).map((one) => one.text)).toEqual([text]));
      await eventually(() => expect(desk.keeping.unkept).toBeNull());
      // what another tab reads
      const later = tab(name);
      await later.desk.opening.openKept((await shelf.list())[0]!.id);
      expect(later.desk.store.document.lesson).toEqual(lesson);
      expect(later.desk.store.document).toMatchObject({ canUndo, canRedo });
    }),
    { seed: 1203, numRuns: 12 },
  );
});
