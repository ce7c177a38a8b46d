/** What undo takes back and redo makes again: which edits flow into one, where a lesson ends, and what looking does to it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { History, type Settings } from '../../src/desk/document/history.ts';
import { words } from '../../src/words/words.ts';
import { deskInHand, readyOf } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';
import { square } from '../support/square.ts';

const titled = (title: string): Lesson => ({ ...square, title });
const settings = (title: string): Settings => ({
  ...{ lesson: titled(title), turned: false, bend: false, free: false, eye: null },
});

/** States named by letters, each the next after the one before. */
class Chain {
  readonly history = new History();
  now = settings('start');

  edit(title: string, at: number, what = 'colour', flowing = true): void {
    const after = settings(title);
    this.history.add({ what, before: this.now, after, at }, flowing);
    this.now = after;
  }

  back(): string | null {
    const edit = this.history.back();
    if (edit) this.now = edit.before;
    return edit?.before.lesson.title ?? null;
  }
}

describe('edits that flow', () => {
  it('are one within 900 ms of each other, however long they go on', () => {
    const chain = new Chain();
    for (const [k, title] of ['a', 'b', 'c', 'd'].entries()) chain.edit(title, 899 * k);
    expect(chain.back()).toBe('start');
    expect(chain.history.canUndo).toBe(false);
  });

  it('are two when 900 ms lie between', () => {
    const chain = new Chain();
    chain.edit('a', 0);
    chain.edit('b', 900);
    expect(chain.back()).toBe('a');
    expect(chain.back()).toBe('start');
  });

  it('are two when they are of different things, or when either is not typed or dragged', () => {
    for (const [what, flowing] of [
      ['size', true],
      ['colour', false],
    ] as const) {
      const chain = new Chain();
      chain.edit('a', 0);
      chain.edit('b', 10, what, flowing);
      expect(chain.back()).toBe('a');
    }
  });

  it('do not flow across another edit', () => {
    const chain = new Chain();
    chain.edit('a', 0);
    chain.edit('b', 10, 'size');
    chain.edit('c', 20);
    expect([chain.back(), chain.back(), chain.back(), chain.back()]).toEqual(['b', 'a', 'start', null]);
  });

  it('forget what was undone as any edit does', () => {
    const chain = new Chain();
    chain.edit('a', 0);
    chain.edit('b', 10, 'size');
    chain.back();
    chain.edit('c', 20);
    expect(chain.history.canRedo).toBe(false);
    expect(chain.back()).toBe('start');
  });
});

describe('states round a lesson', () => {
  it('leave out edits that only looked at it otherwise', () => {
    const history = new History();
    const [a, b] = [settings('a'), settings('b')];
    history.add({ what: 'title', before: a, after: b, at: 0 }, false);
    history.add({ what: 'turn over', before: b, after: { ...b, turned: true }, at: 0 }, false);
    expect(history.statesAround()).toEqual({ undo: [a.lesson], redo: [] });
    history.back();
    history.back();
    expect(history.statesAround()).toEqual({ undo: [], redo: [b.lesson] });
  });

  it('come back in their order after a restart', () => {
    const history = new History();
    const [a, b, c, d] = ['a', 'b', 'c', 'd'].map(titled) as [Lesson, Lesson, Lesson, Lesson];
    const now = settings('now');
    history.putStatesAround({ undo: [a, b], redo: [d, c] }, now);
    expect(history.back()!.before.lesson).toBe(b);
    expect(history.back()!.before.lesson).toBe(a);
    expect(history.back()).toBeNull();
    expect([1, 2, 3, 4].map(() => history.forth()!.after.lesson.title)).toEqual(['b', 'now', 'c', 'd']);
    expect(history.forth()).toBeNull();
  });

  it('do not come where something was edited already', () => {
    const chain = new Chain();
    chain.edit('a', 0);
    chain.history.putStatesAround({ undo: [titled('old')], redo: [] }, chain.now);
    expect(chain.back()).toBe('start');
    expect(chain.back()).toBeNull();
  });

  it('are the same after they were put round the lesson and read again (seed 417)', () => {
    const some = fc.array(fc.string({ maxLength: 3 }), { maxLength: 6 });
    fc.assert(
      fc.property(some, some, (before, after) => {
        const around = { undo: before.map(titled), redo: after.map(titled) };
        const history = new History();
        history.putStatesAround(around, settings('now'));
        expect(history.statesAround()).toEqual(around);
      }),
      { seed: 417, numRuns: 60 },
    );
  });
});

describe('at the desk', () => {
  it('with nothing on the table undo says nothing', () => {
    const { desk } = deskInHand(letter);
    desk.store.put({ document: { lesson: null } });
    desk.edits.undo();
    desk.edits.redo();
    expect(desk.store.look.notice).toBeNull();
  });

  it('a title typed in one go is taken back in one go', () => {
    const { desk, clock } = deskInHand(letter);
    for (const title of ['K', 'Ko', 'Kor']) {
      desk.credit.setTitle(title);
      clock.pass(300);
    }
    desk.edits.undo();
    expect(desk.store.document.lesson).toBe(letter);
    desk.edits.redo();
    expect(desk.store.document.lesson!.title).toBe('Kor');
  });

  it('what was undone in one lesson is not made again in the next', () => {
    const { desk } = deskInHand(letter);
    desk.paper.setSize(210);
    desk.edits.undo();
    desk.edits.open(readyOf(square));
    expect(desk.store.document.canRedo).toBe(false);
    desk.edits.redo();
    expect(desk.store.document.lesson).toBe(square);
    expect(desk.store.look.notice?.text).toBe(words.redoEnds);
  });

  it('undo of an edit leaves the eye where the hand has turned it since', () => {
    const { desk, screen } = deskInHand(letter);
    desk.paper.setSize(210);
    screen.eye = { bearing: 2, fall: 2, zoom: 1 };
    desk.edits.undo();
    expect(screen.heard('fly')).toEqual([]);
  });

  it('an edit whose pattern makes no sheet is taken back, with what was done while that was found out', async () => {
    const { desk, solver } = deskInHand(letter);
    const noSheet = [[0, 0]] as const;
    desk.edits.lesson('sheet', (one) => ({ ...one, pattern: { ...one.pattern, outline: noSheet } }));
    desk.paper.setColour('a', '#123456');
    await solver.answer('rebuild', { kind: 'refused', findings: [] });
    expect(desk.store.document.lesson).toBe(letter);
    expect(desk.store.look.notice).toEqual({ text: words.refusedPlain, tone: 'trouble' });
  });
});
