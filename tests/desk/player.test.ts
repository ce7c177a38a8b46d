/** The slider: played, stopped, nudged, for eyes that want motion and those that do not; and the tuck played by itself. */
import { describe, expect, test } from 'vitest';
import type { Around } from '../../src/desk/around.ts';
import { stepAt, stepInto } from '../../src/desk/play/playhead.ts';
import { deskInHand } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';

/** The letter, folded; its last step is a tuck. */
function folded(changes: Partial<Around> = {}) {
  const tucked = {
    ...letter,
    steps: letter.steps.map((one, k) => (k === 1 ? { ...one, kind: 'tuck' as const } : one)),
  };
  const hand = deskInHand(tucked, changes);
  hand.solver.finishAll();
  return hand;
}

const still = { motionReduced: () => true };

test.each([
  // place, the step that it lies in or ends, the step that is shown of two
  [0, -1, 0],
  [0.001, 0, 0],
  [1, 0, 0],
  [1 + 1e-12, 0, 0],
  [1.001, 1, 1],
  [2, 1, 1],
  [2.5, 2, 1],
])('at %s the slider is in step %i, and shows step %i of 0 and 1', (place, into, at) => {
  expect(stepInto(place)).toBe(into);
  expect(stepAt(place, 2)).toBe(at);
});

test('a listener hears of each move once, and no more when it has left', () => {
  const { desk } = folded();
  const heard: [number, boolean][] = [];
  const leave = desk.playhead.subscribe(() => heard.push([desk.playhead.place, desk.playhead.quiet]));
  desk.playhead.moveTo(7);
  desk.playhead.showQuietly(desk.playhead.pose!);
  leave();
  desk.playhead.moveTo(-1);
  expect(heard).toEqual([
    [2, false],
    [2, true],
  ]);
  expect(desk.playhead.place).toBe(0);
});

describe('playing', () => {
  test('goes on through all steps, each 2.6 s with a breath between, and stops at the end', () => {
    const { desk, clock } = folded();
    desk.player.play();
    expect(desk.store.look.playing).toBe(true);
    clock.pass(1300);
    expect(desk.playhead.place).toBeGreaterThan(0.4);
    expect(desk.playhead.place).toBeLessThan(0.6);
    clock.pass(1300 + 100);
    expect(desk.playhead.place).toBe(1);
    clock.pass(350 + 1300);
    expect(desk.playhead.place).toBeGreaterThan(1.3);
    clock.pass(5000);
    expect(desk.playhead.place).toBe(2);
    expect(desk.store.look.playing).toBe(false);
  });

  test('begins anew at the end, and goes on from anywhere else', () => {
    const { desk, clock } = folded();
    desk.playhead.moveTo(2);
    desk.player.play();
    expect(desk.playhead.place).toBe(0);
    desk.player.play();
    desk.playhead.moveTo(1.5);
    desk.player.play();
    clock.pass(100);
    expect(desk.playhead.place).toBeGreaterThanOrEqual(1.5);
  });

  test('stops where it is at a second press', () => {
    const { desk, clock } = folded();
    desk.player.play();
    clock.pass(1000);
    desk.player.play();
    const { place } = desk.playhead;
    clock.pass(10_000);
    expect(desk.playhead.place).toBe(place);
    expect(desk.store.look.playing).toBe(false);
  });

  test('ends where paper could get no further', () => {
    const { desk, solver, clock } = deskInHand(letter);
    solver.finishStep(0);
    solver.finishStep(1, 'fails', 0.4);
    desk.player.play();
    clock.pass(20_000);
    expect(desk.playhead.place).toBeCloseTo(1.4, 12);
    expect(desk.store.look.playing).toBe(false);
  });

  test('stops when another lesson is opened', () => {
    const { desk, clock } = folded();
    desk.player.play();
    clock.pass(1000);
    desk.edits.open({ ...desk.store.document, lesson: letter, sheet: desk.store.document.sheet! });
    clock.pass(10_000);
    expect(desk.store.look.playing).toBe(false);
    expect(desk.playhead.place).toBe(0);
  });

  test('where motion is unwelcome leaps from key pose to key pose, each for 1.2 s', () => {
    const { desk, clock } = folded(still);
    const places: number[] = [];
    desk.playhead.subscribe(() => places.push(desk.playhead.place));
    desk.playhead.moveTo(2);
    desk.player.play();
    clock.pass(1199);
    expect(desk.playhead.place).toBe(1);
    clock.pass(1);
    expect(desk.playhead.place).toBe(2);
    expect(places.every((place) => Number.isInteger(place))).toBe(true);
    expect(desk.store.look.playing).toBe(false);
  });
});

describe('by hand', () => {
  test('the slider goes step by step to where a step begins or ends, not beyond what is reached', () => {
    const { desk, solver } = deskInHand(letter, still);
    solver.finishStep(0);
    solver.finishStep(1, 'fails', 0.4);
    const after = [1, 1, 1, -1, -1, -1].map((way) => {
      desk.player.step(way as 1 | -1);
      return desk.playhead.place;
    });
    expect(after).toEqual([1, expect.closeTo(1.4, 9), expect.closeTo(1.4, 9), 1, 0, 0]);
  });

  test('brackets nudge it by a twentieth of a step, without the dust of sums', () => {
    const { desk } = folded();
    for (let k = 0; k < 3; k++) desk.commands.press(']', false);
    expect(desk.playhead.place).toBe(0.15);
    for (let k = 0; k < 5; k++) desk.commands.press('[', false);
    expect(desk.playhead.place).toBe(0);
  });

  test('taking the slider stops what plays', () => {
    const { desk, clock } = folded();
    desk.player.play();
    clock.pass(500);
    desk.player.takeInHand(1.25);
    clock.pass(10_000);
    expect(desk.playhead.place).toBe(1.25);
    expect(desk.store.look.playing).toBe(false);
  });

  test('a jump takes half a second at least and slows to its goal', () => {
    const { desk, clock } = folded();
    desk.player.goTo(0.1);
    clock.pass(450);
    expect(desk.playhead.place).toBeGreaterThan(0.08);
    expect(desk.playhead.place).toBeLessThan(0.1);
    clock.pass(100);
    expect(desk.playhead.place).toBe(0.1);
  });
});

describe('the tuck played by itself', () => {
  const tuckOf = ({ desk }: Pick<ReturnType<typeof folded>, 'desk'>) => desk.store.inside.tuck;

  test('begins at the start of its step, takes eight seconds and stops at its end', () => {
    const { desk, clock } = folded();
    desk.playhead.moveTo(2);
    desk.commands.press('m', false);
    expect(tuckOf({ desk })).toEqual({ step: 1, playing: true });
    expect(desk.playhead.place).toBe(1);
    clock.pass(4000 + 17);
    expect(desk.tuck.share).toBeCloseTo(0.5, 1);
    clock.pass(4100);
    expect(desk.playhead.place).toBe(2);
    expect(tuckOf({ desk })).toEqual({ step: 1, playing: false });
  });

  test('is had of tucks and locks only', () => {
    const { desk } = folded();
    desk.playhead.moveTo(1);
    desk.commands.press('m', false);
    expect(tuckOf({ desk })).toBeNull();
  });

  test('its slice lies across the line about which the flap turns, through the flap', () => {
    const { desk, clock } = folded();
    desk.tuck.open(1);
    // the left third turns about the line x = 50 mm, which runs along y: the slice keeps to one y
    for (let k = 0; k < 4; k++) {
      clock.pass(1700);
      const { normal, offset } = desk.store.inside.slice!;
      expect(Math.abs(normal[1])).toBeCloseTo(1, 6);
      expect(Math.abs(offset)).toBeGreaterThan(0);
      expect(Math.abs(offset)).toBeLessThan(1);
    }
  });

  test('goes by eighths with the step buttons, and stops for them', () => {
    const { desk, clock } = folded();
    desk.tuck.open(1);
    clock.pass(1500);
    desk.tuck.step(1);
    expect(desk.tuck.share).toBe(2 / 8);
    expect(tuckOf({ desk })!.playing).toBe(false);
    desk.tuck.step(-1);
    expect(desk.tuck.share).toBe(1 / 8);
    clock.pass(10_000);
    expect(desk.tuck.share).toBe(1 / 8);
  });

  test('goes by eighths of itself where motion is unwelcome', () => {
    const { desk, clock } = folded(still);
    desk.tuck.open(1);
    clock.pass(1200);
    expect(desk.tuck.share).toBe(1 / 8);
    clock.pass(7 * 1200);
    expect(desk.tuck.share).toBe(1);
    expect(tuckOf({ desk })!.playing).toBe(false);
  });

  test('begun again while it plays runs once, from its start', () => {
    const { desk, clock } = folded();
    desk.tuck.open(1);
    clock.pass(4000);
    desk.tuck.open(1);
    const places: number[] = [];
    desk.playhead.subscribe(() => places.push(desk.playhead.place));
    clock.pass(1000);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(desk.tuck.share).toBeLessThan(0.2);
  });

  test.each([
    ['nudged', '['],
    ['played', ' '],
    ['stepped', ','],
  ])('stops when the slider is %s by its key', (_, key) => {
    const { desk, clock } = folded();
    desk.tuck.open(1);
    clock.pass(4000);
    desk.commands.press(key, false);
    clock.pass(50);
    expect(tuckOf({ desk })?.playing ?? false).toBe(false);
  });

  test('is over when the slider is taken out of its step, or at Esc', () => {
    const { desk } = folded();
    desk.tuck.open(1);
    desk.player.takeInHand(0.5);
    expect(desk.store.inside).toMatchObject({ tuck: null, slice: null });
    desk.tuck.open(1);
    desk.commands.press('Escape', false);
    expect(desk.store.inside).toMatchObject({ tuck: null, slice: null });
  });
});
