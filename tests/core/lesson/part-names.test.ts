/** Names of panels: by a point of the panel, so that they go with it. */
import { describe, expect, test } from 'vitest';
import { movePoint } from '../../../src/core/draw/move-point.ts';
import { withPattern } from '../../../src/core/lesson/carry.ts';
import { calledPart, partNames, placeOnSheet, withPartName } from '../../../src/core/lesson/part-names.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { insidePoint } from '../../../src/core/sheet/inside-point.ts';
import { KIND } from '../../../src/core/sheet/kind.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { partName } from '../../../src/words/part-words.ts';
import { sampleOf } from '../../support/lessons.ts';
import { proposedSentence } from '../../support/proposed.ts';
import { square } from '../../support/square.ts';

const lesson = sampleOf('pencil-case');
const sheet = sheetOfLesson(lesson).sheet!;
const panels = [...sheet.panelRings.keys()];

// the places of walls, lid and flap: scenario S1, derived from its grid of seven
describe('names of the pencil case', () => {
  test.each([
    ['Base', 3.5 / 7, 2 / 7],
    ['Front wall', 3.5 / 7, 0.5 / 7],
    ['Lid', 3.5 / 7, 5 / 7],
    ['Tuck flap', 3.5 / 7, 6.5 / 7],
  ])('%s', (name, x, y) => {
    expect(partNames(lesson, sheet).get(panelContaining(sheet, x, y))).toBe(name);
  });

  test('every panel can be named, renamed and left without a name, and no other changes', () => {
    for (const panel of panels) {
      const named = withPartName(lesson, sheet, panel, ` Part ${panel} `);
      expect(partNames(named, sheet).get(panel)).toBe(`Part ${panel}`);
      const bare = withPartName(named, sheet, panel, '');
      expect(partNames(bare, sheet).has(panel)).toBe(false);
      for (const other of panels)
        if (other !== panel)
          for (const one of [named, bare])
            expect(partNames(one, sheet).get(other)).toBe(partNames(lesson, sheet).get(other));
    }
  });

  test('a corner that is moved takes the name along', () => {
    const moved = movePoint(lesson.pattern, [6, 6], [5.8, 6.1]);
    const after = withPattern(lesson, moved.pattern, moved.placeOf);
    const names = partNames(after, sheetOfLesson(after).sheet!);
    expect([...names.values()].sort()).toEqual([...partNames(lesson, sheet).values()].sort());
  });
});

// common practice, no source: thirds of the sheet, told as a reader sees it
test('a panel without a name is told by its number and its place', () => {
  const bare = { ...lesson, parts: [] };
  for (const panel of panels) {
    const [x, y] = insidePoint(sheet, panel);
    const { across, up } = placeOnSheet(sheet, panel);
    expect(across).toBe(x < 1 / 3 ? 'left' : x > 2 / 3 ? 'right' : 'middle');
    expect(up).toBe(y < 1 / 3 ? 'lower' : y > 2 / 3 ? 'upper' : 'middle');
    expect(partName(calledPart(bare, sheet, panel))).toContain(`Panel ${panel}, `);
  }
  expect(new Set(panels.map((panel) => partName(calledPart(bare, sheet, panel)))).size).toBe(panels.length);
});

/** The sentence proposed for folding the upper half of a square over, cut in two where `halved`; its right end is named. */
function sentenceOfFold(name: string, halved: boolean): string {
  const lines = [
    { from: [0, 0.5], to: [1, 0.5], kind: 'valley' },
    { from: [0.5, 0.5], to: [0.5, 1], kind: 'flat' },
  ] as const;
  const made = sheetOfLesson({
    ...square,
    pattern: { ...square.pattern, lines: halved ? lines : lines.slice(0, 1) },
  }).sheet!;
  const isValley = Array.from(made.creaseKind, (kind) => kind === KIND.valley);
  return proposedSentence({
    step: { title: '', sentence: '', kind: 'fold', drives: [] },
    sheet: made,
    start: new Float64Array(isValley.length),
    end: Float64Array.from(isValley, (one) => (one ? Math.PI : 0)),
    still: panelContaining(made, 0.5, 0.25),
    seen: { over: false, round: 0 },
    names: new Map([[panelContaining(made, 0.75, 0.75), name]]),
  });
}

// common practice, no source: a reader is told of a part by what it is called
test('the sentence of a step names the part that hangs by one named panel', () => {
  expect(sentenceOfFold('Lid', false)).toBe('Fold the lid over.');
  expect(sentenceOfFold('the long lid', false)).toBe('Fold the long lid over.');
  expect(sentenceOfFold('PVC', false)).toBe('Fold the PVC over.');
});

test('the sentence of a step takes no name from a panel beside which another hangs', () => {
  expect(sentenceOfFold('Lid', true)).toBe('Fold the top over.');
});
