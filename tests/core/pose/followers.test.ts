/** Creases that a step does not name follow; those that nothing has to move end exactly where the step found them. */
import { describe, expect, it } from 'vitest';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { foldLesson, sampleOf } from '../../support/lessons.ts';

describe('the ticket wallet, each step naming only what it turns', () => {
  const lesson = sampleOf('ticket-wallet');
  const sheet = sheetOfLesson(lesson).sheet!;
  const { stages } = stagesOfLesson(lesson, sheet);
  const alone = stages.map(({ target }, step) => ({
    target: target.map((angle, crease) =>
      angle === (step > 0 ? stages[step - 1]!.target[crease]! : 0) ? Number.NaN : angle,
    ),
  }));
  const tracks = foldLesson(sheet, alone);

  it.each(alone.map((_, step) => step))('step %i turns what it names and nothing else', (step) => {
    const { poses, report } = tracks[step]!;
    const [start, end] = [poses[0]!.angle, poses.at(-1)!.angle];
    expect(report.outcome).toBe('rigid');
    alone[step]!.target.forEach((wanted, crease) => {
      // each fold of the wallet is flat, one line at a time: what it ends at is plain from the lesson
      expect(end[crease]).toBe(Number.isNaN(wanted) ? start[crease] : wanted);
    });
  });
});
