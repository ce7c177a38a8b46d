/** A plain square without lines or steps, to begin a lesson of a test's own with. */
import { type Lesson, lessonFormat, lessonVersion } from '../../src/core/lesson/lesson.ts';

export const square: Lesson = {
  format: lessonFormat,
  version: lessonVersion,
  title: 'Square',
  place: '',
  credit: { maker: '', status: '' },
  sheet: {
    size: 150,
    sideUp: 'b',
    sides: { a: { name: 'Blue', colour: '#225588' }, b: { name: 'White', colour: '#ffffff' } },
  },
  pattern: {
    outline: [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ],
    lines: [],
  },
  steps: [],
};

/** The square of 100 mm, its blue side up. */
export const blueSquare: Lesson = { ...square, sheet: { ...square.sheet, size: 100, sideUp: 'a' } };
