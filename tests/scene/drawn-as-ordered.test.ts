import { describe, expect, it } from 'vitest';
import {
  type DrawnLesson,
  drawnLesson,
  judgedLessons,
  MOMENTS,
  orderedStack,
  sevenViews,
  wrongPixels,
} from '../support/drawn-as-ordered.ts';
import { sampleOf } from '../support/lessons.ts';

/** Pixels along the edge of an id picture: about one for each millimetre of the model. */
const PIXELS = 150;

/** Wrong pixels of all moments and views, from the start of a step (counted from 0) to the end of the lesson. */
function wrongOf(lesson: DrawnLesson, first: number, as: 'drawn' | 'placed', moments = MOMENTS): number {
  const order = orderedStack(lesson, first);
  const last = lesson.run.steps.length;
  let wrong = 0;
  for (let k = 0; k < moments; k++) {
    const place = first + ((last - first) * (k + 1)) / moments;
    const step = Math.min(last - 1, Math.floor(place));
    const moment = lesson.drawnAt(step, place - step, as);
    for (const view of sevenViews) wrong += wrongPixels(lesson, moment, order, view, PIXELS).length;
  }
  return wrong;
}

// common practice, no source: an id picture by brute force, held against the order of the layers
describe('drawn as ordered: 100 moments in 7 views', () => {
  it.each(judgedLessons)('%s from step %i (counted from 0) to its end', (name, first) => {
    expect(wrongOf(drawnLesson(sampleOf(name)), first, 'drawn')).toBe(0);
  });

  it('the same pictures of the pencil case with stiff panels show the flap outside the wall', () => {
    expect(wrongOf(drawnLesson(sampleOf('pencil-case')), 4, 'placed', 10)).toBeGreaterThan(100);
  });
});
