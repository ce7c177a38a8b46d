import { expect, it } from 'vitest';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { triedMend } from '../../../src/core/run/mend/tried.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { judged } from '../../support/changed-lessons.ts';
import { said } from '../../support/said.ts';

const options = { bend: false, free: false, seconds: 20 };

type Flat = readonly [number, number];
const ends: readonly [Flat, Flat][] = [1, 3].flatMap((x): [Flat, Flat][] => [
  [
    [x, 0],
    [x, 1],
  ],
  [
    [x, 1],
    [x, 2],
  ],
]);

/** A strip folded in half along its length, then both its ends folded in: drawn and folded with valleys alone. */
const valleysAlone = (): Lesson => {
  const step = (title: string, lines: readonly [Flat, Flat][]) => ({
    ...{ kind: 'fold', title, sentence: '', locatedBy: [] },
    drives: lines.map(([from, to]) => ({ from, to, angle: 180 })),
  });
  const half: [Flat, Flat] = [
    [0, 1],
    [4, 1],
  ];
  const side = { name: 'Paper', colour: '#f6f2e8' };
  const { lesson, findings } = readLesson({
    ...{ format: 'creaseway-lesson', version: 3, title: 'Strip', place: '' },
    credit: { maker: 'Creaseway', status: 'own' },
    sheet: { size: 200, sideUp: 'b', sides: { a: side, b: side } },
    pattern: {
      outline: [
        [0, 0],
        [4, 0],
        [4, 2],
        [0, 2],
      ],
      lines: [half, ...ends].map(([from, to]) => ({ from, to, kind: 'valley', angle: 180 })),
    },
    steps: [step('Half', [half]), step('Ends', ends)],
  });
  if (!lesson) throw new Error(said(findings));
  return lesson;
};

// mountains less valleys at a corner that folds flat: two (Maekawa; Justin), so each corner has one valley too many
it('of two corners that are wrong alike each has its mend, though the other stays wrong; both together make all well', () => {
  const lesson = valleysAlone();
  const countsOf = (one: Lesson) =>
    judged(one, options).findings.filter(({ code }) => code === 'vertex-mountain-valley-count');
  const { standing, account } = judged(lesson, options);
  expect(standing).toBe('refused');
  const found = countsOf(lesson);
  expect(found.map(({ at }) => at[0])).toEqual([
    [0.25, 0.25],
    [0.75, 0.25],
  ]);
  for (const one of found) {
    const mend = triedMend(one, lesson, () => account, options);
    const [left, ...more] = countsOf(mend!.lesson);
    expect(more).toEqual([]);
    expect(left!.at[0]).not.toEqual(one.at[0]);
    const half = judged(mend!.lesson, options);
    expect(half.standing).toBe('refused');
    const last = triedMend(left!, mend!.lesson, () => half.account, options);
    expect(judged(last!.lesson, options).standing).toBe('sound');
  }
});
