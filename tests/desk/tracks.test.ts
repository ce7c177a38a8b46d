/** What is computed of a lesson while it is edited: tracks that come on, are stopped and asked for again, and looks at them. */
import { describe, expect, test } from 'vitest';
import type { Desk } from '../../src/desk/desk.ts';
import { standingNow, summaryOf } from '../../src/desk/run/standing.ts';
import { words } from '../../src/words/words.ts';
import { deskInHand, layersHere, passed, readyOf } from '../support/hand-solver.ts';
import { creaseAt, letter } from '../support/letter.ts';

const statuses = ({ desk }: Pick<ReturnType<typeof deskInHand>, 'desk'>) =>
  desk.store.run.steps.map(({ status }) => status);

describe('tracks', () => {
  test('are shown step by step as they come', () => {
    const { desk, solver, screen } = deskInHand(letter);
    expect(statuses({ desk })).toEqual(['computing', 'waiting']);
    solver.finishStep(0);
    expect(statuses({ desk })).toEqual(['ready', 'computing']);
    expect(desk.playhead.board!.reached).toBe(1);
    expect(desk.store.run.computing).toBe(true);
    solver.finishAll();
    expect(statuses({ desk })).toEqual(['ready', 'ready']);
    expect(desk.store.run.computing).toBe(false);
    expect(screen.heard('picture')).toEqual([[0], [1]]);
  });

  test('stop at a step that fails; those after it are not computed', () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishStep(0, 'fails', 0.4);
    expect(statuses({ desk })).toEqual(['fails', 'waiting']);
    expect(desk.playhead.board!.reached).toBeCloseTo(0.4, 12);
    expect(desk.store.run.steps[0]!.reached).toBe(0.4);
  });

  test('that are stopped keep what came, and the key for it is Esc', async () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishStep(0);
    desk.commands.press('Escape', false);
    await passed();
    expect(solver.cancelled).toEqual([0]);
    expect(desk.store.run.computing).toBe(false);
    expect(statuses({ desk })).toEqual(['ready', 'waiting']);
    desk.playhead.moveTo(2);
    const { sheet } = desk.store.document;
    expect(desk.playhead.pose!.angle[creaseAt(sheet!, 100)]).toBeCloseTo(Math.PI, 12);
    expect(desk.playhead.pose!.angle[creaseAt(sheet!, 50)]).toBe(0);
  });

  test('that broke say so, and the lesson is untouched', () => {
    const { desk, solver } = deskInHand(letter);
    solver.bakes[0]!.listen({ kind: 'broke', job: 0, message: 'out of memory' });
    expect(desk.store.run).toMatchObject({ computing: false, broke: 'out of memory' });
    expect(desk.store.look.notice?.text).toBe(words.broke('out of memory'));
    expect(standingNow(desk.store.state).is).toBe('refused');
    expect(summaryOf(desk.store.state)).toMatchObject({ tone: 'bad', again: 0 });
    expect(desk.store.document.lesson).toBe(letter);
  });

  test('of the lesson before an edit are not listened to any more', async () => {
    const { desk, solver } = deskInHand(letter);
    desk.steps.setAngle(0, [creaseAt(desk.store.document.sheet!, 100)], 90);
    await passed();
    expect(solver.cancelled).toEqual([0]);
    expect(solver.bakes).toHaveLength(2);
    solver.bakes[0]!.listen({ kind: 'broke', job: 0, message: 'too late' });
    expect(desk.store.run.broke).toBeNull();
    expect(desk.store.run.computing).toBe(true);
  });

  test('of the old model stay on screen for 600 ms while the new ones are computed', () => {
    const { desk, solver, clock } = deskInHand(letter);
    solver.finishAll();
    desk.player.takeInHand(1);
    const old = desk.playhead.board;
    desk.steps.toggleOff(1);
    clock.pass(599);
    expect(desk.playhead.board).toBe(old);
    clock.pass(1);
    expect(desk.playhead.board).not.toBe(old);
    solver.finishAll();
    expect(desk.playhead.place).toBe(1);
  });
});

describe('small pictures', () => {
  const pictures = ({ store }: Desk) => store.run.steps.map(({ picture }) => picture);

  test('that came with the file are there before anything is computed', () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishAll();
    desk.edits.open({ ...readyOf(letter), pictures: ['data:one', null] });
    expect(pictures(desk)).toEqual(['data:one', null]);
  });

  test('stay with the steps that an edit leaves alone, wherever they move', () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishAll();
    desk.store.putStep(0, { picture: 'data:one' });
    desk.store.putStep(1, { picture: 'data:two' });
    desk.steps.add(-1, 'note');
    expect(pictures(desk)).toEqual([null, 'data:one', 'data:two']);
    solver.finishAll();
    desk.steps.setAngle(1, [creaseAt(desk.store.document.sheet!, 100)], 90);
    expect(pictures(desk)).toEqual([null, null, 'data:two']);
  });
});

describe('the slider', () => {
  test('stands at the end of a step that was added, once that is computed', async () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishAll();
    desk.steps.add(1, 'note');
    solver.finishAll();
    expect(desk.playhead.place).toBe(3);
  });

  test('does so even when the step was added while the lesson was still being computed', async () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishStep(0);
    desk.steps.add(1, 'note');
    await passed();
    solver.finishAll();
    expect(desk.playhead.place).toBe(3);
  });

  test('and the run are those of the last of two edits at once, computed once', async () => {
    const { desk, solver } = deskInHand(letter);
    desk.steps.toggleOff(0);
    desk.steps.setKind(1, 'note');
    await passed();
    expect(solver.bakes).toHaveLength(2);
    expect(solver.bakes[1]!.lesson).toBe(desk.store.document.lesson);
    expect(desk.store.run.computing).toBe(true);
    expect(statuses({ desk })).toEqual(['computing', 'waiting']);
  });
});

describe('looks at the layers', () => {
  /** A desk whose layers are looked at, with the looks that were asked for, by the number of their step. */
  function lookedAt() {
    const looks: number[] = [];
    const before: number[] = [];
    let answer: typeof layersHere.look = layersHere.look;
    const layers = {
      ...layersHere,
      look: async (what: Parameters<typeof layersHere.look>[0]) => {
        looks.push(what.step);
        before.push(what.before.length);
        return answer(what);
      },
    };
    const hand = deskInHand(letter, { layers });
    return { ...hand, looks, before, answerWith: (other: typeof answer) => (answer = other) };
  }

  test('go from step to step, each from the layers that the one before left', async () => {
    const { desk, solver, looks, before } = lookedAt();
    solver.finishAll();
    await passed();
    expect(looks).toEqual([0, 1]);
    expect(before).toEqual([0, 1]);
    const ends = desk.store.run.steps.map(({ layers }) => layers!.order.length);
    // a third over the middle: one pair of panels; both thirds over it: each of three over each other
    expect(ends).toEqual([1, 3]);
    expect(standingNow(desk.store.state).is).toBe('sound');
  });

  test('that are known are not asked for again when an edit is undone', async () => {
    const { desk, solver, looks } = lookedAt();
    solver.finishAll();
    await passed();
    desk.steps.setAngle(1, [creaseAt(desk.store.document.sheet!, 50)], 90);
    solver.finishAll();
    await passed();
    expect(looks).toEqual([0, 1, 1]);
    desk.edits.undo();
    solver.finishAll();
    await passed();
    expect(looks).toEqual([0, 1, 1]);
    expect(desk.store.run.steps[1]!.layers!.order).toHaveLength(3);
  });

  test('that broke are told, and tried again from that step on', async () => {
    const { desk, solver, looks, answerWith } = lookedAt();
    answerWith(async (what) => (what.step === 1 ? { broke: 'lost' } : layersHere.look(what)));
    solver.finishAll();
    await passed();
    expect(desk.store.run.steps.map(({ lookBroke }) => lookBroke)).toEqual([null, 'lost']);
    expect(summaryOf(desk.store.state)).toEqual({
      ...{ tone: 'bad', again: 1 },
      text: words.broken.look('Left third', 'lost'),
    });
    answerWith(layersHere.look);
    desk.looks.askAgain(1);
    await passed();
    expect(looks).toEqual([0, 1, 1]);
    expect(desk.store.run.steps[1]).toMatchObject({ lookBroke: null });
    expect(desk.store.run.steps[1]!.layers!.order).toHaveLength(3);
  });

  test('of a lesson that is left are dropped', async () => {
    const { desk, solver, answerWith } = lookedAt();
    let late: (look: null) => void = () => {};
    answerWith(() => new Promise((resolve) => (late = resolve)));
    solver.finishAll();
    await passed();
    desk.edits.open({ ...desk.store.document, lesson: letter, sheet: desk.store.document.sheet! });
    late(null);
    await passed();
    expect(desk.store.run.steps.map(({ layers }) => layers)).toEqual([null, null]);
  });

  test('are asked for again when the paper is thicker, and for no colour', async () => {
    const { desk, solver, looks } = lookedAt();
    solver.finishAll();
    await passed();
    desk.paper.setColour('a', '#123123');
    await passed();
    expect(looks).toEqual([0, 1]);
    desk.paper.setThickness(0.3);
    await passed();
    expect(looks).toEqual([0, 1, 0, 1]);
    expect(solver.bakes).toHaveLength(1);
  });
});
