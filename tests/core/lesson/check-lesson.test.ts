/** What a lesson forgets: the complete sample lessons raise no alarm; anything taken out of them is named. */

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkLesson } from '../../../src/core/lesson/check/check-lesson.ts';
import { makingMends } from '../../../src/core/lesson/check/mends.ts';
import { type Lesson, type MadeCrease, usualLimits } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine } from '../../../src/core/lesson/stages.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { sentenceOf } from '../../../src/words/findings.ts';

const names = [
  'pencil-case',
  'tapered-case',
  'cuffed-tray',
  'ticket-wallet',
  'twist-coaster',
  'planter-sleeve',
];

function sample(name: string): Lesson {
  const text = readFileSync(new URL(`../../../public/lessons/${name}.json`, import.meta.url), 'utf8');
  return readLesson(JSON.parse(text)).lesson!;
}

const check = (lesson: Lesson, limits = usualLimits) =>
  checkLesson(lesson, sheetOfLesson(lesson).sheet!, limits);
const alarms = (lesson: Lesson) => check(lesson).filter(({ severity }) => severity !== 'note');

describe.each(names)('%s', (name) => {
  const lesson = sample(name);

  it('complete, it raises no alarm', () => {
    expect(alarms(lesson).map(sentenceOf)).toEqual([]);
  });

  it('whichever crease or mark is forgotten is named, with the step that needs it', () => {
    const { sheet } = sheetOfLesson(lesson);
    lesson.precreases!.forEach((gone, index) => {
      const without: Lesson = { ...lesson, precreases: lesson.precreases!.filter((_, k) => k !== index) };
      const found = check(without).filter(({ code }) => code === 'crease-used-before-made');
      const creases = creasesOnLine(sheet!, gone);
      const others = new Set(
        without.precreases!.filter(({ pinch }) => !pinch).flatMap((one) => creasesOnLine(sheet!, one)),
      );
      // a mark on a line that is creased as well is not missed
      const marked = gone.pinch && without.precreases!.some((one) => !one.pinch && lies(gone, one));
      if (marked || (!gone.pinch && creases.every((crease) => others.has(crease)))) return;
      expect(found.length, JSON.stringify(gone)).toBeGreaterThan(0);
      const step = lesson.steps.findIndex(({ title }) => sentenceOf(found[0]!).includes(`"${title}"`));
      expect(step).toBeGreaterThanOrEqual(0);
      if (!gone.pinch)
        for (const crease of creases) expect(found.flatMap((one) => one.creases)).toContain(crease);
    });
  });
});

/** Does a short line lie on a longer one? */
function lies(short: MadeCrease, long: MadeCrease): boolean {
  const [dx, dy] = [long.to[0] - long.from[0], long.to[1] - long.from[1]];
  return [short.from, short.to].every(([x, y]) => {
    const t = ((x - long.from[0]) * dx + (y - long.from[1]) * dy) / (dx * dx + dy * dy);
    return Math.abs((x - long.from[0]) * dy - (y - long.from[1]) * dx) < 1e-9 && t >= 0 && t <= 1;
  });
}

describe('other troubles', () => {
  const lesson = sample('cuffed-tray');
  const codes = (changed: Lesson) => alarms(changed).map(({ code }) => code);

  it('a line that no fold needs, one creased too far, and one from the wrong side', () => {
    const extra = (made: MadeCrease): Lesson => ({ ...lesson, precreases: [...lesson.precreases!, made] });
    expect(codes(extra({ from: [0, 4], to: [8, 4] }))).toEqual(['crease-never-used']);
    const short = lesson.precreases!.findIndex(({ from }) => from[0] === 1 && from[1] === 2);
    const stretched = lesson.precreases!.map((made, k) =>
      k === short ? { ...made, from: [2, 3] as const } : made,
    );
    const [long] = alarms({ ...lesson, precreases: stretched });
    expect(long!.code).toBe('crease-too-long');
    // one square of 150 / 8 mm, across its diagonal
    expect(long!.value).toBeCloseTo((150 / 8) * Math.SQRT2, 6);
    const turned = lesson.precreases!.map((made, k) =>
      k === short ? { ...made, side: 'b' as const } : made,
    );
    expect(codes({ ...lesson, precreases: turned })).toEqual(['crease-wrong-way']);
  });

  it('a step whose fold was taken out leaves lines that nothing folds', () => {
    const [first, ...rest] = sample('planter-sleeve').steps;
    const changed = { ...sample('planter-sleeve'), steps: [first!] };
    const used = alarms(changed).filter(({ code }) => code === 'crease-never-used');
    expect(rest.length).toBe(1);
    // eight creases of the four tips, drawn and precreased
    expect(used.find((found) => sentenceOf(found).includes('finished angle'))!.creases.length).toBe(8);
  });

  it('limits of the class are the teacher’s, kept with the lesson', () => {
    const { sheet } = sheetOfLesson(lesson);
    const kept = checkLesson({ ...lesson, limits: { creasesAtOnce: 4, turnOvers: 0 } }, sheet!);
    expect(kept.filter(({ code }) => code === 'step-too-much').map(({ limit }) => limit)).toEqual([4, 4, 0]);
    const notes = check(lesson, { creasesAtOnce: 4, turnOvers: 0 });
    expect(notes.filter(({ code }) => code === 'step-too-much').map(({ severity }) => severity)).toEqual([
      'note',
      'note',
      'note',
    ]);
  });

  it('creases taken out at random are all named', () => {
    const random = seededRandom(5);
    for (let round = 0; round < 20; round++) {
      const kept = lesson.precreases!.filter(() => random() < 0.7);
      const gone = lesson.precreases!.filter((made) => !kept.includes(made));
      const { sheet } = sheetOfLesson(lesson);
      const missing = new Set(gone.flatMap((made) => creasesOnLine(sheet!, made)));
      const found = check({ ...lesson, precreases: kept }).filter(
        ({ code }) => code === 'crease-used-before-made',
      );
      if (kept.length > 0) expect(new Set(found.flatMap(({ creases }) => creases))).toEqual(missing);
    }
  });
});

describe('mends', () => {
  it.each(names)('%s: whatever was taken out or spoilt is mended until no alarm is left', (name) => {
    const lesson = sample(name);
    const { sheet } = sheetOfLesson(lesson);
    const random = seededRandom(name.length);
    for (let round = 0; round < 6; round++) {
      const spoilt = lesson
        .precreases!.filter((made) => made.pinch || random() < 0.7)
        .map(
          (made) =>
            (made.side && random() < 0.3
              ? { ...made, side: made.side === 'a' ? 'b' : 'a' }
              : made) as MadeCrease,
        );
      if (spoilt.every(({ pinch }) => pinch)) continue;
      let mended: Lesson = { ...lesson, precreases: spoilt };
      for (let k = 0; k < 60; k++) {
        const [found] = alarms(mended);
        if (!found) break;
        const [mend] = makingMends(found, mended, sheet!);
        expect(mend, sentenceOf(found)).toBeDefined();
        mended = mend!.lesson;
      }
      expect(alarms(mended).map(sentenceOf)).toEqual([]);
    }
  });
});
