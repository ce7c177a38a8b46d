/** Proposed sentences name the part, the way and the landmark; checked on folds whose words are plain from the pattern. */
import { describe, expect, it } from 'vitest';
import { newStep } from '../../../src/core/lesson/edit-steps.ts';
import type { Step } from '../../../src/core/lesson/lesson.ts';
import { seenAt } from '../../../src/core/lesson/seen.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { creasesOnLine } from '../../../src/core/lesson/stages.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { sampleOf } from '../../support/lessons.ts';
import { proposedSentence, titleOfFold } from '../../support/proposed.ts';

/** A square with one crease, turned from one angle to another, degrees; the panel of the given point stays still. */
function oneFold(
  line: readonly number[],
  degrees: number,
  still: readonly [number, number],
  step: Partial<Step> = {},
  { from = 0, seen = { over: false, round: 0 } } = {},
) {
  const edge = (x1: number, y1: number, x2: number, y2: number): Segment => ({
    x1,
    y1,
    x2,
    y2,
    kind: 'edge',
  });
  const [x1, y1, x2, y2] = line as [number, number, number, number];
  const sheet = buildSheet([
    ...[edge(0, 0, 1, 0), edge(1, 0, 1, 1), edge(1, 1, 0, 1), edge(0, 1, 0, 0)],
    { x1, y1, x2, y2, kind: degrees > 0 ? 'valley' : 'mountain', angle: (degrees * Math.PI) / 180 },
  ]).sheet!;
  const end = sheet.creaseAngle.map((angle) => (Number.isNaN(angle) ? 0 : angle));
  return proposedSentence({
    ...{ step: { ...newStep('fold', ''), ...step }, sheet, end, still: panelContaining(sheet, ...still) },
    ...{ start: end.map((angle) => (angle === 0 ? 0 : (from * Math.PI) / 180)), seen },
  });
}

describe('one fold of a square', () => {
  it('names the side that moves and the way it goes', () => {
    expect(oneFold([0, 0.2, 1, 0.2], 180, [0.5, 0.9])).toBe('Fold the bottom over.');
    expect(oneFold([0, 0.2, 1, 0.2], -180, [0.5, 0.9])).toBe('Fold the bottom behind.');
    expect(oneFold([0.75, 0, 0.75, 1], 180, [0.1, 0.5])).toBe('Fold the right side over.');
    expect(oneFold([0, 0.7, 0.3, 1], 180, [0.9, 0.1])).toBe('Fold the top left corner over.');
  });

  it('tells an angle that is no half turn, and the landmark', () => {
    expect(oneFold([0.75, 0, 0.75, 1], 90, [0.1, 0.5])).toBe('Fold the right side up until it stands.');
    expect(oneFold([0.75, 0, 0.75, 1], -60, [0.1, 0.5])).toBe('Fold the right side down by 60 degrees.');
    const landmark = 'Bottom edge to the middle';
    expect(oneFold([0, 0.25, 1, 0.25], 180, [0.5, 0.9], { landmark })).toBe(
      'Fold the bottom over. Bottom edge to the middle.',
    );
  });

  it('what was folded opens', () => {
    const opens = (from: number, to: number) => oneFold([0.75, 0, 0.75, 1], to, [0.1, 0.5], {}, { from });
    expect(opens(180, 90)).toBe('Open the flap on the right until it stands, one layer of 2.');
    expect(opens(-180, -90)).toBe('Open the flap on the right until it hangs, one layer of 2.');
    expect(opens(180, 120)).toBe('Open the flap on the right by 60 degrees, one layer of 2.');
    expect(opens(60, 180)).toBe('Fold the right side over.');
    expect(opens(60, 120)).toBe('Fold the right side up by 60 degrees.');
    expect(opens(120, -180)).toBe('Fold the flap on the right behind.');
  });

  it('is told as its reader sees it: turned over about the upright axis, then turned round', () => {
    const line = [0.75, 0, 0.75, 1];
    const seen = (over: boolean, degrees: number) =>
      oneFold(line, 180, [0.1, 0.5], {}, { seen: { over, round: (degrees * Math.PI) / 180 } });
    expect(seen(false, 90)).toBe('Fold the top over.');
    expect(seen(false, 180)).toBe('Fold the left side over.');
    expect(seen(true, 0)).toBe('Fold the left side behind.');
    expect(seen(true, 90)).toBe('Fold the bottom behind.');
    expect(seen(false, 45)).toBe('Fold the top right corner over.');
  });

  it('steps that turn the model do so for those after them, unless they are off', () => {
    const steps = [
      newStep('fold', ''),
      newStep('turn-over', ''),
      { ...newStep('rotate', ''), turn: -45 },
      { ...newStep('turn-over', ''), off: true },
      newStep('rotate', ''),
    ];
    const at = (place: number) => {
      const { over, round } = seenAt(steps, place);
      return [over, Math.round((round * 180) / Math.PI)];
    };
    expect([0, 1, 1.4, 1.6, 2, 3, 4, 5].map(at)).toEqual([
      ...[
        [false, 0],
        [false, 0],
        [false, 0],
        [true, 0],
        [true, 0],
      ],
      ...[
        [true, -45],
        [true, -45],
        [true, 45],
      ],
    ]);
  });

  it('steps that move nothing', () => {
    const line = [0, 0.25, 1, 0.25];
    expect(oneFold(line, 180, [0.5, 0.9], { kind: 'turn-over' })).toBe('Turn the model over.');
    expect(oneFold(line, 180, [0.5, 0.9], { kind: 'rotate' })).toBe(
      'Turn the model a quarter turn counter-clockwise.',
    );
    expect(oneFold(line, 180, [0.5, 0.9], { kind: 'rotate', turn: -45 })).toBe(
      'Turn the model an eighth of a turn clockwise.',
    );
    expect(oneFold(line, 180, [0.5, 0.9], { kind: 'rotate', turn: 180 })).toBe('Turn the model half a turn.');
    const makes = [{ from: [0, 0.25], to: [1, 0.25], landmark: 'Bottom edge to the middle.' }] as const;
    expect(oneFold(line, 180, [0.5, 0.9], { kind: 'precrease', makes })).toBe(
      'Fold and unfold one crease: bottom edge to the middle.',
    );
  });
});

describe('titles of folds', () => {
  const title = (name: string, at: readonly [number, number], to: readonly [number, number]) => {
    const lesson = sampleOf(name);
    const sheet = sheetOfLesson(lesson).sheet!;
    const { x, y, scale } = sheet.frame;
    const still = [(lesson.still![0] - x) / scale, (lesson.still![1] - y) / scale] as const;
    const start = new Float64Array(sheet.creaseKind.length);
    const flat = { sheet, start, still: panelContaining(sheet, ...still), seen: { over: false, round: 0 } };
    return titleOfFold(flat, creasesOnLine(sheet, { from: at, to }));
  };

  it.each([
    [[0, 1], [12, 1], 'Bottom behind'],
    [[0, 11], [12, 11], 'Top over'],
    [[0, 4], [12, 4], 'Bottom over'],
    [[4, 0], [4, 12], 'Left side behind'],
    [[9, 0], [9, 12], 'Right side behind'],
  ] as const)('the wallet along %j to %j', (from, to, words) => {
    expect(title('ticket-wallet', from, to)).toBe(words);
  });

  it('a wall stands up, a slanting fold takes a corner, several lines have no title', () => {
    expect(title('pencil-case', [1, 1], [1, 3])).toBe('Left side up');
    expect(title('pencil-case', [1, 1], [0, 0])).toBe('Top left corner behind');
    const lesson = sampleOf('ticket-wallet');
    const sheet = sheetOfLesson(lesson).sheet!;
    const flat = { sheet, start: new Float64Array(sheet.creaseKind.length), still: 0 };
    const upright = { ...flat, seen: { over: false, round: 0 } };
    expect(titleOfFold(upright, [...sheet.creaseKind.keys()])).toBe('');
    expect(titleOfFold(upright, [])).toBe('');
  });
});
