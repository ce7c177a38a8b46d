/** What is worked out beside the run: mends that were tried, likely mistakes folded, words that stand at the slider. */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/core/finding/finding.ts';
import type { Mend } from '../../src/core/lesson/check/mends.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { failureText, findingsNow, remarkOn, summaryOf } from '../../src/desk/run/standing.ts';
import type { Wrong } from '../../src/desk/run/wrongs.ts';
import { words } from '../../src/words/words.ts';
import type { MendWork, WrongWork } from '../../src/worker/work.ts';
import { eventually } from '../support/desk.ts';
import { deskInHand, passed } from '../support/hand-solver.ts';
import { letter } from '../support/letter.ts';

const found = (severity: Finding['severity'], corner = 0) =>
  ({
    code: `corner-open-${corner}`,
    severity,
    values: {},
    vertices: [corner],
    creases: [],
    panels: [],
  }) as unknown as Finding;

describe('mends', () => {
  /** Work that the test answers, with what was asked. */
  class HandMends implements MendWork {
    readonly asked: Lesson[] = [];
    cancelled = 0;
    mend: Mend | null = null;
    mendFor: MendWork['mendFor'] = async (lesson) => {
      this.asked.push(lesson);
      return this.mend;
    };
    cancel = () => void this.cancelled++;
  }

  test('of one finding are tried once for a lesson as it folds now', async () => {
    const mends = new HandMends();
    const { desk } = deskInHand(letter, { mends });
    const first = desk.mends.mendFor(found('error'));
    expect(desk.mends.mendFor(found('error'))).toBe(first);
    await desk.mends.mendFor(found('error', 1));
    expect(mends.asked).toHaveLength(2);
  });

  test('of a lesson that was edited since are wanted no more', async () => {
    const mends = new HandMends();
    const { desk } = deskInHand(letter, { mends });
    await desk.mends.mendFor(found('error'));
    const before = mends.cancelled;
    desk.paper.toggleBend();
    await desk.mends.mendFor(found('error'));
    desk.credit.setTitle('Other');
    await desk.mends.mendFor(found('error'));
    expect(mends.cancelled).toBe(before + 2);
    expect(mends.asked.map(({ title }) => title)).toEqual([letter.title, letter.title, 'Other']);
  });

  test('that add a step give it a title in the teacher’s words', async () => {
    const mends = new HandMends();
    const steps = [{ ...letter.steps[0]!, title: '' }, ...letter.steps];
    mends.mend = {
      lesson: { ...letter, steps },
      untitled: 0,
      name: { how: 'fold-before' },
    } as unknown as Mend;
    const { desk } = deskInHand(letter, { mends });
    const mend = await desk.mends.mendFor(found('error'));
    expect(mend!.lesson.steps[0]!.title).toBe(words.mendTitles['fold-before']);
    expect(mend!.lesson.steps[1]).toBe(letter.steps[0]);
  });
});

describe('likely mistakes', () => {
  class HandWrongs implements WrongWork {
    ended = false;
    asked = 0;
    answers: ((look: Awaited<ReturnType<WrongWork['foldWrongly']>>) => void)[] = [];
    foldWrongly: WrongWork['foldWrongly'] = () => {
      this.asked++;
      return new Promise((resolve) => this.answers.push(resolve));
    };
    end = () => void (this.ended = true);
  }

  async function folding() {
    const work = new HandWrongs();
    const hand = deskInHand(letter, { startWrongs: () => work });
    hand.solver.finishAll();
    let told: readonly Wrong[] = [];
    hand.screen.picture = async () => 'data:picture';
    const stop = hand.desk.wrongs.foldAll(0, (wrongs) => (told = wrongs));
    // the list of likely mistakes is fetched first
    await eventually(() => expect(work.asked).toBe(1));
    return { ...hand, work, stop, told: () => told };
  }

  test('are listed at once and folded one after the other; one that broke does not end the rest', async () => {
    const { work, told, desk } = await folding();
    expect(told().length).toBeGreaterThan(1);
    expect(told().every(({ look }) => look === null)).toBe(true);
    expect(work.asked).toBe(1);
    work.answers[0]!({ broke: 'lost' });
    await passed();
    expect(told()[0]).toMatchObject({ look: { broke: 'lost' }, picture: null });
    expect(work.asked).toBe(2);
    const angle = new Float64Array(desk.store.document.sheet!.creaseKind.length);
    work.answers[1]!({ angle } as never);
    await passed();
    expect(told()[1]!.picture).toBe('data:picture');
  });

  test('end with their panel: nothing is told or asked after it', async () => {
    const { work, told, stop } = await folding();
    const before = told();
    stop();
    expect(work.ended).toBe(true);
    work.answers[0]!({ broke: 'too late' });
    await passed();
    expect(told()).toBe(before);
    expect(work.asked).toBe(1);
  });
});

describe('the sentence under a step', () => {
  test('says how far a step that fails got', () => {
    const { desk, solver } = deskInHand(letter);
    solver.finishStep(0, 'fails', 0.4);
    expect(failureText(desk.store.run.steps[0]!)).toBe(words.heldAt(0.4));
    expect(remarkOn(desk.store.state, 0)).toEqual({ tone: 'bad', text: words.heldAt(0.4) });
    solver.finishStep(0, 'fails', 0.004);
    expect(failureText(desk.store.run.steps[0]!)).toBe(words.heldAtStart);
    solver.finishStep(0, 'stopped', 0.4);
    expect(failureText(desk.store.run.steps[0]!)).toBe(words.searchEnds(0.4));
  });

  test('counts warnings where there are several, and tells of none where there are only notes', () => {
    const { desk } = deskInHand(letter);
    const remark = (...severities: Finding['severity'][]) => {
      desk.store.put({ document: { findings: severities.map((one, k) => found(one, k)) } });
      return remarkOn(desk.store.state, 0);
    };
    expect(remark('note', 'note')).toBeNull();
    expect(remark('warning', 'note', 'warning')).toEqual({ tone: 'look', text: words.remarks(2) });
  });

  test('offers to true up before it counts warnings', () => {
    const { desk } = deskInHand(letter);
    desk.store.put({ document: { trueUp: 0.3, findings: [found('warning'), found('warning', 1)] } });
    expect(remarkOn(desk.store.state, 0)).toEqual({ tone: 'look', text: words.trueUpOffer(0.3) });
  });
});

test('findings are told the worst first', () => {
  const { desk } = deskInHand(letter);
  desk.store.put({ document: { findings: [found('note'), found('error'), found('warning')] } });
  expect(findingsNow(desk.store.state).map(({ finding }) => finding.severity)).toEqual([
    'error',
    'warning',
    'note',
  ]);
});

test('nothing is praised on which nothing folds, nor while it is still computed', () => {
  const { desk, solver } = deskInHand(letter);
  expect(summaryOf(desk.store.state)).toEqual({ tone: 'plain', text: words.stillComputing });
  const plain = deskInHand({ ...letter, pattern: { ...letter.pattern, lines: [] }, steps: [] }).desk;
  expect(summaryOf(plain.store.state)).toEqual({ tone: 'plain', text: words.nothingFolds });
  solver.finishAll();
  expect(summaryOf(desk.store.state).tone).toBe('plain');
});
