/** Corners that locate a step: found by their place, set and taken back. */
import { describe, expect, it } from 'vitest';
import { cornerAt, isLandmark, toggleLandmark } from '../../../src/core/lesson/landmarks.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { cornerInPattern } from '../../../src/core/sheet/frame.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { sampleOf } from '../../support/lessons.ts';

describe.each(['ticket-wallet', 'pencil-case', 'twist-coaster'])('%s', (name) => {
  const lesson = sampleOf(name);
  const sheet = sheetOfLesson(lesson).sheet!;

  it('every corner is found at its own place, and none beside it', () => {
    for (let v = 0; v < sheet.vertexX.length; v++) {
      const place = cornerInPattern(sheet, v);
      expect(cornerAt(sheet, place)).toBe(v);
      expect(cornerAt(sheet, [place[0] + 1e-3 * sheet.frame.scale, place[1]])).toBeNull();
    }
  });

  it('a landmark set and taken back leaves the same bytes', () => {
    for (let v = 0; v < sheet.vertexX.length; v++) {
      if (isLandmark(lesson, 0, sheet, v)) continue;
      const set = toggleLandmark(lesson, 0, sheet, v);
      expect(isLandmark(set, 0, sheet, v)).toBe(true);
      expect(isLandmark(set, 1, sheet, v)).toBe(isLandmark(lesson, 1, sheet, v));
      expect(writeLesson(toggleLandmark(set, 0, sheet, v))).toBe(writeLesson(lesson));
    }
  });
});
