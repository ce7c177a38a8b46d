/** Looking inside the letter folded in three: stack, section, glass, fan, slice and peel, and what closes them again. */
import { describe, expect, test } from 'vitest';
import { drawnLeaves } from '../../src/core/drawn/drawn-pose.ts';
import type { Desk } from '../../src/desk/desk.ts';
import { movingParts } from '../../src/desk/tools/moving-parts.ts';
import { deskInHand, layersHere, passed } from '../support/hand-solver.ts';
import { letter, panelAt } from '../support/letter.ts';

/** The letter at a place of the slider, its layers known. */
async function lookedInto(place = 2) {
  const hand = deskInHand(letter, { layers: layersHere });
  hand.solver.finishAll();
  await passed();
  hand.desk.player.takeInHand(place);
  hand.clock.pass(90);
  await passed();
  const { desk } = hand;
  const { pose, stacks } = desk.layersNow;
  hand.screen.leaves = drawnLeaves(pose!.sheet, pose!.placement, pose!, stacks!);
  const panels = [25, 75, 125].map((x) => panelAt(pose!.sheet, x)) as [number, number, number];
  return { ...hand, panels };
}

/** A point of the paper so many mm from the left, half-way up. */
const point = (x: number, side: 1 | -1 = 1) => ({ x: x / 150, y: 0.5, side });
const stackNow = (desk: Desk) => desk.inside.stack?.layers.map(({ panel, up }) => [panel, up]);

describe('the stack at a point', () => {
  // the right third is folded over the middle first, the left third over both: from above it comes first
  test('counts the layers from the side of the eye down, each with the side that it shows', async () => {
    const { desk, panels } = await lookedInto();
    const [left, middle, right] = panels;
    desk.store.put({ inside: { point: point(75) } });
    const fromAbove = [
      [left, false],
      [right, false],
      [middle, true],
    ];
    expect(stackNow(desk)).toEqual(fromAbove);
    desk.store.put({ inside: { point: point(75, -1) } });
    expect(stackNow(desk)).toEqual(fromAbove.map(([panel, up]) => [panel, !up]).toReversed());
  });

  test('is the one under the pointer while there is one, and the clicked one after', async () => {
    const { desk } = await lookedInto(1);
    desk.store.put({ inside: { point: point(75) } });
    expect(stackNow(desk)).toHaveLength(2);
    desk.store.put({ inside: { pointer: point(25) } });
    expect(stackNow(desk)).toHaveLength(1);
    expect(desk.inside.kept!.layers).toHaveLength(2);
    desk.store.put({ inside: { pointer: null } });
    expect(stackNow(desk)).toHaveLength(2);
  });

  test('off the paper there is none', async () => {
    const { desk } = await lookedInto();
    expect(desk.inside.stackAt({ x: 1.2, y: 0.5, side: 1 })).toBeNull();
  });

  test('is told anew only when it is another', async () => {
    const { desk } = await lookedInto(1);
    let told = 0;
    desk.inside.subscribe(() => told++);
    desk.store.put({ inside: { pointer: point(25) } });
    expect(told).toBe(1);
    desk.store.put({ inside: { pointer: point(26) } });
    expect(told).toBe(1);
    desk.store.put({ inside: { pointer: point(75) } });
    expect(told).toBe(2);
  });

  test('moves with the panel that is selected elsewhere', async () => {
    const { desk, panels } = await lookedInto(1);
    desk.store.put({ look: { selection: { kind: 'panel', id: panels[0] } } });
    expect(stackNow(desk)).toEqual([[panels[0], true]]);
    desk.store.put({ look: { selection: null } });
    expect(desk.inside.stack).toBeNull();
  });
});

describe('peeling', () => {
  test('lifts one layer after the other and no more than there are, and puts them back', async () => {
    const { desk } = await lookedInto();
    desk.store.put({ inside: { point: point(75) } });
    const after = ['l', 'l', 'l', 'l', 'k', 'k', 'k', 'k'].map((key) => {
      desk.commands.press(key, false);
      return desk.store.inside.peeled;
    });
    expect(after).toEqual([1, 2, 3, 3, 2, 1, 0, 0]);
    expect(desk.store.inside.peeling).toBe(true);
    desk.lookInside.togglePeel();
    expect(desk.store.inside.peeling).toBe(false);
  });

  test('without a point begins at the deepest stack that the eye sees, of several the nearest', async () => {
    const { desk, screen, panels } = await lookedInto(1);
    // left half of the picture: the left third, one layer; right half: two layers, the lower the nearer
    screen.pick = (x, y) => {
      const panel = x < 50 ? panels[0] : panels[1];
      return { panel, flat: [x < 50 ? 1 / 6 : 0.5, y / 100], side: 1, distance: 200 - y };
    };
    desk.commands.press('l', false);
    expect(desk.store.look.selection).toEqual({ kind: 'panel', id: panels[1] });
    expect(desk.inside.kept!.layers).toHaveLength(2);
    // of 23 rows of places that are tried the last lies nearest to the eye
    expect(desk.store.inside.point!.y).toBeCloseTo(23 / 24, 12);
    expect(desk.store.inside.peeled).toBe(1);
  });

  test('where the eye sees no paper nothing is lifted', async () => {
    const { desk } = await lookedInto();
    desk.commands.press('l', false);
    desk.lookInside.togglePeel();
    expect(desk.store.inside).toMatchObject({ peeling: false, peeled: 0 });
  });
});

describe('the slice', () => {
  test('begins across the longer way, through the middle, and shows a section of three layers', async () => {
    const { desk } = await lookedInto();
    desk.commands.press('c', false);
    // folded in three the model is 50 mm by 150 mm: the slice keeps to y = 75 mm
    expect(desk.store.inside.slice).toEqual({ normal: [0, 1, 0], offset: expect.closeTo(0.5, 9) });
    expect(desk.inside.section).not.toBeNull();
    desk.commands.press('c', false);
    expect(desk.store.inside.slice).toBeNull();
    expect(desk.inside.section).toBeNull();
  });

  test('passes the point that was clicked', async () => {
    const { desk } = await lookedInto();
    desk.store.put({ inside: { point: { x: 0.5, y: 0.2, side: 1 } } });
    desk.lookInside.toggleSlice();
    expect(desk.store.inside.slice!.offset).toBeCloseTo(0.2, 9);
  });

  test('moves a hundredth of the sheet a press, and never off the model', async () => {
    const { desk } = await lookedInto();
    desk.lookInside.toggleSlice();
    const at = () => desk.store.inside.slice!.offset;
    desk.lookInside.moveSlice(3);
    expect(at()).toBeCloseTo(0.53, 9);
    desk.lookInside.moveSlice(-1000);
    expect(at()).toBeCloseTo(0, 9);
    desk.lookInside.moveSlice(1000);
    expect(at()).toBeCloseTo(1, 9);
    desk.lookInside.placeSlice(0.25);
    expect(at()).toBeCloseTo(0.25, 9);
  });

  test('turns about the middle of the model and comes back after a whole turn', async () => {
    const { desk } = await lookedInto();
    desk.lookInside.sliceAlong(0);
    // the middle third lies between 50 and 100 mm
    expect(desk.store.inside.slice).toEqual({ normal: [1, 0, 0], offset: expect.closeTo(0.5, 9) });
    desk.lookInside.turnSlice(Math.PI / 2);
    const { normal, offset } = desk.store.inside.slice!;
    expect(normal[1]).toBeCloseTo(1, 12);
    expect(offset).toBeCloseTo(0.5, 9);
    for (let k = 0; k < 3; k++) desk.lookInside.turnSlice(Math.PI / 2);
    expect(desk.store.inside.slice!.normal[0]).toBeCloseTo(1, 12);
    expect(desk.store.inside.slice!.offset).toBeCloseTo(0.5, 9);
  });

  test('is drawn as it is seen from the side of the eye', async () => {
    const { desk, screen } = await lookedInto();
    desk.lookInside.toggleSlice();
    const away = () => desk.inside.section!.section.plane.normal[1];
    screen.eyeInModel = [0.5, 3, 1];
    desk.inside.eyeMoved();
    expect(away()).toBe(1);
    screen.eyeInModel = [0.5, -3, 1];
    desk.inside.eyeMoved();
    expect(away()).toBe(-1);
  });
});

describe('glass and fan', () => {
  test('glass is of all, or of what stands before the panel that is selected', async () => {
    const { desk, panels } = await lookedInto();
    desk.commands.press('g', false);
    expect(desk.store.inside.glass).toBe('all');
    desk.commands.press('g', false);
    expect(desk.store.inside.glass).toBeNull();
    desk.store.put({ look: { selection: { kind: 'panel', id: panels[1] } } });
    desk.commands.press('g', false);
    expect(desk.store.inside.glass).toBe('front');
  });

  test('panels are chosen for glass one by one, and taken out again', async () => {
    const { desk, panels } = await lookedInto();
    const select = (id: number) => desk.store.put({ look: { selection: { kind: 'panel', id } } });
    select(panels[0]);
    desk.lookInside.glassOf('chosen');
    expect(desk.store.inside.chosen).toEqual([panels[0]]);
    select(panels[2]);
    expect(desk.store.inside.chosen).toEqual([panels[0], panels[2]]);
    select(panels[0]);
    expect(desk.store.inside.chosen).toEqual([panels[2]]);
  });

  test('Esc closes the large section first, then everything, and leaves the point', async () => {
    const { desk } = await lookedInto();
    desk.store.put({ inside: { point: point(75) } });
    desk.commands.press('v', false);
    desk.commands.press('c', false);
    desk.store.put({ inside: { largeSection: true } });
    desk.commands.press('Escape', false);
    expect(desk.store.inside).toMatchObject({ largeSection: false, fan: 0.6, slice: { normal: [0, 1, 0] } });
    desk.commands.press('Escape', false);
    expect(desk.store.inside).toMatchObject({ fan: 0, slice: null, glass: null, point: point(75) });
    expect(desk.lookInside.close()).toBe(false);
  });

  test('stay while lines are drawn; a slice and a point of the old sheet do not', async () => {
    const { desk } = await lookedInto();
    desk.lookInside.toggleGlass();
    desk.lookInside.toggleSlice();
    desk.store.put({ inside: { point: point(75) } });
    desk.store.put({ document: { sheet: { ...desk.store.document.sheet! } } });
    expect(desk.store.inside).toMatchObject({ glass: 'all', slice: null, point: null });
  });
});

test('the layers follow the slider while something follows them, and else once it rests', async () => {
  const { desk, clock } = await lookedInto(1);
  const { pose } = desk.layersNow;
  desk.playhead.moveTo(1.5);
  clock.pass(89);
  await passed();
  expect(desk.layersNow.pose).toBe(pose);
  clock.pass(1);
  await passed();
  expect(desk.layersNow.pose).toBe(desk.playhead.pose);
  const end = desk.layersNow.follow();
  desk.playhead.moveTo(1.25);
  await passed();
  expect(desk.layersNow.pose).toBe(desk.playhead.pose);
  end();
});

test('what a step moves is the flap that it folds, and nothing of what lies still', async () => {
  const { desk, panels } = await lookedInto();
  expect([...movingParts(desk.playhead.board!, 0)]).toEqual([panels[2]]);
  expect([...movingParts(desk.playhead.board!, 1)]).toEqual([panels[0]]);
  expect([...movingParts(desk.playhead.board!, 2)]).toEqual([]);
});
