/** How a lesson is looked at is kept beside it, with a small picture; and tabs hear of each other's shelf. */
import 'fake-indexeddb/auto';
import { describe, expect, test, vi } from 'vitest';
import { bytesOf } from '../../src/core/storage/text.ts';
import { newHome } from '../../src/desk/document/homes.ts';
import { eventually, settled } from '../support/desk.ts';
import { passed, ToldScreen } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';
import { dropFile, keptAs, Locks, shelfHas, tab } from '../support/shelves.ts';

/** The letter kept and folded, with a stage before it. */
async function folded(name: string) {
  const one = tab(name);
  const screen = new ToldScreen();
  one.desk.screen.attach(screen);
  await dropFile(one.desk, letter);
  await shelfHas(one.shelf, letter.title);
  await settled(one.desk);
  one.clock.pass(1000);
  const { id } = await keptAs(one.shelf, letter.title);
  const look = () => one.shelf.look(id);
  return { ...one, screen, id, look };
}

describe('the look of a lesson', () => {
  test('is kept a quarter of a second after the slider came to rest, and not for every move', async () => {
    const { desk, clock, shelf, look } = await folded('rests');
    const puts = vi.spyOn(shelf, 'putLook');
    for (const place of [0.2, 0.4, 0.6]) {
      desk.player.takeInHand(place);
      clock.pass(249);
    }
    expect(puts).not.toHaveBeenCalled();
    clock.pass(1);
    await eventually(async () => expect((await look())?.place).toBe(0.6));
    expect(puts).toHaveBeenCalledTimes(1);
  });

  test('is kept when the eye has moved, and left alone when it has not', async () => {
    const { desk, clock, shelf, screen, look } = await folded('eye');
    screen.eye = { bearing: 3, fall: 2, zoom: 1 };
    desk.keptLooks.eyeMoved();
    clock.pass(250);
    await eventually(async () => expect((await look())?.eye).toEqual(screen.eye));
    const puts = vi.spyOn(shelf, 'putLook');
    screen.eye = { ...screen.eye };
    desk.keptLooks.eyeMoved();
    clock.pass(1000);
    expect(puts).not.toHaveBeenCalled();
  });

  test('tells which view was on top, how paper may fold, and which side was turned up', async () => {
    const { desk, clock, look } = await folded('choices');
    desk.paper.turnOver();
    desk.paper.toggleFree();
    desk.store.put({ look: { view: 'sheet' } });
    await eventually(() => expect(desk.store.run.computing).toBe(false));
    clock.pass(250);
    await eventually(async () =>
      expect(await look()).toMatchObject({ view: 'sheet', turned: true, free: true, bend: false }),
    );
  });

  test('is not kept while the slider is on its way to where it was', async () => {
    const { desk, clock, shelf } = await folded('on its way');
    const puts = vi.spyOn(shelf, 'putLook');
    desk.store.put({ run: { computing: true } });
    desk.player.takeInHand(0.3);
    clock.pass(5000);
    expect(puts).not.toHaveBeenCalled();
  });

  test('of a sample lies under the sample, and makes no lesson of it', async () => {
    const { desk, clock, shelf } = tab('look at a sample');
    await desk.opening.openBytes('x', bytesOf(JSON.stringify(letter)), newHome({ sample: 'letter.json' }));
    await eventually(() => expect(desk.playhead.board!.reached).toBe(2));
    await eventually(() => expect(desk.store.run.computing).toBe(false));
    desk.player.takeInHand(1.5);
    clock.pass(250);
    await eventually(async () => expect((await shelf.look('sample letter.json'))?.place).toBe(1.5));
    expect(await shelf.list()).toEqual([]);
  });
});

test('the picture of the last step that has one is kept a second after it was taken', async () => {
  const { desk, clock, shelf, id } = await folded('picture');
  desk.store.putStep(0, { picture: 'data:first' });
  desk.store.putStep(1, { picture: 'data:last' });
  clock.pass(999);
  await passed();
  expect(await shelf.picture(id)).toBeNull();
  clock.pass(1);
  await eventually(async () => expect(await shelf.picture(id)).toBe('data:last'));
});

test('a list that is open in one tab follows what is kept in another', async () => {
  const heard: (() => void)[] = [];
  const others = {
    tell: () => {
      for (const hear of heard) hear();
    },
    hear: (call: () => void) => void heard.push(call),
  };
  const [here, there] = [tab('news', new Locks(), { others }), tab('news', new Locks(), { others })];
  here.desk.library.show('library');
  await dropFile(there.desk, letter);
  await eventually(() =>
    expect(here.desk.store.shelf.lessons.map(({ title }) => title)).toEqual([letter.title]),
  );
  there.desk.credit.setTitle('Renamed there');
  await eventually(() =>
    expect(here.desk.store.shelf.lessons.map(({ title }) => title)).toEqual(['Renamed there']),
  );
});
