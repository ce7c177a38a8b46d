/** The slider: played, stopped, nudged, for eyes that want motion and those that do not. */
import { describe, expect, test } from 'vitest';
import { stepAt, stepInto } from '../../src/desk/play/playhead.ts';
import { still, tuckedLetter } from '../support/folded-letter.ts';
import { deskInHand } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';

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
  const { desk } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter();
    desk.player.play();
    clock.pass(1000);
    desk.edits.open({ ...desk.store.document, lesson: letter, sheet: desk.store.document.sheet! });
    clock.pass(10_000);
    expect(desk.store.look.playing).toBe(false);
    expect(desk.playhead.place).toBe(0);
  });

  test('where motion is unwelcome leaps from key pose to key pose, each for 1.2 s', () => {
    const { desk, clock } = tuckedLetter(still);
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
    const { desk } = tuckedLetter();
    for (let k = 0; k < 3; k++) desk.commands.press(']', false);
    expect(desk.playhead.place).toBe(0.15);
    for (let k = 0; k < 5; k++) desk.commands.press('[', false);
    expect(desk.playhead.place).toBe(0);
  });

  test('taking the slider stops what plays', () => {
    const { desk, clock } = tuckedLetter();
    desk.player.play();
    clock.pass(500);
    desk.player.takeInHand(1.25);
    clock.pass(10_000);
    expect(desk.playhead.place).toBe(1.25);
    expect(desk.store.look.playing).toBe(false);
  });

  test('a jump takes half a second at least and slows to its goal', () => {
    const { desk, clock } = tuckedLetter();
    desk.player.goTo(0.1);
    clock.pass(450);
    expect(desk.playhead.place).toBeGreaterThan(0.08);
    expect(desk.playhead.place).toBeLessThan(0.1);
    clock.pass(100);
    expect(desk.playhead.place).toBe(0.1);
  });
});
