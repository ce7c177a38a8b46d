/** A sheet folded in three like a letter: what it looks like at any moment is plain from its numbers. */
import type { Lesson, Step } from '../../src/core/lesson/lesson.ts';
import { KIND } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { square } from './square.ts';

const upright = (x: number) => ({ from: [x, 0], to: [x, 150] }) as const;

const fold = (title: string, x: number): Step => ({
  ...{ title, sentence: `${title}.`, kind: 'fold' },
  drives: [{ ...upright(x), angle: 180 }],
});

/** 150 mm square, valleys at 50 and 100 mm; the right third is folded over the middle, then the left third over both. */
export const letter: Lesson = {
  ...square,
  title: 'Letter of Aldermoor',
  pattern: {
    outline: [
      [0, 0],
      [150, 0],
      [150, 150],
      [0, 150],
    ],
    lines: [
      { ...upright(50), kind: 'valley' },
      { ...upright(100), kind: 'valley' },
    ],
  },
  still: [75, 75],
  steps: [fold('Right third', 100), fold('Left third', 50)],
};

/** The crease that stands upright at so many mm from the left. */
export const creaseAt = (sheet: Sheet, x: number): number =>
  [...sheet.creaseKind.keys()].find(
    (crease) =>
      sheet.creaseKind[crease] !== KIND.edge &&
      Math.abs(sheet.vertexX[sheet.creaseFrom[crease]!]! - x / 150) < 1e-9 &&
      Math.abs(sheet.vertexX[sheet.creaseTo[crease]!]! - x / 150) < 1e-9,
  )!;

/** The panel at so many mm from the left, half-way up. */
export const panelAt = (sheet: Sheet, x: number): number => panelContaining(sheet, x / 150, 0.5);
