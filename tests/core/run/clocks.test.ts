/** Where time is up, what is known is said and nothing is praised. */
import { describe, expect, test } from 'vitest';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { lookAtStep } from '../../../src/core/run/look.ts';
import { planOfLesson } from '../../../src/core/run/plan.ts';
import { runPlan, runStep } from '../../../src/core/run/run.ts';
import { standingOf } from '../../../src/core/run/standing.ts';
import { lookTask } from '../../../src/core/run/step.ts';
import { verdictOfStep } from '../../../src/core/run/step-known.ts';
import { sampleOf } from '../../support/lessons.ts';

const plan = (() => {
  const lesson = sampleOf('pencil-case');
  return planOfLesson(lesson, sheetOfLesson(lesson).sheet!);
})();
const stiff = { bend: false, free: false };

describe('a run without time', () => {
  test('stops in the first step and says that nothing is known of its motion', () => {
    const run = runPlan(plan, { ...stiff, seconds: -1 });
    expect(run.steps).toHaveLength(1);
    // what is asked is a state of its own, but whether paper gets there is not known
    expect(run.verdict).toMatchObject({ closes: 'yes', moves: 'gave-up' });
    expect(run.findings.map(({ code }) => code)).toContain('motion-stopped');
    const [{ track, end, look }] = run.steps as [(typeof run.steps)[number]];
    const known = { motion: { report: track.report, end }, look };
    expect(standingOf([known], [], []).is).toBe('refused');
  });

  test('contact that is not watched to the end is not known', () => {
    const done = runStep(plan, 0, new Float64Array(plan.sheet.creaseKind.length), [], stiff);
    const task = lookTask(plan, 0, done.track, [])!;
    let calls = 0;
    const look = lookAtStep(task, (question) => () => question === 'contact' && ++calls > 5);
    expect(look.replies.contact).toBe('gave-up');
    const unwatched = look.findings.find(({ code }) => code === 'contact-unwatched');
    expect(unwatched!.value).toBeGreaterThan(0);
    expect(unwatched!.value).toBeLessThan(1);
    const verdict = verdictOfStep({ motion: { report: done.track.report, end: done.end }, look });
    expect(verdict).toMatchObject({ moves: 'yes', contact: 'gave-up' });
  });
});
