/** The list of kept lessons: named anew, doubled, deleted and had back; states of a lesson that were given a name. */
import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { words } from '../../src/words/words.ts';
import { eventually } from '../support/desk.ts';
import { letter } from '../support/letter.ts';
import { dropFile, keptAs, shelfHas, tab } from '../support/shelves.ts';
import { square } from '../support/square.ts';

const second = { ...square, title: 'Second of Birkmere' };

/** Two lessons on the shelf, the second on the table, the list open. */
async function withTwo(name: string) {
  const one = tab(name);
  await dropFile(one.desk, letter);
  await shelfHas(one.shelf, letter.title);
  await dropFile(one.desk, second);
  await shelfHas(one.shelf, letter.title, second.title);
  await eventually(() => expect(one.desk.library.idOnTable).not.toBeNull());
  one.desk.library.show('library');
  await eventually(() => expect(one.desk.store.shelf.lessons).toHaveLength(2));
  return one;
}

const listed = ({ desk }: Pick<Awaited<ReturnType<typeof withTwo>>, 'desk'>) =>
  desk.store.shelf.lessons.map(({ title }) => title).sort();

describe('a kept lesson', () => {
  test('gets another name where it lies, and the one on the table stays', async () => {
    const { desk, shelf } = await withTwo('rename');
    await desk.library.rename(await keptAs(shelf, letter.title), '  Folded letter ');
    await shelfHas(shelf, 'Folded letter', second.title);
    await eventually(() => expect(listed({ desk })).toEqual(['Folded letter', second.title]));
    expect(desk.store.document.lesson!.title).toBe(second.title);
    const { id } = await keptAs(shelf, 'Folded letter');
    await desk.opening.openKept(id);
    expect(desk.store.document.lesson).toEqual({ ...letter, title: 'Folded letter' });
  });

  test('on the table gets another name as an edit, which undo takes back', async () => {
    const { desk, shelf } = await withTwo('rename here');
    await desk.library.rename(await keptAs(shelf, second.title), 'Other');
    await shelfHas(shelf, letter.title, 'Other');
    desk.edits.undo();
    await shelfHas(shelf, letter.title, second.title);
  });

  test('keeps its name where the new one is empty', async () => {
    const { desk, shelf } = await withTwo('no name');
    await desk.library.rename(await keptAs(shelf, letter.title), '   ');
    await shelfHas(shelf, letter.title, second.title);
  });

  test('is doubled with its picture, under a name that says so; neither changes with the other', async () => {
    const { desk, shelf } = await withTwo('double');
    const original = await keptAs(shelf, letter.title);
    await shelf.putPicture(original.id, 'data:picture');
    await desk.library.duplicate(original);
    const title = words.copyOf(letter.title);
    await shelfHas(shelf, letter.title, title, second.title);
    const copy = await keptAs(shelf, title);
    expect(await shelf.picture(copy.id)).toBe('data:picture');
    await desk.library.rename(copy, 'Mine');
    expect((await shelf.get(original.id))!.text).toBe(original.text);
  });

  test('that was deleted is listed no more, and comes back as it was', async () => {
    const { desk, shelf } = await withTwo('delete');
    const before = await keptAs(shelf, letter.title);
    await desk.library.remove(before);
    await eventually(() => expect(listed({ desk })).toEqual([second.title]));
    expect(desk.store.shelf.deleted).toBe(before);
    await desk.library.haveBack(before);
    await eventually(() => expect(listed({ desk })).toEqual([letter.title, second.title]));
    expect((await shelf.get(before.id))!.text).toBe(before.text);
    expect(desk.store.shelf.deleted).toBeNull();
  });

  test('that is deleted from under the table does not come back by an edit: the edit makes a new one', async () => {
    const { desk, shelf } = await withTwo('delete here');
    const { id } = await keptAs(shelf, second.title);
    await desk.library.remove(await keptAs(shelf, second.title));
    desk.credit.setTitle('Third');
    await shelfHas(shelf, letter.title, 'Third');
    expect((await keptAs(shelf, 'Third')).id).not.toBe(id);
    expect((await shelf.get(id))!.deleted).toBeDefined();
  });

  test('opens from the list, which then closes; what is on the table already is not opened anew', async () => {
    const { desk, shelf } = await withTwo('open');
    await desk.library.open(await keptAs(shelf, letter.title));
    expect(desk.store.document.lesson!.title).toBe(letter.title);
    expect(desk.store.shelf.shown).toBeNull();
    const { lesson } = desk.store.document;
    await desk.library.open(await keptAs(shelf, letter.title));
    expect(desk.store.document.lesson).toBe(lesson);
  });
});

test('a full disk is said when a lesson is doubled, and the list stays as it is', async () => {
  const { desk, shelf } = await withTwo('full');
  shelf.fails = () => 'full';
  await desk.library.duplicate(await keptAs(shelf, letter.title));
  expect(desk.store.look.notice?.text).toBe(words.notKept.full);
  await shelfHas(shelf, letter.title, second.title);
});

describe('a version', () => {
  test('brings the lesson back as it was under its name, as an edit that undo takes back', async () => {
    const { desk, shelf } = await withTwo('version');
    await desk.library.keepVersion('Before class');
    desk.credit.setPlace('Aldermoor');
    const edited = desk.store.document.lesson!;
    desk.library.show('versions');
    await eventually(() =>
      expect(desk.store.shelf.versions.map(({ name }) => name)).toEqual(['Before class']),
    );
    await desk.library.goBackTo(desk.store.shelf.versions[0]!);
    expect(desk.store.document.lesson).toEqual(second);
    expect(desk.store.look.notice?.text).toBe(words.wentBack('Before class'));
    expect(desk.store.shelf.shown).toBeNull();
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(edited);
    const { id } = await keptAs(shelf, second.title);
    expect(desk.library.idOnTable).toBe(id);
  });

  test('that cannot be read changes nothing and says so', async () => {
    const { desk } = await withTwo('bad version');
    const { lesson } = desk.store.document;
    for (const text of ['{', '{"format": "a poem"}']) {
      desk.store.put({ look: { notice: null } });
      await desk.library.goBackTo({ key: 1, of: 'x', name: 'Bad', at: 0, text, picture: null });
      expect(desk.store.look.notice?.text).toBe(words.refusedPlain);
    }
    expect(desk.store.document.lesson).toBe(lesson);
  });

  test('is of its own lesson only, the latest first, and goes when it is removed', async () => {
    const { desk, shelf } = await withTwo('versions');
    await desk.library.keepVersion('First');
    await desk.library.keepVersion('Then');
    desk.library.show('versions');
    await eventually(() =>
      expect(desk.store.shelf.versions.map(({ name }) => name)).toEqual(['Then', 'First']),
    );
    await desk.library.removeVersion(desk.store.shelf.versions[1]!);
    await eventually(() => expect(desk.store.shelf.versions.map(({ name }) => name)).toEqual(['Then']));
    await desk.library.open(await keptAs(shelf, letter.title));
    desk.library.show('versions');
    await eventually(() => expect(desk.store.shelf.versions).toEqual([]));
  });

  test('of a lesson that has no place yet gives it one', async () => {
    const { desk, shelf, clock } = tab('version first');
    const settled = dropFile(desk, letter).then(() => desk.library.keepVersion('At once'));
    await eventually(() => {
      clock.pass(10);
      expect(desk.library.idOnTable).not.toBeNull();
    });
    clock.pass(10);
    await settled;
    expect((await shelf.versions(desk.library.idOnTable!)).map(({ name }) => name)).toEqual(['At once']);
  });
});
