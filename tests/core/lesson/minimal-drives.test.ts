/**
 * A step names only what it changes. The sample lessons are held against themselves as version 2 had them, where every
 * step repeats what earlier ones had folded: those drives say where each crease is to be.
 */
import { describe, expect, it } from 'vitest';
import { moveStep, removeStep, withStep } from '../../../src/core/lesson/edit-steps.ts';
import { followersOf } from '../../../src/core/lesson/followers.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine, stageOfFinishedAngles, stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { planOfLesson } from '../../../src/core/run/plan.ts';
import { runPlan } from '../../../src/core/run/run.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { foldLesson, sampleOf } from '../../support/lessons.ts';
import { fixture } from '../storage/help.ts';

const names = ['cuffed-tray', 'pencil-case', 'planter-sleeve', 'tapered-case', 'ticket-wallet'];
const before = (name: string) =>
  readLesson(JSON.parse(new TextDecoder().decode(fixture(`lessons/version-2-${name}.json`)))).lesson!;

function folded(lesson: Lesson) {
  const sheet = sheetOfLesson(lesson).sheet!;
  const { stages } = stagesOfLesson(lesson, sheet);
  const tracks = foldLesson(sheet, stages);
  return { sheet, stages, tracks, ends: tracks.map(({ poses }) => poses.at(-1)!.angle) };
}

describe.each(names)('%s', (name) => {
  const lesson = sampleOf(name);
  const now = folded(lesson);

  it('every step ends where version 2 drove each crease, and so does the file of version 2', () => {
    const old = folded(before(name));
    old.stages.forEach(({ target }, step) => {
      target.forEach((angle, crease) => {
        if (Number.isNaN(angle)) return;
        expect(Math.abs(now.ends[step]![crease]! - angle)).toBeLessThan(1e-9);
        expect(Math.abs(old.ends[step]![crease]! - angle)).toBeLessThan(1e-9);
      });
    });
  });

  it('no step names what is there already, and nothing follows', () => {
    now.stages.forEach((stage, step) => {
      const start = now.tracks[step]!.poses[0]!.angle;
      const idle = lesson.steps[step]!.drives.filter((drive) => {
        const alone = { ...lesson, steps: [{ ...lesson.steps[step]!, drives: [drive] }] };
        const [{ target }] = stagesOfLesson(alone, now.sheet).stages as [typeof stage];
        return target.every((angle, crease) => Number.isNaN(angle) || angle === start[crease]);
      });
      expect(idle).toEqual([]);
      expect(followersOf(stage, now.tracks[step]!.poses)).toEqual([]);
    });
  });

  it('left as it is, nothing is short; a step taken out, switched off or swapped is missed', () => {
    const said = (changed: Lesson) => {
      const { sheet, tracks, ends } = folded(changed);
      const finished = stageOfFinishedAngles(sheet).target;
      const off = finished.map((angle, e) => Math.abs(angle - (ends.at(-1)?.[e] ?? 0)) || 0);
      const run = runPlan(planOfLesson(changed, sheet), { bend: false, free: false, motionOnly: true });
      const codes = run.findings.map(({ code }) => code);
      return {
        short: off.some((one) => one > 0.1),
        named: codes.includes('crease-left-short') || codes.includes('crease-never-used'),
        fails: tracks.some(({ report }) => report.outcome !== 'rigid'),
      };
    };
    expect(said(lesson)).toEqual({ short: false, named: false, fails: false });
    lesson.steps.forEach((step, k) => {
      const changes = [removeStep(lesson, k), withStep(lesson, k, { ...step, off: true })];
      if (k > 0) changes.push(moveStep(lesson, k, k - 1));
      for (const changed of changes) {
        if (changed.steps.length === 0) continue;
        const { short, named, fails } = said(changed);
        if (!fails) expect(named).toBe(short);
      }
    });
    // the last step is what brings the model to its finished angles, so that without it something is short
    const without = said(removeStep(lesson, lesson.steps.length - 1));
    expect(without).toEqual({ short: true, named: true, fails: false });
  });
});

describe('the twist coaster, whose one step fails', () => {
  it('rests where it did', () => {
    const [now, old] = [folded(sampleOf('twist-coaster')), folded(before('twist-coaster'))];
    expect(now.tracks.map(({ report }) => report.outcome)).toEqual(['fails']);
    expect(now.ends).toEqual(old.ends);
  });
});

describe('what follows', () => {
  it('a corner of the tray: creases that closure ties to those named, and no others', () => {
    const tray = sampleOf('cuffed-tray');
    const [walls] = tray.steps;
    const lesson: Lesson = { ...tray, steps: [{ ...walls!, drives: walls!.drives.slice(0, 4) }] };
    const { stages, tracks, sheet } = folded(lesson);
    expect(tracks[0]!.report.outcome).toBe('rigid');
    // with all four walls upright each corner folds its gusset, a diagonal and the wall crease beside it (geometry); the
    // lines of the cuffs, which those wall creases cross, stay
    const gussets = walls!.drives.filter(({ angle }) => Math.abs(angle) === 180);
    const folded180 = gussets.flatMap((drive) => creasesOnLine(sheet, drive));
    expect(followersOf(stages[0]!, tracks[0]!.poses)).toEqual(folded180.sort((a, b) => a - b));
    const cuffs = tray.steps[1]!.drives.flatMap((drive) => creasesOnLine(sheet, drive));
    for (const { angle } of tracks[0]!.poses) for (const crease of cuffs) expect(angle[crease]).toBe(0);
  });
});
