/**
 * Steps hold on to creases. What a step drives is told before and after each edit by the corners at the ends of the creases,
 * which are followed by where they lie: no corner is moved as far as to the next one. Common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import * as edit from '../../../src/core/draw/edit-lines.ts';
import { movePoint } from '../../../src/core/draw/move-point.ts';
import { withPattern, withTruedSheet } from '../../../src/core/lesson/carry.ts';
import { cornerAt } from '../../../src/core/lesson/landmarks.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { planOfLesson } from '../../../src/core/run/plan.ts';
import { stillPanelOf } from '../../../src/core/run/stages.ts';
import { cornerInPattern, onSheet } from '../../../src/core/sheet/frame.ts';
import { insidePoint } from '../../../src/core/sheet/inside-point.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { trueUp } from '../../../src/core/sheet/true-up.ts';
import { halfEdgeOrigin, mainPanel, panelContaining, panelRing } from '../../../src/core/sheet/walk.ts';
import { readLesson } from '../../../src/core/storage/lesson/read.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { sampleOf } from '../../support/lessons.ts';

type Point = readonly [number, number];
const names = [
  'cuffed-tray',
  'pencil-case',
  'planter-sleeve',
  'tapered-case',
  'ticket-wallet',
  'twist-coaster',
];
const sheetOf = (lesson: Lesson): Sheet => sheetOfLesson(lesson).sheet!;
const cornersOf = (sheet: Sheet): Point[] => Array.from(sheet.vertexX, (_, v) => cornerInPattern(sheet, v));
const far = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Each corner of one list by the nearest of another. */
function nearest(places: readonly Point[], among: readonly Point[]): number[] {
  return places.map((p) => among.reduce((best, q, k) => (far(p, q) < far(p, among[best]!) ? k : best), 0));
}

/** Per step: ends of each driven crease, as corners of the first sheet, and the angle. */
function driven(lesson: Lesson, cornerOf: readonly number[]): string[][] {
  const sheet = sheetOf(lesson);
  return stagesOfLesson(lesson, sheet).stages.map(({ target }) =>
    [...target.entries()]
      .filter(([, angle]) => !Number.isNaN(angle))
      .map(([crease, angle]) => {
        const ends = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!].map((v) => cornerOf[v]!);
        return `${ends.sort((a, b) => a - b).join('-')} ${angle.toFixed(9)}`;
      })
      .sort(),
  );
}

const own = (sheet: Sheet) => [...sheet.vertexX.keys()];
/** Corners of the panel that is kept still, as corners of the first sheet. */
function stillOf(lesson: Lesson, cornerOf: readonly number[]): number[] {
  const sheet = sheetOf(lesson);
  const panel = panelContaining(sheet, ...onSheet(sheet, lesson.still!));
  return panelRing(sheet, sheet.panelRings[panel]![0]!)
    .map((half) => cornerOf[halfEdgeOrigin(sheet, half)]!)
    .sort((a, b) => a - b);
}

describe.each(names)('%s', (name) => {
  const lesson = sampleOf(name);
  const sheet = sheetOf(lesson);
  const corners = cornersOf(sheet);
  const millimetre = sheet.frame.scale / lesson.sheet.size;
  const marked: Lesson = {
    ...lesson,
    steps: lesson.steps.map((step, k) => (k === 0 ? { ...step, landmarkAt: corners } : step)),
  };

  it('a corner moved by 2 mm takes the steps along', () => {
    for (const [v, corner] of corners.entries()) {
      const [dx, dy] = [Math.cos(v + 0.3), Math.sin(v + 0.3)].map((one) => 2 * millimetre * one) as [
        number,
        number,
      ];
      const moved = movePoint(lesson.pattern, corner, [corner[0] + dx, corner[1] + dy]);
      const after = withPattern(marked, moved.pattern, moved.placeOf);
      const now = sheetOf(after);
      expect(now.vertexX.length, `corner ${v}`).toBe(sheet.vertexX.length);
      const cornerOf = nearest(cornersOf(now), corners);
      expect(new Set(cornerOf).size).toBe(corners.length);
      expect(driven(after, cornerOf), `corner ${v}`).toEqual(driven(lesson, own(sheet)));
      expect(stillOf(after, cornerOf)).toEqual(stillOf(lesson, own(sheet)));
      const marks = after.steps[0]!.landmarkAt!.map((at) => cornerOf[cornerAt(now, at)!]);
      expect(marks).toEqual(own(sheet));
      const missed = planOfLesson(after, now).findings.filter(({ code }) => code === 'step-misses');
      expect(missed).toEqual([]);
    }
  });

  it('a crease that a line crosses is folded in both its parts', () => {
    const { target } = planOfLesson(lesson, sheet).steps[0]!.stage;
    const crease = target.findIndex((angle) => !Number.isNaN(angle));
    const [a, b] = [corners[sheet.creaseFrom[crease]!]!, corners[sheet.creaseTo[crease]!]!];
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const across: Point = [(a[1] - b[1]) / 50, (b[0] - a[0]) / 50];
    const mark = edit.drawn(
      {
        from: [middle[0] - across[0], middle[1] - across[1]],
        to: [middle[0] + across[0], middle[1] + across[1]],
      },
      'flat',
    );
    const crossed = withPattern(lesson, edit.addLines(lesson.pattern, [mark]));
    const after = sheetOf(crossed);
    const at = cornerAt(after, middle);
    const now = planOfLesson(crossed, after).steps[0]!.stage.target;
    const parts = [...now.keys()].filter((e) => after.creaseFrom[e] === at || after.creaseTo[e] === at);
    const folded = parts.filter((e) => !Number.isNaN(now[e]!)).map((e) => now[e]);
    expect(folded).toEqual([target[crease], target[crease]]);
    const named = (one: Float64Array) => one.filter((angle) => !Number.isNaN(angle)).length;
    expect(named(now)).toBe(named(target) + 1);
  });

  it('a crease erased takes its drives with it, and no others', () => {
    const { creaseFrom, creaseTo, creaseKind } = sheet;
    for (const [e, kind] of creaseKind.entries()) {
      if (kind > 1) continue;
      const [from, to] = [corners[creaseFrom[e]!]!, corners[creaseTo[e]!]!];
      const after = withPattern(lesson, edit.eraseStretches(lesson.pattern, [{ from, to }]));
      const now = sheetOf(after);
      const gone = [creaseFrom[e]!, creaseTo[e]!].sort((a, b) => a - b).join('-');
      const lost = corners.some((corner) => cornerAt(now, corner) === null);
      if (lost) continue;
      const cornerOf = nearest(cornersOf(now), corners);
      const left = driven(lesson, own(sheet)).map((step) =>
        step.filter((one) => !one.startsWith(`${gone} `)),
      );
      expect(driven(after, cornerOf)).toEqual(left);
    }
  });

  it('a mirrored sheet takes all along', () => {
    const mirrored = ([x, y]: Point): Point => [-x, y];
    const pattern = {
      outline: lesson.pattern.outline.map(mirrored).reverse(),
      lines: lesson.pattern.lines.map((line) => ({
        ...line,
        from: mirrored(line.from),
        to: mirrored(line.to),
      })),
    };
    const after = withPattern(marked, pattern, mirrored);
    const cornerOf = nearest(cornersOf(sheetOf(after)).map(mirrored), corners);
    expect(driven(after, cornerOf)).toEqual(driven(lesson, own(sheet)));
    expect(stillOf(after, cornerOf)).toEqual(stillOf(lesson, own(sheet)));
  });

  it('a mark drawn through the panel that stays does not turn the model', () => {
    const { still: _none, ...free } = lesson;
    const [a, b] = [lesson.pattern.outline[0]!, lesson.pattern.outline[2]!];
    const main = mainPanel(sheet);
    const ring = panelRing(sheet, sheet.panelRings[main]![0]!).map(
      (half) => corners[halfEdgeOrigin(sheet, half)]!,
    );
    const marks = [
      { from: a, to: b },
      { from: ring[0]!, to: ring[2]! },
    ].map((one) => edit.drawn(one, 'flat'));
    const after = withPattern(free, edit.addLines(lesson.pattern, marks));
    const now = sheetOf(after);
    const stays = stillPanelOf(after, now) ?? mainPanel(now);
    expect(panelContaining(sheet, ...insidePoint(now, stays))).toBe(main);
  });

  it('truing up keeps steps and every number', () => {
    const shaken = {
      ...sheet,
      vertexX: sheet.vertexX.map((x, v) => x + 2e-4 * Math.sin(7 * v)),
      vertexY: sheet.vertexY.map((y, v) => y + 2e-4 * Math.cos(5 * v)),
    };
    const rough = withTruedSheet(marked, sheet, shaken);
    const trued = trueUp(sheetOf(rough), 0.02);
    const after = withTruedSheet(rough, sheetOf(rough), trued.sheet);
    const now = sheetOf(after);
    expect([...now.creaseFrom]).toEqual([...sheet.creaseFrom]);
    expect([...now.creaseTo]).toEqual([...sheet.creaseTo]);
    expect(driven(after, own(now))).toEqual(driven(lesson, own(sheet)));
    expect(after.steps[0]!.landmarkAt!.map((at) => cornerAt(now, at))).toEqual(own(sheet));
  });

  it('numbers of its own go with it through a corner moved and another title', () => {
    // numbered backwards, as a file may be
    const plain = withTruedSheet(lesson, sheet, sheet);
    const [count, lines] = [sheet.vertexX.length, sheet.creaseKind.length];
    const numbers = {
      vertices: [...corners].reverse(),
      creases: Array.from({ length: lines }, (_, k): [number, number] => {
        const e = lines - 1 - k;
        return [count - 1 - sheet.creaseFrom[e]!, count - 1 - sheet.creaseTo[e]!];
      }),
      panels: sheet.panelRings
        .map(([ring]) => panelRing(sheet, ring!).map((half) => count - 1 - halfEdgeOrigin(sheet, half)))
        .reverse(),
    };
    const backwards: Lesson = { ...plain, pattern: { ...plain.pattern, numbers } };
    expect(cornersOf(sheetOf(backwards))).toEqual([...corners].reverse());
    const corner = corners[Math.floor(count / 2)]!;
    const renamed = readLesson(JSON.parse(writeLesson({ ...backwards, title: 'Another' }))).lesson!;
    expect(cornerAt(sheetOf(renamed), corner)).toBe(count - 1 - Math.floor(count / 2));
    const moved = movePoint(backwards.pattern, corner, [corner[0] + millimetre, corner[1] - millimetre]);
    const after = sheetOf(withPattern(backwards, moved.pattern, moved.placeOf));
    expect(nearest(cornersOf(after), [...corners].reverse())).toEqual(own(sheet));
    expect([...after.creaseFrom]).toEqual(numbers.creases.map(([from]) => from));
    expect([...after.halfEdgePanel]).toEqual([...sheetOf(backwards).halfEdgePanel]);
  });
});
