/** What it costs to answer every question of a lesson, against its tracks alone. */
import { readFileSync } from 'node:fs';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import { runPlan } from '../../src/core/run/run.ts';
import { readLesson } from '../../src/core/storage/lesson/read.ts';
import { heading, row } from './measure.ts';

const ROUNDS = 12;

export function benchQuestions(): void {
  heading('Every question of a lesson answered, against its tracks alone (ms, best)');
  for (const name of ['pencil-case', 'cuffed-tray', 'ticket-wallet', 'planter-sleeve']) {
    const file = new URL(`../../public/lessons/${name}.json`, import.meta.url);
    const lesson = readLesson(JSON.parse(readFileSync(file, 'utf8'))).lesson!;
    const plan = planOfLesson(lesson, sheetOfLesson(lesson).sheet!);
    const best = (motionOnly: boolean) => {
      let least = Number.POSITIVE_INFINITY;
      let answered = 0;
      for (let round = 0; round < ROUNDS; round++) {
        const begun = performance.now();
        answered += runPlan(plan, { bend: false, free: false, motionOnly }).steps.length;
        least = Math.min(least, performance.now() - begun);
      }
      if (answered !== ROUNDS * lesson.steps.length) throw new Error(`${name} was not carried out`);
      return least;
    };
    const [tracks, all] = [best(true), best(false)];
    row(name, tracks, all, 'ratio', all / tracks);
  }
}
