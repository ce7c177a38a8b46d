/** A tuck played by itself: slowly, with a slice through the flap, until a hand takes the slider. */
import { describe, expect, test } from 'vitest';
import type { Desk } from '../../src/desk/desk.ts';
import { still, tuckedLetter } from '../support/folded-letter.ts';

describe('the tuck played by itself', () => {
  const tuckOf = ({ desk }: { readonly desk: Desk }) => desk.store.inside.tuck;

  test('begins at the start of its step, takes eight seconds and stops at its end', () => {
    const { desk, clock } = tuckedLetter();
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
    const { desk } = tuckedLetter();
    desk.playhead.moveTo(1);
    desk.commands.press('m', false);
    expect(tuckOf({ desk })).toBeNull();
  });

  test('its slice lies across the line about which the flap turns, through the flap', () => {
    const { desk, clock } = tuckedLetter();
    desk.tuck.open(1);
    // the left third turns about the line x = 50 mm, which runs along y: the slice keeps to one y
    for (let k = 0; k < 4; k++) {
      clock.pass(1700);
      const { normal, offset } = desk.store.inside.slice!;
      expect(Math.abs(normal[1])).toBeCloseTo(1, 6);
      // three tenths of the way from a corner, 75 mm from the middle of the flap: 22.5 mm from the raw edge
      const off = Math.abs(offset);
      expect(Math.min(off, 1 - off)).toBeCloseTo(22.5 / 150, 9);
    }
  });

  test('goes by eighths with the step buttons, and stops for them', () => {
    const { desk, clock } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter(still);
    desk.tuck.open(1);
    clock.pass(1200);
    expect(desk.tuck.share).toBe(1 / 8);
    clock.pass(7 * 1200);
    expect(desk.tuck.share).toBe(1);
    expect(tuckOf({ desk })!.playing).toBe(false);
  });

  test('begun again while it plays runs once, from its start', () => {
    const { desk, clock } = tuckedLetter();
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
    const { desk, clock } = tuckedLetter();
    desk.tuck.open(1);
    clock.pass(4000);
    desk.commands.press(key, false);
    clock.pass(50);
    expect(tuckOf({ desk })?.playing ?? false).toBe(false);
  });

  test('is over when the slider is taken out of its step, or at Esc', () => {
    const { desk } = tuckedLetter();
    desk.tuck.open(1);
    desk.player.takeInHand(0.5);
    expect(desk.store.inside).toMatchObject({ tuck: null, slice: null });
    desk.tuck.open(1);
    desk.commands.press('Escape', false);
    expect(desk.store.inside).toMatchObject({ tuck: null, slice: null });
  });
});
