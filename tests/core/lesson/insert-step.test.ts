/** A step put into the middle of a lesson: later steps end as before, or it is said which do not. */
import { describe, expect, it } from 'vitest';
import { driveCreases, insertStep, newStep } from '../../../src/core/lesson/edit-steps.ts';
import type { Lesson, Step } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine, stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { foldLesson, sampleOf } from '../../support/lessons.ts';

const lesson = sampleOf('pencil-case');
const sheet = sheetOfLesson(lesson).sheet!;
const tracksOf = (one: Lesson) => foldLesson(sheet, stagesOfLesson(one, sheet).stages);
const endOf = (track: ReturnType<typeof tracksOf>[number]) =>
  [...track.poses.at(-1)!.angle].map((angle) => angle.toFixed(6));
const withThird = (step: Step) => insertStep(lesson, 2, step);
const before = tracksOf(lesson);

describe('a step inserted at position 3 of the pencil case', () => {
  it('that folds nothing: every later step is the very same', () => {
    const after = tracksOf(withThird(newStep('note', 'Rest')));
    expect(after.map(({ report }) => report.outcome)).toEqual(Array(7).fill('rigid'));
    expect(after.slice(3).map(endOf)).toEqual(before.slice(2).map(endOf));
    expect(endOf(after[2]!)).toEqual(endOf(before[1]!));
  });

  it('that bends the flap by any angle first: every later step still ends where it did', () => {
    const random = seededRandom(407);
    const flap = [...lesson.steps[3]!.drives].filter(({ from, to }) => from[1] === 6 && to[1] === 6);
    expect(flap.length).toBeGreaterThan(0);
    for (let round = 0; round < 4; round++) {
      const share = random();
      const angles = new Map(
        flap
          .filter(({ angle }) => angle !== 0)
          .flatMap((drive) =>
            creasesOnLine(sheet, drive).map(
              (crease) => [crease, (share * drive.angle * Math.PI) / 180] as const,
            ),
          ),
      );
      const more = withThird(newStep('fold', 'Flap first'));
      const after = tracksOf(driveCreases(more, 2, sheet, angles));
      expect(after.map(({ report }) => report.outcome)).toEqual(Array(7).fill('rigid'));
      // the hinge step bent nothing else; from the flap's own step on all is as before
      expect(after.slice(4).map(endOf)).toEqual(before.slice(3).map(endOf));
    }
  });

  it('that no paper can do: it fails itself and names the creases, while all before it stays', () => {
    const held = lesson.steps[1]!.drives;
    const wall = creasesOnLine(sheet, { from: [1, 1], to: [1, 3] });
    const more = withThird({ ...newStep('fold', 'One wall down'), drives: held });
    const after = tracksOf(driveCreases(more, 2, sheet, new Map(wall.map((crease) => [crease, 0]))));
    expect(after.slice(0, 2).map(endOf)).toEqual(before.slice(0, 2).map(endOf));
    const { outcome, findings } = after[2]!.report;
    expect(outcome).toBe('fails');
    expect(findings.flatMap(({ creases }) => creases)).toEqual(expect.arrayContaining(wall));
  });
});
