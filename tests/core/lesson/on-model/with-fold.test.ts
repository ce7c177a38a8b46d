/** What a fold made on the model does to the rest of a lesson: lines cut where they turn over, other steps kept true. */

import { describe, expect, it } from 'vitest';
import { splitStep } from '../../../../src/core/lesson/edit-steps.ts';
import type { Lesson } from '../../../../src/core/lesson/lesson.ts';
import type { FoldPlan } from '../../../../src/core/lesson/on-model/folded.ts';
import { reverseFolds } from '../../../../src/core/lesson/on-model/reverse-fold.ts';
import { cut, withFold } from '../../../../src/core/lesson/on-model/with-fold.ts';
import { sheetOfLesson } from '../../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine, stagesOfLesson } from '../../../../src/core/lesson/stages.ts';
import { readLesson } from '../../../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../../../src/core/storage/lesson/write.ts';
import { words } from '../../../../src/words/words.ts';
import { foldLesson } from '../../../support/lessons.ts';
import { foldAll, lineOn } from '../../../support/on-model.ts';
import { square } from '../../../support/square.ts';

const still = [0.05, 0.05] as const;
const fold = { from: [0, 0.5], to: [1, 0.5], angle: 180 } as const;

/** A square folded in half; a later step drives the same line again. */
const half: Lesson = {
  ...square,
  pattern: { ...square.pattern, lines: [{ from: [0, 0.5], to: [1, 0.5], kind: 'valley', angle: 180 }] },
  steps: [{ title: 'Half', sentence: '', kind: 'fold', drives: [fold] }],
};

function reversedCorner(lesson: Lesson): { pose: ReturnType<typeof foldAll>; plan: FoldPlan } {
  const pose = foldAll({ ...lesson, steps: lesson.steps.slice(0, 1) }, still);
  const panels = Array.from(pose.sheet.panelRings.keys());
  const plans = reverseFolds({ ...pose, ...lineOn(pose, [0.5, 0.5], [1, 0.25], 1), panels, way: 'inside' });
  if ('refused' in plans) throw new Error(words.foldTrouble(plans.refused));
  return { pose, plan: plans[0]! };
}

describe('a reverse fold put into a lesson', () => {
  const { pose, plan } = reversedCorner(half);
  const made = { ...pose, plan, title: 'Reverse' };
  const lesson = withFold(half, 0, made);

  it('cuts the line where it turns over, and gives each part its own kind', () => {
    const ridge = lesson.pattern.lines.filter(({ from, to }) => from[1] === 0.5 && to[1] === 0.5);
    expect(ridge).toEqual([
      { from: [0, 0.5], to: [0.5, 0.5], kind: 'valley', angle: 180 },
      { from: [0.5, 0.5], to: [1, 0.5], kind: 'mountain', angle: -180 },
    ]);
  });

  it('is not held back by a kind that tells only how the crease ends', () => {
    const { sheet } = sheetOfLesson(lesson);
    const { stages, findings } = stagesOfLesson(lesson, sheet!);
    expect(findings).toEqual([]);
    const both = Array.from(sheet!.creaseKind.keys()).filter((crease) => stages[0]!.bothWays?.[crease]);
    expect(both.length).toBe(1);
    expect(sheet!.creaseAngle[both[0]!]).toBeCloseTo(-Math.PI, 12);
    expect(stages[0]!.target[both[0]!]).toBeCloseTo(Math.PI, 12);
  });

  it('lines that come later stay unfolded in the steps before', () => {
    expect(lesson.steps[0]).toEqual(half.steps[0]);
    const sheet = sheetOfLesson(lesson).sheet!;
    const later = plan.creases.flatMap(({ from, to }) => creasesOnLine(sheet, { from, to }));
    expect(later.length).toBe(2);
    const [before] = foldLesson(sheet, stagesOfLesson(lesson, sheet).stages.slice(0, 1));
    for (const { angle } of before!.poses) for (const crease of later) expect(angle[crease]).toBe(0);
  });

  it('a later step that held the line as it was holds it as it is now', () => {
    const again = { title: 'Press', sentence: '', kind: 'fold', drives: [fold] } as const;
    const steps = withFold({ ...half, steps: [...half.steps, again] }, 0, made).steps;
    expect(steps[2]!.drives).toEqual([
      { from: [0, 0.5], to: [0.5, 0.5], angle: 180 },
      { from: [0.5, 0.5], to: [1, 0.5], angle: -180 },
    ]);
  });

  it('a crease that only followed before is driven there from now on', () => {
    const followed = { ...half, steps: [{ ...half.steps[0]!, drives: [] }] };
    const told = withFold(followed, 0, { ...made, ends: [pose.angle] });
    expect(told.steps[0]!.drives).toContainEqual(fold);
  });

  it('is read again as it was written', () => {
    expect(lesson.steps[1]!.through?.length).toBe(1);
    const full = { ...lesson, limits: { creasesAtOnce: 4, turnOvers: 1 } };
    expect(readLesson(JSON.parse(writeLesson(full))).lesson).toEqual(full);
  });

  it('split, neither part goes through the open flap twice', () => {
    const { sheet } = sheetOfLesson(lesson);
    const flat = new Float64Array(sheet!.creaseKind.length);
    const parts = splitStep(lesson, 1, sheet!, { start: flat, midway: flat }).steps;
    expect(parts.length).toBe(3);
    expect(parts.map(({ through }) => through)).toEqual([undefined, undefined, undefined]);
  });
});

describe('a line cut at stretches of it', () => {
  const line = { from: [0, 0], to: [4, 0] } as const;
  const ends = (pieces: ReturnType<typeof cut>) =>
    pieces.map(({ from, to, of }) => [from[0], to[0], of !== null]);

  it('keeps its direction whichever way the stretches run', () => {
    const stretches = [
      { from: [2, 0], to: [1, 0] },
      { from: [3, 0], to: [5, 0] },
    ] as const;
    expect(ends(cut(line, stretches, 1e-4))).toEqual([
      [0, 1, false],
      [1, 2, true],
      [2, 3, false],
      [3, 4, true],
    ]);
  });

  it('is left whole by stretches beside it, on another line, or only touching', () => {
    const stretches = [
      { from: [1, 1], to: [2, 1] },
      { from: [1, 0], to: [2, 1] },
      { from: [4, 0], to: [5, 0] },
    ] as const;
    expect(ends(cut(line, stretches, 1e-4))).toEqual([[0, 4, false]]);
  });
});
