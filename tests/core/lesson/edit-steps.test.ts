/** Edits of steps: what they promise about the targets of every crease, on the sample lessons and at random. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  driveCreases,
  duplicateStep,
  insertStep,
  joinSteps,
  moveStep,
  newStep,
  removeStep,
  repeatStep,
  splitStep,
} from '../../../src/core/lesson/edit-steps.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';

const names = ['pencil-case', 'cuffed-tray', 'ticket-wallet', 'planter-sleeve'];

function sample(name: string): { lesson: Lesson; sheet: Sheet } {
  const text = readFileSync(new URL(`../../../public/lessons/${name}.json`, import.meta.url), 'utf8');
  const { lesson } = readLesson(JSON.parse(text));
  return { lesson: lesson!, sheet: sheetOfLesson(lesson!).sheet! };
}

const targets = (lesson: Lesson, sheet: Sheet) =>
  stagesOfLesson(lesson, sheet).stages.map(({ target }) => [...target].map((angle) => angle.toFixed(9)));

/** The step that drives most creases. */
const busiest = ({ steps }: Lesson) =>
  steps.reduce((best, step, k) => (step.drives.length > steps[best]!.drives.length ? k : best), 0);

describe.each(names)('%s', (name) => {
  const { lesson, sheet } = sample(name);

  it('split half-way, the second part ends where the step did; joined again, all is driven as before', () => {
    const index = busiest(lesson);
    const { target } = stagesOfLesson(lesson, sheet).stages[index]!;
    const midway = target.map((angle) => angle / 2 || 0);
    // as if all that it drives began flat
    const split = splitStep(lesson, index, sheet, { start: new Float64Array(midway.length), midway });
    expect(split.steps.length).toBe(lesson.steps.length + 1);
    expect(targets(split, sheet)[index + 1]).toEqual(targets(lesson, sheet)[index]);
    const first = stagesOfLesson(split, sheet).stages[index]!.target;
    const whole = stagesOfLesson(lesson, sheet).stages[index]!.target;
    first.forEach((angle, crease) => {
      expect(Number.isNaN(angle)).toBe(Number.isNaN(whole[crease]!));
      if (!Number.isNaN(angle)) expect(angle).toBeCloseTo(midway[crease]!, 9);
    });
    expect(targets(joinSteps(split, index, sheet), sheet)).toEqual(targets(lesson, sheet));
  });

  it('a crease driven anew takes that angle and leaves every other as it was, with no order contradicting', () => {
    const random = seededRandom(11);
    for (let round = 0; round < 12; round++) {
      const index = Math.floor(random() * lesson.steps.length);
      const crease = Math.floor(random() * sheet.creaseKind.length);
      const before = stagesOfLesson(lesson, sheet).stages[index]!.target;
      if (Number.isNaN(sheet.creaseAngle[crease]!)) continue;
      const angle = random() < 0.3 ? Number.NaN : (random() - 0.5) * Math.PI;
      const { stages, findings } = stagesOfLesson(
        driveCreases(lesson, index, sheet, new Map([[crease, angle]])),
        sheet,
      );
      expect(findings).toEqual([]);
      stages[index]!.target.forEach((value, e) => {
        const wanted = e === crease ? angle : before[e]!;
        if (Number.isNaN(wanted)) expect(value).toBeNaN();
        else expect(value).toBeCloseTo(wanted, 7);
      });
    }
  });

  it('moved, duplicated, inserted and removed steps come back to the same bytes', () => {
    const last = lesson.steps.length - 1;
    const bytes = writeLesson(lesson);
    expect(writeLesson(moveStep(moveStep(lesson, 0, last), last, 0))).toBe(bytes);
    expect(writeLesson(removeStep(duplicateStep(lesson, 0), 1))).toBe(bytes);
    expect(writeLesson(removeStep(insertStep(lesson, 1, newStep('note', 'A word')), 1))).toBe(bytes);
    const order = lesson.steps.map((_, k) => k);
    const moved = moveStep(lesson, last, 0);
    expect(moved.steps.map((step) => lesson.steps.indexOf(step))).toEqual([last, ...order.slice(0, last)]);
  });
});

it('a fold on the left repeated left and right swapped folds the right', () => {
  const { lesson, sheet } = sample('ticket-wallet');
  // one strip only: x = 0 to 12, so the line y = 1 repeated top and bottom swapped is y = 11
  const bare: Lesson = {
    ...lesson,
    steps: [{ ...newStep('fold', 'Strip'), drives: [{ from: [0, 1], to: [12, 1], angle: -180 }] }],
  };
  const repeated = repeatStep(bare, 0, sheet, 'up-down')!;
  const drives = repeated.steps[1]!.drives;
  expect(drives.map(({ from }) => from[1])).toEqual([11]);
  expect(repeatStep(bare, 0, sheet, 'left-right')!.steps[1]!.drives.length).toBe(1);
  // nothing lies at x = 3 when x = 9 is mirrored
  const odd: Lesson = {
    ...bare,
    steps: [{ ...newStep('fold', 'Side'), drives: [{ from: [9, 4], to: [9, 11], angle: -180 }] }],
  };
  expect(repeatStep(odd, 0, sheet, 'left-right')).toBeNull();
});

it('each part of a split step names only what it turns, and a copy names nothing', () => {
  const { lesson, sheet } = sample('cuffed-tray');
  const whole = stagesOfLesson(lesson, sheet).stages[0]!.target;
  const driven = [...whole.keys()].filter((e) => !Number.isNaN(whole[e]!));
  const [early, late] = [driven[0]!, driven[1]!];
  const start = new Float64Array(whole.length);
  // one crease is at its end half-way, another has not begun, the rest is between
  const midway = whole.map((angle, e) =>
    e === late || Number.isNaN(angle) ? 0 : e === early ? angle : angle / 2,
  );
  const { stages } = stagesOfLesson(splitStep(lesson, 0, sheet, { start, midway }), sheet);
  const names = (step: number) => driven.filter((e) => !Number.isNaN(stages[step]!.target[e]!));
  expect(names(0)).toEqual(driven.filter((e) => e !== late));
  expect(names(1)).toEqual(driven.filter((e) => e !== early));
  for (const e of names(1)) expect(stages[1]!.target[e]).toBe(whole[e]);
  const doubled = duplicateStep(lesson, 0).steps[1]!;
  expect(doubled).toMatchObject({ title: lesson.steps[0]!.title, drives: [] });
});
