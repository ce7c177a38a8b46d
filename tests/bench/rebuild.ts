/** What a change in the middle of a lesson costs: all steps asked for again, against the changed ones folded alone. */
import { readFileSync } from 'node:fs';
import { driveCreases, splitStep } from '../../src/core/lesson/edit-steps.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../src/core/lesson/stages.ts';
import { foldStep } from '../../src/core/pose/fold-step.ts';
import type { Stage, StepTrack } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { Jobs } from '../../src/worker/jobs.ts';
import { heading, row } from './measure.ts';

const STEPS = 12;
const ROUNDS = 5;

function fold(sheet: Sheet, start: Float64Array, stage: Stage): StepTrack {
  const motion = foldStep(sheet, start, stage, { bend: false, free: false });
  for (;;) {
    const { value, done } = motion.next();
    if (done) return value;
  }
}

function foldAll(sheet: Sheet, stages: readonly Stage[], from = 0, start?: Float64Array): StepTrack[] {
  let at = start ?? new Float64Array(sheet.creaseKind.length);
  return stages.slice(from).map((stage) => {
    const track = fold(sheet, at, stage);
    at = new Float64Array(track.poses.at(-1)!.angle);
    return track;
  });
}

/** The pencil case, its longest steps split half-way until there are twelve that move. */
function longLesson(): { lesson: Lesson; sheet: Sheet } {
  const text = readFileSync(new URL('../../public/lessons/pencil-case.json', import.meta.url), 'utf8');
  let lesson = JSON.parse(text) as Lesson;
  const { sheet } = sheetOfLesson(lesson);
  while (lesson.steps.filter(({ drives }) => drives.length > 0).length < STEPS) {
    const tracks = foldAll(sheet!, stagesOfLesson(lesson, sheet!).stages);
    const longest = tracks.reduce(
      (best, { poses }, k) => (poses.length > tracks[best]!.poses.length ? k : best),
      0,
    );
    const { poses } = tracks[longest]!;
    const [start, midway] = [poses[0]!.angle, poses[Math.floor(poses.length / 2)]!.angle];
    lesson = splitStep(lesson, longest, sheet!, { start, midway });
  }
  return { lesson, sheet: sheet! };
}

export async function benchRebuild(): Promise<void> {
  heading('A change in the middle of a lesson of twelve moving steps');
  const { lesson, sheet } = longLesson();
  const jobs = new Jobs(
    () => {},
    async () => {},
  );
  const bake = async (of: Lesson) => {
    const begun = performance.now();
    await jobs.take({ kind: 'bake', job: 1, lesson: of, choices: { bend: false, free: false } });
    return performance.now() - begun;
  };
  const { stages } = stagesOfLesson(lesson, sheet);
  await bake(lesson);
  const half = Math.floor(stages.length / 2);
  const crease = stages[half]!.target.findIndex((angle) => !Number.isNaN(angle) && Math.abs(angle) > 0.5);
  const ratios: number[] = [];
  for (let round = 1; round <= ROUNDS; round++) {
    // another angle each time, so that nothing of it was computed before
    const angle = stages[half]!.target[crease]! * (1 - 0.002 * round);
    const edited = driveCreases(lesson, half, sheet, new Map([[crease, angle]]));
    const changed = stagesOfLesson(edited, sheet).stages;
    const whole = await bake(edited);
    const before = foldAll(sheet, changed.slice(0, half)).at(-1)!;
    const begun = performance.now();
    foldAll(sheet, changed, half, new Float64Array(before.poses.at(-1)!.angle));
    ratios.push(whole / (performance.now() - begun));
  }
  ratios.sort((a, b) => a - b);
  row('rebuild, against the changed steps alone', ratios[Math.floor(ROUNDS / 2)]!, '(goal below 1.3)');
}
