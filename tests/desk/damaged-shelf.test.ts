/** A browser's database that was damaged, or written by a later page: everything is listed, nothing is lost or written over. */
import 'fake-indexeddb/auto';
import { readFile } from 'node:fs/promises';
import { openDB } from 'idb';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/core/numeric/random.ts';
import type { KeptLesson } from '../../src/keep/kept.ts';
import { Shelf } from '../../src/keep/shelf.ts';
import { words } from '../../src/words/words.ts';
import { eventually } from '../support/desk.ts';
import { passed } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';
import { dropFile, Locks, shelfHas, tab } from '../support/shelves.ts';

const whole = JSON.stringify({ ...letter, title: 'Whole' });
const kept = (id: string, text: unknown, more: object = {}) => ({
  ...{ id, title: `${id} as it was`, place: 'Quay', text, changed: 1000, revision: 3 },
  ...more,
});

/** Writes entries as they stand, after the shelf has made its stores. */
async function written(
  name: string,
  store: string,
  entries: readonly unknown[],
  keys?: readonly IDBValidKey[],
) {
  const shelf = new Shelf(name);
  await shelf.list();
  await shelf.close();
  const database = await openDB(name);
  const work = database.transaction(store, 'readwrite');
  await Promise.all(entries.map((entry, k) => work.store.put(entry, keys?.[k])));
  await work.done;
  database.close();
}

const rawLessons = async (name: string): Promise<KeptLesson[]> => {
  const database = await openDB(name);
  const all = await database.getAll('lessons');
  database.close();
  return all;
};

const damagedOnes = [
  ['cut off', whole.slice(0, 200), 'broken'],
  ['emptied', '', 'lost'],
  ['of a wrong type', { title: 'x' }, 'lost'],
  ['without a text', undefined, 'lost'],
  ['of another program', '{"a": 1}', 'broken'],
  ['no object', '[1, 2]', 'broken'],
  ['from the future', JSON.stringify({ ...letter, version: 99, title: 'Tomorrow' }), 'newer'],
] as const;

describe.each(damagedOnes)('an entry that is %s', (what, text, damage) => {
  const name = `damaged ${what}`;

  test('is listed with what can be read of it, beside the others', async () => {
    await written(name, 'lessons', [kept('bad', text), kept('good', whole)]);
    const list = await new Shelf(name).list();
    expect(list.map((one) => [one.id, one.damage])).toEqual(
      expect.arrayContaining([
        ['bad', damage],
        ['good', undefined],
      ]),
    );
    const bad = list.find(({ id }) => id === 'bad')!;
    expect(bad.title).toBe(
      damage === 'newer'
        ? 'Tomorrow'
        : what === 'of another program' || what === 'no object'
          ? ''
          : 'bad as it was',
    );
  });

  test('is not opened, which is said, and stays as it is', async () => {
    const { desk } = tab(name);
    expect(await desk.opening.openKept('bad')).toBe(false);
    expect(desk.store.look.notice?.text).toContain(words.damaged[damage]);
    expect((await rawLessons(name)).find(({ id }) => id === 'bad')).toEqual(kept('bad', text));
  });

  test('that lay on the table last is not replaced by a sample in silence', async () => {
    const samples = (path: string) =>
      readFile(new URL(`../../public/${path}`, import.meta.url)).then((file) => new Uint8Array(file));
    await written(name, 'last', [{ id: 'bad', sample: null }], ['last']);
    const { desk } = tab(name, new Locks(), { fetchFile: samples });
    await desk.opening.begin();
    expect(desk.store.document.lesson).not.toBeNull();
    expect(desk.store.look.notice?.tone).toBe('trouble');
    expect(desk.store.look.notice?.text).toContain(words.damaged[damage]);
  });

  test('can be deleted and had back as it was', async () => {
    const { desk, shelf } = tab(name);
    const [bad] = (await shelf.list()).filter(({ id }) => id === 'bad');
    await desk.library.remove(bad!);
    expect((await shelf.list()).map(({ id }) => id)).not.toContain('bad');
    await desk.library.haveBack(bad!);
    const raw = (await rawLessons(name)).find(({ id }) => id === 'bad')!;
    expect({ ...raw, revision: 0, title: '', place: '' }).toEqual({
      ...kept('bad', text),
      revision: 0,
      title: '',
      place: '',
    });
  });
});

test('what is left of a text is handed over as it lies there', async () => {
  const handed: [string, string][] = [];
  const name = 'remains';
  await written(name, 'lessons', [kept('bad', whole.slice(0, 50))]);
  const { desk, shelf } = tab(name, new Locks(), {
    handOver: (file, bytes) => void handed.push([file, new TextDecoder().decode(bytes)]),
  });
  desk.library.saveRemains((await shelf.list())[0]!);
  expect(handed).toEqual([['bad as it was.txt', whole.slice(0, 50)]]);
});

const junk = [
  null,
  7,
  'text',
  true,
  [],
  [1],
  {},
  { place: 'x' },
  { at: {} },
  undefined,
  Number.NaN,
  new Date(0),
  new Uint8Array(3),
];

test.each(Array.from({ length: 40 }, (_, seed) => seed))(
  'whatever lies in its stores, the page begins and lists its lessons (seed %i)',
  async (seed) => {
    const random = seededRandom(900 + seed);
    const one = () => junk[Math.floor(random() * junk.length)];
    const name = `junk ${seed}`;
    const entry = () => {
      const fields = ['title', 'place', 'text', 'changed', 'revision', 'copy', 'deleted', 'undo', 'redo'];
      return Object.fromEntries(fields.filter(() => random() < 0.7).map((field) => [field, one()]));
    };
    const entries = [{ id: 'a', ...entry() }, { id: 'b', ...entry() }, kept('good', whole)];
    await written(name, 'lessons', entries);
    for (const store of ['looks', 'pictures'])
      await written(name, store, [one(), one(), one()], ['a', 'b', 'good']);
    await written(name, 'last', [random() < 0.5 ? one() : { id: 'good', sample: one() }], ['last']);
    await written(name, 'versions', [
      { of: 'good', ...entry() },
      { of: 'good', name: one(), at: one(), text: one() },
    ]);
    await written(
      name,
      'states',
      [one(), one()],
      [
        ['good', 1],
        ['good', 2],
      ],
    );
    const { desk, shelf } = tab(name);
    await desk.opening.begin();
    expect((await shelf.list()).map(({ id }) => id)).toContain('good');
    desk.library.show('library');
    await eventually(() => expect(desk.store.shelf.lessons.length).toBeGreaterThan(0));
    expect(await desk.opening.openKept('good')).toBe(true);
    desk.library.show('versions');
    await passed();
    desk.credit.setTitle('Changed');
    await eventually(async () => expect((await shelf.list()).map(({ title }) => title)).toContain('Changed'));
    // what was deleted long ago is forgotten, nothing else
    const there = entries.filter((one) => !('deleted' in one && one.deleted === 7)).map(({ id }) => id);
    expect((await rawLessons(name)).map(({ id }) => id).sort()).toEqual(there.sort());
  },
);

describe('a database', () => {
  test('of a later page is read but not written, and that is said at the first edit', async () => {
    const name = 'later page';
    const before = await written(name, 'lessons', [kept('good', whole)]);
    expect(before).toBeUndefined();
    (await openDB(name, 7)).close();
    const { desk, shelf } = tab(name);
    expect((await shelf.list()).map(({ title }) => title)).toEqual(['Whole']);
    expect(await desk.opening.openKept('good')).toBe(true);
    desk.credit.setTitle('Changed');
    await eventually(() => expect(desk.store.look.notice?.text).toBe(words.notKept.newer));
    expect((await rawLessons(name)).map(({ text }) => text)).toEqual([whole]);
  });

  test('that an older page in another tab holds is told at the first edit, and is written once it lets go', async () => {
    const name = 'held by an older page';
    const older = await openDB(name, 1, {
      upgrade: (database) => {
        database.createObjectStore('lessons', { keyPath: 'id' });
        for (const store of ['pictures', 'looks', 'last']) database.createObjectStore(store);
        database
          .createObjectStore('versions', { keyPath: 'key', autoIncrement: true })
          .createIndex('of', 'of');
      },
    });
    const { desk, clock, shelf } = tab(name);
    await dropFile(desk, letter);
    await eventually(() => expect(desk.store.look.notice?.text).toBe(words.notKept.blocked));
    older.close();
    await eventually(() => {
      clock.pass(4000);
      expect(desk.store.look.notice?.text).toBe(words.keptAgain);
    });
    await shelfHas(shelf, letter.title);
  });
});
