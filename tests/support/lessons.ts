/** The sample lessons, ready to fold. */
import { readFileSync } from 'node:fs';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../src/core/lesson/stages.ts';
import { foldStep } from '../../src/core/pose/fold-step.ts';
import type { Stage, StepTrack } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';

export function sampleOf(name: string): Lesson {
  const file = new URL(`../../public/lessons/${name}.json`, import.meta.url);
  return readLesson(JSON.parse(readFileSync(file, 'utf8'))).lesson!;
}

export function sampleLesson(name: string): { sheet: Sheet; stages: readonly Stage[] } {
  const lesson = sampleOf(name);
  const { sheet } = sheetOfLesson(lesson);
  return { sheet: sheet!, stages: stagesOfLesson(lesson, sheet!).stages };
}

/** All steps in order, each from the end of the one before. */
export function foldLesson(sheet: Sheet, stages: readonly Stage[], bend = false): StepTrack[] {
  const tracks: StepTrack[] = [];
  let start = new Float64Array(sheet.creaseKind.length);
  for (const stage of stages) {
    const steps = foldStep(sheet, start, stage, { bend, free: false });
    for (;;) {
      const { value, done } = steps.next();
      if (!done) continue;
      tracks.push(value);
      start = value.poses[value.poses.length - 1]!.angle.slice(0, start.length);
      break;
    }
  }
  return tracks;
}
