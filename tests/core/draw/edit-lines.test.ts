import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as edit from '../../../src/core/draw/edit-lines.ts';
import { lineThrough } from '../../../src/core/draw/line.ts';
import { movePoint } from '../../../src/core/draw/move-point.ts';
import { square } from '../../../src/core/draw/outline.ts';
import type { Pattern } from '../../../src/core/draw/pattern.ts';
import { type Lesson, lessonVersion } from '../../../src/core/lesson/lesson.ts';
import { nameless, plainSides } from '../../../src/core/lesson/plain-sides.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import type { Point } from '../../../src/core/numeric/vector.ts';
import { lineKinds } from '../../../src/core/sheet/kind.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';

const empty: Pattern = { outline: square(12), lines: [] };

const lay = (pattern: Pattern, from: Point, to: Point, kind: 'mountain' | 'valley' | 'flat' | 'unassigned') =>
  edit.addLines(pattern, [edit.drawn({ from, to }, kind)]);

const shown = (pattern: Pattern) =>
  pattern.lines.map(({ from, to, kind }) => `${kind[0]} ${from.join()}-${to.join()}`).sort();

describe('lines laid over lines', () => {
  const mark = lay(empty, [0, 4], [12, 4], 'flat');
  test('a fold takes the place of a mark for its extent', () => {
    expect(shown(lay(mark, [3, 4], [8, 4], 'valley'))).toEqual(['f 0,4-3,4', 'f 8,4-12,4', 'v 3,4-8,4']);
  });
  test('a mark leaves folds as they are', () => {
    const fold = lay(empty, [3, 4], [8, 4], 'valley');
    expect(shown(lay(fold, [0, 4], [12, 4], 'flat'))).toEqual(['f 0,4-3,4', 'f 8,4-12,4', 'v 3,4-8,4']);
  });
  test('the same fold twice is one, and pieces that touch become one, in the direction of the first', () => {
    const once = lay(empty, [5, 0], [5, 5], 'mountain');
    expect(lay(once, [5, 2], [5, 4], 'mountain')).toBe(once);
    expect(shown(lay(once, [5, 9], [5, 5], 'mountain'))).toEqual(['m 5,0-5,9']);
    expect(shown(lay(once, [5, 9], [5, 3], 'mountain'))).toEqual(['m 5,0-5,9']);
  });
  test('off the paper or along its edge nothing is drawn', () => {
    expect(lay(empty, [0, 12], [12, 12], 'valley')).toBe(empty);
    expect(lay(empty, [13, 1], [15, 2], 'valley')).toBe(empty);
    expect(shown(lay(empty, [-3, 6], [15, 6], 'valley'))).toEqual(['v 0,6-12,6']);
  });
});

describe('single edits', () => {
  const cross = lay(lay(empty, [0, 4], [12, 4], 'valley'), [4, 0], [4, 12], 'mountain');
  test('marks go, folds and cuts stay', () => {
    const marked: Pattern = {
      ...cross,
      lines: [
        ...cross.lines,
        { from: [0, 1], to: [12, 1], kind: 'flat' },
        { from: [1, 1], to: [2, 2], kind: 'cut' },
      ],
    };
    expect(edit.withoutMarks(marked).lines.map(({ kind }) => kind)).toEqual(['valley', 'mountain', 'cut']);
    expect(edit.withoutMarks(cross)).toBe(cross);
  });

  test('a piece reaches from crossing to crossing; a stroke finds all that it runs over', () => {
    expect(edit.pieceAt(cross, [4.1, 2], 0.5)).toMatchObject({ from: [4, 0], to: [4, 4], kind: 'mountain' });
    const found = edit.piecesAcross(cross, [2, 3], [6, 9]);
    expect(found.map(({ from, to }) => [from, to])).toEqual([
      [
        [0, 4],
        [4, 4],
      ],
      [
        [4, 4],
        [4, 12],
      ],
    ]);
  });
  test('a look is given to a piece and leaves the rest', () => {
    const after = edit.setLook(cross, [edit.pieceAt(cross, [4, 2], 0.5)!], { kind: 'valley', angle: 90 });
    expect(shown(after)).toEqual(['m 4,4-4,12', 'v 0,4-12,4', 'v 4,0-4,4']);
    expect(after.lines.find(({ from }) => from[1] === 0)?.angle).toBe(90);
  });
  test('erase, run, split, join, trim, move', () => {
    expect(shown(edit.eraseStretches(cross, [edit.pieceAt(cross, [4, 2], 0.5)!]))).toEqual([
      'm 4,4-4,12',
      'v 0,4-12,4',
    ]);
    expect(edit.runOf(cross, { from: [4, 0], to: [4, 4] })).toEqual({ from: [4, 0], to: [4, 12] });
    const split = edit.splitAt(cross, [4, 4]);
    expect(split.lines.length).toBe(4);
    expect(shown(edit.joinAlong(split, { from: [4, 0], to: [4, 4] }))).toEqual([
      'm 4,0-4,12',
      'v 0,4-4,4',
      'v 4,4-12,4',
    ]);
    expect(shown(edit.trimTo(cross, [4, 2], 0.5, lineThrough([0, 4], [12, 4])!))).toEqual([
      'm 4,4-4,12',
      'v 0,4-12,4',
    ]);
    expect(shown(movePoint(cross, [4, 4], [5, 5]).pattern)).toEqual([
      'm 4,0-5,5',
      'm 5,5-4,12',
      'v 0,4-5,5',
      'v 5,5-12,4',
    ]);
    const smaller = edit.withOutline(cross, square(6));
    expect(shown(smaller)).toEqual(['m 4,0-4,6', 'v 0,4-6,4']);
  });
});

const soak = process.env.CREASEWAY_SOAK !== undefined;
const EDITS = soak ? 10_000 : 500;
const SEED = 20261125;

const place = fc.tuple(fc.integer({ min: -1, max: 13 }), fc.integer({ min: -1, max: 13 }));
const kind = fc.constantFrom('mountain', 'valley', 'flat', 'unassigned', 'cut' as const);
const change = fc.oneof(
  { weight: 4, arbitrary: fc.record({ what: fc.constant('add'), from: place, to: place, kind }) },
  fc.record({
    what: fc.constantFrom('erase', 'look', 'join', 'split', 'trim', 'move'),
    from: place,
    to: place,
    kind,
  }),
);

type Change = typeof change extends fc.Arbitrary<infer T> ? T : never;

function apply(pattern: Pattern, { what, from, to, kind: asked }: Change): Pattern {
  const across = edit.piecesAcross(pattern, from, to);
  if (what === 'erase') return edit.eraseStretches(pattern, across.slice(0, 2));
  if (what === 'look') return edit.setLook(pattern, across, edit.drawn({ from, to }, asked));
  if (what === 'split') return edit.splitAt(pattern, from);
  if (what === 'join') return across[0] ? edit.joinAlong(pattern, across[0]) : pattern;
  const cutter = lineThrough(from, to);
  if (what === 'trim') return cutter ? edit.trimTo(pattern, from, 1, cutter) : pattern;
  const onCorner = pattern.outline.some((corner) => corner[0] === from[0] && corner[1] === from[1]);
  const inside = to.every((c) => c > 0 && c < 12);
  if (what === 'move') return onCorner || !inside ? pattern : movePoint(pattern, from, to).pattern;
  return edit.addLines(pattern, [edit.drawn({ from, to }, asked)]);
}

function lessonWith(pattern: Pattern): Lesson {
  return {
    ...{ format: 'creaseway-lesson', version: lessonVersion, title: 'Drawn', place: '' },
    credit: { maker: '', status: '' },
    sheet: { size: 150, sideUp: 'a', sides: plainSides(nameless.sides) },
    pattern,
    steps: [],
  };
}

test(`${EDITS} random edits, undone and redone, come back to the same bytes (seed ${SEED})`, () => {
  const changes = fc.sample(change, { numRuns: EDITS, seed: SEED });
  const states = [writeLesson(lessonWith(empty))];
  const history: Pattern[] = [empty];
  for (const one of changes) {
    const before = history.at(-1)!;
    // patterns that grow without end are begun anew
    const after = before.lines.length > 60 ? empty : apply(before, one);
    if (after === before) continue;
    history.push(after);
    states.push(writeLesson(lessonWith(after)));
    // what was there is not touched by an edit
    expect(writeLesson(lessonWith(before))).toBe(states.at(-2));
  }
  expect(history.length).toBeGreaterThan(EDITS / 4);
  for (const way of [history.keys(), [...history.keys()].reverse()])
    for (const k of way) expect(writeLesson(lessonWith(history[k]!))).toBe(states[k]);
});

test(`what random edits leave reads back, makes a sheet, and holds no line twice (seed ${SEED + 1})`, () => {
  const changes = fc.sample(change, { numRuns: Math.min(EDITS, 1500), seed: SEED + 1 });
  let pattern = empty;
  changes.forEach((one, k) => {
    pattern = pattern.lines.length > 40 ? empty : apply(pattern, one);
    if (k % 10 !== 9) return;
    const lesson = lessonWith(pattern);
    expect(readLesson(JSON.parse(writeLesson(lesson))).lesson?.pattern).toEqual(pattern);
    const { sheet, findings } = sheetOfLesson(lesson);
    expect(sheet).not.toBeNull();
    const doubled = findings.filter(({ code }) => code === 'crease-overlap' || code === 'crease-outside');
    expect(doubled, `edit ${k}: ${JSON.stringify(one)}`).toEqual([]);
    expect(pattern.lines.every((line) => lineKinds.includes(line.kind))).toBe(true);
  });
});

test('a thousand lines take an edit in a blink', () => {
  let pattern: Pattern = { outline: square(1000), lines: [] };
  const lines = Array.from({ length: 500 }, (_, k): edit.DrawnLine[] => [
    edit.drawn({ from: [k * 2 + 1, 0], to: [k * 2 + 1, 1000] }, 'valley'),
    edit.drawn({ from: [0, k * 2 + 1], to: [1000, k * 2 + 1] }, 'mountain'),
  ]).flat();
  pattern = edit.addLines(pattern, lines);
  expect(pattern.lines.length).toBe(1000);
});
