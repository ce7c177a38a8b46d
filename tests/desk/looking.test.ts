/** Where one looks from: views, steps that keep a look or turn the model, the table it is set on, the pose at rest. */
import { describe, expect, test } from 'vitest';
import { viewNames } from '../../src/core/lesson/eye.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import type { Around, FallMoment } from '../../src/desk/around.ts';
import { words } from '../../src/words/words.ts';
import { deskInHand, passed, ToldScreen } from '../support/hand-solver.ts';
import { creaseAt, letter } from '../support/letter.ts';

const folded = (lesson: Lesson = letter, changes: Partial<Around> = {}) => {
  const hand = deskInHand(lesson, changes);
  hand.solver.finishAll();
  return hand;
};

describe('views', () => {
  test('undo flies back to where the eye stood, redo to the view again', () => {
    const { desk, screen } = folded();
    const stood = screen.eye;
    desk.commands.press('6', false);
    const top = screen.eye;
    // straight above: no way down
    expect(top.fall).toBeLessThan(0.01);
    desk.edits.undo();
    expect(screen.eye).toEqual(stood);
    desk.edits.redo();
    expect(screen.eye).toEqual(top);
    expect(desk.store.document.lesson).toBe(letter);
  });

  test('fly there, or are there at once where motion is unwelcome', () => {
    const eases = [false, true].map((reduced) => {
      const { desk, screen } = folded(letter, { motionReduced: () => reduced });
      desk.views.look('back');
      desk.paper.turnOver();
      return [screen.heard('fly').at(-1)![1], screen.heard('over').at(-1)![1]];
    });
    expect(eases).toEqual([
      [true, true],
      [false, false],
    ]);
  });

  test('all seven look from seven places', () => {
    const { desk, screen } = folded();
    for (const name of viewNames) desk.views.look(name);
    expect(new Set(screen.heard('fly').map(([eye]) => JSON.stringify(eye))).size).toBe(7);
  });

  test('fitting keeps the direction and takes the distance that frames the model', () => {
    const { desk, screen } = folded();
    desk.commands.press('f', false);
    expect(screen.eye).toEqual({ bearing: 0.25, fall: 1, zoom: 1 });
  });

  test('without a stage nothing is lost: fitting does nothing', () => {
    const { desk } = folded();
    desk.screen.now = null;
    desk.commands.press('f', false);
    expect(desk.store.document.canUndo).toBe(false);
  });

  test('the table is as the browser wishes until it was chosen here, and then as chosen', () => {
    const { desk } = folded();
    expect(desk.store.look.dark).toBe(false);
    desk.views.begin(true);
    expect(desk.store.look.dark).toBe(true);
    desk.commands.press('n', false);
    desk.views.begin(true);
    expect(desk.store.look.dark).toBe(false);
  });
});

describe('a step', () => {
  const steps = [
    letter.steps[0]!,
    { title: 'Over', sentence: 'Turn it over.', kind: 'turn-over', drives: [] },
    { title: 'Round', sentence: 'Turn it round.', kind: 'rotate', turn: 90, drives: [] },
    letter.steps[1]!,
  ] as const satisfies Lesson['steps'];

  test('that turns the model over or round does so when the slider enters it, and back when it leaves', () => {
    const { desk, screen } = folded({ ...letter, steps });
    screen.heard('over');
    desk.playhead.moveTo(2);
    expect(desk.store.isTurned).toBe(true);
    expect(screen.heard('over')).toEqual([[true, true]]);
    desk.playhead.moveTo(3);
    const [[angle, ease]] = screen.heard('round') as [[number, boolean]];
    expect([Math.abs(angle), ease]).toEqual([expect.closeTo(Math.PI / 2, 12), true]);
    desk.playhead.moveTo(0.5);
    expect(desk.store.isTurned).toBe(false);
    expect(screen.heard('over')).toEqual([[false, true]]);
    expect(screen.heard('round')).toEqual([[0, true]]);
  });

  test('turned over by the teacher as well shows its first side again', () => {
    const { desk, screen } = folded({ ...letter, steps });
    desk.playhead.moveTo(2);
    desk.paper.turnOver();
    expect(desk.store.isTurned).toBe(false);
    expect(screen.heard('over').at(-1)).toEqual([false, true]);
  });

  test('keeps how it is looked at, and the eye flies there when the step is entered, not while it is in it', () => {
    const { desk, screen } = folded();
    desk.playhead.moveTo(2);
    desk.lookInside.toggleGlass();
    desk.lookInside.fan(0.4);
    desk.steps.keepLook(1);
    const kept = { eye: { bearing: 0.25, fall: 1, zoom: 2 }, glass: 'all', fan: 0.4 };
    expect(desk.store.document.lesson!.steps[1]!.look).toEqual(kept);
    // what is kept is what is looked at: the eye need not fly there
    expect(screen.heard('fly')).toEqual([]);
    desk.playhead.moveTo(0.5);
    expect(desk.store.inside).toMatchObject({ glass: null, fan: 0 });
    screen.heard('fly');
    desk.playhead.moveTo(1.2);
    desk.playhead.moveTo(1.4);
    expect(screen.heard('fly')).toEqual([[kept.eye, true]]);
    expect(desk.store.inside).toMatchObject({ glass: 'all', fan: 0.4 });
    desk.steps.keepLook(1);
    expect(desk.store.document.lesson!.steps[1]).not.toHaveProperty('look');
  });
});

describe('set on the table', () => {
  const moment = (z: number): FallMoment => ({ position: [0, 0, z], quaternion: [0, 0, 0, 1] });
  const fall = { verdict: { stands: true } as never, moments: [moment(2), moment(1), moment(0)] };

  function withTable(changes: Partial<Around> = {}) {
    const hand = folded(letter, changes);
    let land: (fallen: typeof fall) => void = () => {};
    let fail: (why: Error) => void = () => {};
    hand.screen.setOnTable = () => new Promise((resolve, reject) => ([land, fail] = [resolve, reject]));
    return { ...hand, land: (fallen = fall) => land(fallen), fail: (why: Error) => fail(why) };
  }

  test('the model falls moment by moment and says how it stands; a second press lifts it', async () => {
    const { desk, screen, clock, land } = withTable();
    desk.commands.press('d', false);
    land();
    await passed();
    expect(desk.store.look.verdict).toBe(fall.verdict);
    clock.pass(1000);
    const heights = screen.heard('rest').map(([one]) => (one as FallMoment).position[2]);
    expect(heights[0]).toBe(2);
    expect(heights.at(-1)).toBe(0);
    expect(heights).toEqual(heights.toSorted((a, b) => b! - a!));
    desk.commands.press('d', false);
    expect(desk.store.look.verdict).toBeNull();
  });

  test('where motion is unwelcome it lies there at once', async () => {
    const { desk, screen, land } = withTable({ motionReduced: () => true });
    void desk.setDown.toggle();
    land();
    await passed();
    expect(screen.heard('rest')).toEqual([[moment(0)]]);
  });

  test('a model that was folded on while it fell is not told of', async () => {
    const { desk, screen, land } = withTable();
    void desk.setDown.toggle();
    desk.player.takeInHand(1.5);
    land();
    await passed();
    expect(desk.store.look.verdict).toBeNull();
    expect(screen.heard('rest')).toEqual([]);
  });

  test('the slider lifts it again', async () => {
    const { desk, land } = withTable();
    void desk.setDown.toggle();
    land();
    await passed();
    desk.player.takeInHand(1.5);
    expect(desk.store.look.verdict).toBeNull();
  });

  test('that something went wrong is said', async () => {
    const { desk, fail } = withTable();
    void desk.setDown.toggle();
    fail(new Error('no engine'));
    await passed();
    expect(desk.store.look.notice?.text).toBe(words.broke('no engine'));
    expect(desk.store.look.verdict).toBeNull();
  });
});

describe('the pose at rest', () => {
  test('is made exact 120 ms after the slider came to rest, once', async () => {
    const { desk, solver, clock } = folded();
    await passed();
    const before = solver.asks('correct').length;
    desk.player.takeInHand(0.4);
    clock.pass(119);
    desk.player.takeInHand(0.5);
    clock.pass(119);
    expect(solver.asks('correct')).toHaveLength(before);
    clock.pass(1);
    expect(solver.asks('correct')).toHaveLength(before + 1);
    clock.pass(5000);
    expect(solver.asks('correct')).toHaveLength(before + 1);
  });

  test('is the answer of the solver, unless the slider has moved on since', async () => {
    const { desk, solver, clock } = folded();
    const crease = creaseAt(desk.store.document.sheet!, 100);
    while (solver.asks('correct').length > 1) await passed();
    await solver.answer('correct', { kind: 'broke', message: 'never mind' });
    const corrected = (at: number) => {
      const angle = desk.playhead.pose!.angle.slice();
      angle[crease] = at;
      return { kind: 'corrected', angle, closure: 0, freedoms: 2, open: [] };
    };
    desk.player.takeInHand(0.5);
    clock.pass(120);
    await solver.answer('correct', corrected(1.25));
    expect(desk.playhead.pose!.angle[crease]).toBe(1.25);
    expect(desk.store.run.rest).toEqual({ freedoms: 2, open: [] });
    desk.player.takeInHand(0.25);
    clock.pass(120);
    desk.player.takeInHand(0.75);
    await solver.answer('correct', corrected(0));
    expect(desk.playhead.pose!.angle[crease]).toBeCloseTo(0.75 * Math.PI, 12);
  });

  test('pulled by hand is shown until the slider is taken, and can be kept as the end of its step', async () => {
    const { desk, solver } = folded();
    const crease = creaseAt(desk.store.document.sheet!, 100);
    desk.player.takeInHand(1);
    void desk.atRest.drag(0, [0, 0, 1]);
    const angle = desk.playhead.pose!.angle.slice();
    angle[crease] = Math.PI / 2;
    await solver.answer('drag', { kind: 'dragged', angle, freedoms: 2 });
    expect(desk.store.run.byHand).toBe(true);
    desk.steps.keepPose(0);
    expect(desk.store.document.lesson!.steps[0]!.drives.map(({ angle }) => angle)).toEqual([90]);
    desk.atRest.backToTrack();
    expect(desk.store.run.byHand).toBe(false);
    expect(desk.playhead.pose!.angle[crease]).toBeCloseTo(Math.PI, 12);
  });
});

test('a stage that is taken away takes no other with it', () => {
  const { desk } = folded();
  const [first, second] = [new ToldScreen(), new ToldScreen()];
  const end = desk.screen.attach(first);
  desk.screen.attach(second);
  end();
  expect(desk.screen.now).toBe(second);
});
