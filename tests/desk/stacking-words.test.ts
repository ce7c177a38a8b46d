/** The sentence beside each stacking that is offered: what it says holds for that stacking and for no other. */
import { describe, expect, test } from 'vitest';
import { groupByPlane } from '../../src/core/layer/planes.ts';
import { layersAt, stacksOf } from '../../src/core/layer/stacks.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { placePanels } from '../../src/core/pose/place.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import { runPlan } from '../../src/core/run/run.ts';
import { ownAngles } from '../../src/core/run/step.ts';
import { onSheet } from '../../src/core/sheet/frame.ts';
import { stackingSentence } from '../../src/words/stacking-words.ts';
import { sampleOf } from '../support/lessons.ts';

// common practice, no source: the sentence is read back by itself
describe.each(['ticket-wallet', 'pencil-case', 'planter-sleeve'])('%s', (name) => {
  const lesson = sampleOf(name);
  const { sheet } = sheetOfLesson(lesson);
  const { steps } = runPlan(planOfLesson(lesson, sheet!), { bend: false, free: false });
  const { choices, differences } = steps.at(-1)!.look!;
  const up = lesson.sheet.sides[lesson.sheet.sideUp].name.toLowerCase();
  const sentences = differences.map((told) => stackingSentence(told, lesson.sheet, sheet!));

  const placement = placePanels(sheet!, ownAngles(sheet!, steps.at(-1)!.track.poses.at(-1)!.angle), 0);
  const stackings = choices.map((order) => stacksOf(groupByPlane(sheet!, placement), order));

  /** Does a stacking have what a sentence says? At the place that it names, or wherever the two overlap. */
  const has = (which: number, sentence: string) =>
    [
      ...sentence.matchAll(
        /panel (\d+) lies on the (.+?) side of panel (\d+)(?:, near \(([^,]+), ([^)]+)\))?/gi,
      ),
    ].every(([, upper, name, lower, x, y]) => {
      const [f, g, side] = [Number(upper), Number(lower), name === up ? 1 : -1];
      if (!x) return choices[which]!.some(([p, q, s]) => p === f && q === g && s === side);
      const { planes } = stackings[which]!;
      const at = onSheet(sheet!, [Number(x), Number(y)]);
      const { panels } = layersAt(stackings[which]!, placement, f, at);
      return panels.indexOf(f) > panels.indexOf(g) === side * planes.up[g]! > 0;
    });

  test('there is more than one to choose from, each with a sentence of its own', () => {
    expect(choices.length).toBeGreaterThan(1);
    expect(new Set(sentences).size).toBe(choices.length);
  });

  test('each sentence holds for its own stacking and for none of the others', () => {
    sentences.forEach((sentence, k) => {
      expect(sentence).toMatch(/^Panel .*\.$/);
      expect(choices.map((__, other) => has(other, sentence))).toEqual(
        choices.map((_, other) => other === k),
      );
    });
  });
});
