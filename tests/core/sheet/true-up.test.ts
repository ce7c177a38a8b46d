import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { checkSheet, finishedAngle } from '../../../src/core/sheet/check.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { trueUp } from '../../../src/core/sheet/true-up.ts';
import { validateSheet } from '../../../src/core/sheet/validate.ts';
import { creasesAround, halfEdgeEnd, interiorVertices } from '../../../src/core/sheet/walk.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import models from '../../outside/values/models.json' with { type: 'json' };
import { line, type ModelName, mapped, model, modelNames, outline, square } from './drawings.ts';

/** A model in millimetres, turned and shifted on the page, with every coordinate rounded. */
function rounded(name: ModelName, turn: number, step: number): Segment[] {
  const { sheet_mm, grid } = models[name];
  const [c, s] = [(Math.cos(turn) * sheet_mm) / grid, (Math.sin(turn) * sheet_mm) / grid];
  const to = (value: number) => Math.round(value / step) * step;
  return mapped(model(name), (x, y) => [to(c * x - s * y + 11), to(s * x + c * y + 7)]);
}

/** Largest rotation left over at any corner: 3 x 3 matrices, so that nothing is shared with the code under test. */
function closure(sheet: Sheet): number {
  let worst = 0;
  for (const v of interiorVertices(sheet)) {
    let m = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    for (const h of creasesAround(sheet, v)) {
      const end = halfEdgeEnd(sheet, h);
      const [x, y] = [sheet.vertexX[end]! - sheet.vertexX[v]!, sheet.vertexY[end]! - sheet.vertexY[v]!];
      const [ax, ay] = [x / Math.hypot(x, y), y / Math.hypot(x, y)];
      const angle = finishedAngle(sheet, h >> 1);
      const [c, s, d] = [Math.cos(angle), Math.sin(angle), 1 - Math.cos(angle)];
      const r = [
        c + ax * ax * d,
        ax * ay * d,
        ay * s,
        ax * ay * d,
        c + ay * ay * d,
        -ax * s,
        -ay * s,
        ax * s,
        c,
      ];
      m = m.map((_, k) =>
        [0, 1, 2].reduce((sum, i) => sum + m[3 * Math.floor(k / 3) + i]! * r[3 * i + (k % 3)]!, 0),
      );
    }
    worst = Math.max(
      worst,
      Math.hypot(m[5]! - m[7]!, m[6]! - m[2]!, m[1]! - m[3]!) / 2,
      3 - m[0]! - m[4]! - m[8]!,
    );
  }
  return worst;
}

/** Millimetres between two vertices of a sheet, for all pairs in a list. */
function distances(sheet: Sheet, scale: number): Float64Array {
  const n = sheet.vertexX.length;
  return Float64Array.from({ length: n * n }, (_, k) => {
    const [a, b] = [Math.floor(k / n), k % n];
    return scale * Math.hypot(sheet.vertexX[a]! - sheet.vertexX[b]!, sheet.vertexY[a]! - sheet.vertexY[b]!);
  });
}

describe('the five models drawn to 0.1 mm are trued up within 0.5 mm', () => {
  // source: values/models.json (exact coordinates); 0.5 mm and 0.05 mm as a teacher's ruler allows
  test.each(modelNames)('%s', (name) => {
    const size = models[name].sheet_mm;
    const exact = buildSheet(model(name)).sheet!;
    const drawn = buildSheet(mapped(rounded(name, 0, 0.1), (x, y) => [x - 11, y - 7])).sheet!;
    const trued = trueUp(drawn, 0.5 / size);
    expectTrue(trued);
    expect(trued.moved * size).toBeLessThan(0.1);
    const worst = exact.vertexX.reduce((far, x, v) => {
      const { frame, vertexX, vertexY } = trued.sheet;
      const now = [frame.x + frame.scale * vertexX[v]!, frame.y + frame.scale * vertexY[v]!] as const;
      return Math.max(far, Math.hypot(now[0] - size * x, now[1] - size * exact.vertexY[v]!));
    }, 0);
    expect(worst).toBeLessThan(0.05);
  });
});

describe('models lying askew on the page, so that every coordinate is rounded', () => {
  // common practice, no source
  const cases = modelNames.flatMap((name) => [0.3, 1.234, 2.5].map((turn) => [name, turn] as const));
  test.each(cases)('%s turned by %f, to 0.01 mm, and to 0.1 mm with a wider snap', (name, turn) => {
    const size = models[name].sheet_mm;
    const exact = buildSheet(model(name)).sheet!;
    for (const [step, snap] of [
      [0.01, undefined],
      [0.1, 0.3 / size],
    ] as const) {
      const drawn = buildSheet(rounded(name, turn, step), { snap }).sheet!;
      expect(drawn.vertexX.length).toBe(exact.vertexX.length);
      const trued = trueUp(drawn, 0.5 / drawn.frame.scale);
      expectTrue(trued);
      expect(trued.moved * drawn.frame.scale).toBeLessThan(3 * step);
      const [now, then] = [distances(trued.sheet, trued.sheet.frame.scale), distances(exact, size)];
      const off = now.reduce((worst, d, k) => Math.max(worst, Math.abs(d - then[k]!)), 0);
      expect(off).toBeLessThan(3 * step);
    }
  });
});

function expectTrue(trued: ReturnType<typeof trueUp>): void {
  expect(trued.findings.filter((f) => f.severity !== 'note')).toEqual([]);
  expect(closure(trued.sheet)).toBeLessThan(4e-12);
  expect(checkSheet(trued.sheet)).toEqual([]);
  expect(validateSheet(trued.sheet)).toEqual([]);
}

describe('what true-up does and leaves', () => {
  // common practice, no source
  test('an exact drawing is left exactly as it is, without a word', () => {
    for (const name of modelNames) {
      const { sheet } = buildSheet(model(name));
      const trued = trueUp(sheet!, 0.01);
      expect(trued.sheet).toBe(sheet);
      expect(trued.findings).toEqual([]);
    }
  });

  test('it never moves more than the limit: the sheet is given back and the finding says how far it would go', () => {
    const drawn = buildSheet(rounded('S1', 0.3, 0.01)).sheet!;
    const limit = 0.001 / 210;
    const trued = trueUp(drawn, limit);
    expect(trued.sheet).toBe(drawn);
    expect(trued.moved).toBeGreaterThan(limit);
    expect(trued.findings.map((f) => [f.severity, f.code])).toEqual([['error', 'vertex-moved']]);
  });

  test('what moved is told', () => {
    const drawn = buildSheet(rounded('S2', 0.3, 0.01)).sheet!;
    const trued = trueUp(drawn, 0.5 / 150);
    expect(trued.findings.map((f) => [f.severity, f.code])).toEqual([['note', 'vertex-moved']]);
    expect(trued.findings[0]!.value).toBe(trued.moved);
  });

  test('a corner that no small movement mends is refused', () => {
    const drawn = buildSheet([
      ...square(),
      line(0.5, 0.5, 1, 1, 'valley', Math.PI / 2),
      line(0.5, 0.5, 0, 1, 'valley', Math.PI / 2),
      line(0.5, 0.5, 0.5, 0, 'valley', 0.4),
    ]).sheet!;
    const trued = trueUp(drawn, 0.003);
    expect(checkSheet(trued.sheet).map((f) => f.code)).toContain('vertex-closure');
  });

  test('a line through several corners becomes straight, the outline with it', () => {
    const noisy = buildSheet([
      ...outline([0, 0], [0.5, 0.0004], [1, 0], [1, 1], [0, 1]),
      line(0.5, 0.0004, 0.5003, 0.5, 'flat'),
      line(0.5003, 0.5, 0.4999, 1, 'flat'),
      line(0, 0.5, 0.5003, 0.5, 'flat'),
      line(0.5003, 0.5, 1, 0.5002, 'flat'),
    ]).sheet!;
    const { sheet, moved } = trueUp(noisy, 0.003);
    expect(moved).toBeGreaterThan(1e-5);
    const at = (x: number, y: number) =>
      [...sheet.vertexX.keys()].reduce((best, v) =>
        Math.hypot(sheet.vertexX[v]! - x, sheet.vertexY[v]! - y) <
        Math.hypot(sheet.vertexX[best]! - x, sheet.vertexY[best]! - y)
          ? v
          : best,
      );
    for (const [p, q, r] of [
      [at(0, 0), at(0.5, 0), at(1, 0)],
      [at(0.5, 0), at(0.5, 0.5), at(0.5, 1)],
      [at(0, 0.5), at(0.5, 0.5), at(1, 0.5)],
    ] as const) {
      const [x, y] = [sheet.vertexX, sheet.vertexY];
      const area = (x[q]! - x[p]!) * (y[r]! - y[p]!) - (y[q]! - y[p]!) * (x[r]! - x[p]!);
      expect(Math.abs(area)).toBeLessThan(1e-12);
    }
  });

  test('a curve of short lines stays a curve', () => {
    const points = Array.from({ length: 120 }, (_, k) => {
      const turn = (2 * Math.PI * k) / 120;
      return [Math.cos(turn), Math.sin(turn)] as [number, number];
    });
    const { sheet } = buildSheet(outline(...points));
    expect(trueUp(sheet!, 0.003).moved).toBe(0);
  });

  test('it moves as little as possible: no nearer true sheet is found by walking along its conditions', () => {
    // one corner off, two lines that must be straight: the nearest place is found by hand
    const drawn = buildSheet([
      ...square(),
      line(0, 0.5, 0.5, 0.5009, 'flat'),
      line(0.5, 0.5009, 1, 0.5, 'flat'),
    ]).sheet!;
    const { moved } = trueUp(drawn, 0.003);
    // the square with its middle line, moved up so that no corner is further off than the middle is
    expect(moved).toBeCloseTo(0.0009 / 2, 6);
  });

  test('an outline alone, nearly a rectangle, becomes one', () => {
    const drawn = buildSheet(outline([0, 0.0008], [1, 0], [1.0005, 0.6], [0.0003, 0.6006])).sheet!;
    const { sheet, findings } = trueUp(drawn, 0.003);
    expect(findings.map(({ severity }) => severity)).toEqual(['note']);
    const [x, y] = [sheet.vertexX, sheet.vertexY];
    for (const v of [0, 1, 2, 3])
      for (const [low, value] of [
        [0, x[v]!],
        [0, y[v]!],
      ] as const) {
        const sides = [low, value === x[v] ? Math.max(...x) : Math.max(...y)];
        expect(Math.min(...sides.map((side) => Math.abs(side - value)))).toBeLessThan(1e-12);
      }
  });

  test('what it finds and cannot restore is named, with by how much', () => {
    // the mirror line would lie at 0.5012, a quarter of 0.0048 from the middle of the sheet, and all corners with it
    const drawn = buildSheet([
      ...outline([0, 0.1], [0.3, 0], [0.7048, 0], [1, 0.1], [1, 0.7], [0.7048, 0.8], [0.3, 0.8], [0, 0.7]),
      line(0.3, 0, 0.3, 0.8, 'flat'),
      line(0.7048, 0, 0.7048, 0.8, 'flat'),
    ]).sheet!;
    const { sheet, moved, findings } = trueUp(drawn, 0.001);
    expect(moved).toBeLessThan(1e-9);
    expect(Array.from(sheet.vertexX).sort()).toEqual(Array.from(drawn.vertexX).sort());
    expect(sentenceOf(findings[0]!)).toMatch(/Still off: mirror lines \(by up to 0\.0024\)/);
  });

  test('right angles, lines at one place and a slant of half a right angle come back where nothing is symmetric', () => {
    const corners: [number, number][] = [
      ...([
        [0, 0],
        [1, 0.0004],
        [1.0003, 0.8],
        [0.7, 0.8004],
      ] as [number, number][]),
      ...([
        [0.7004, 0.3],
        [0.38, 0.3003],
        [0.3797, 0.7997],
      ] as [number, number][]),
      ...([
        [0.15, 0.8001],
        [0.0002, 0.6496],
      ] as [number, number][]),
    ];
    const { sheet } = trueUp(buildSheet(outline(...corners)).sheet!, 0.003);
    const [x, y] = [sheet.vertexX, sheet.vertexY];
    const at = corners.map(([cx, cy]) =>
      [...x.keys()].reduce((best, v) =>
        Math.hypot(x[v]! - cx, y[v]! - cy) < Math.hypot(x[best]! - cx, y[best]! - cy) ? v : best,
      ),
    );
    const turn = (k: number) => {
      const [a, b, c] = [at[(k + 8) % 9]!, at[k]!, at[(k + 1) % 9]!];
      const [ux, uy, vx, vy] = [x[b]! - x[a]!, y[b]! - y[a]!, x[c]! - x[b]!, y[c]! - y[b]!];
      return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) / Math.PI;
    };
    for (const k of [0, 1, 2, 3, 4, 5, 6]) expect(turn(k)).toBeCloseTo(1 / 2, 11);
    for (const k of [7, 8]) expect(turn(k)).toBeCloseTo(1 / 4, 11);
    // both arms of the U end on one line
    const [a, b, c, d] = [at[2]!, at[3]!, at[6]!, at[7]!];
    for (const [p, q, r] of [
      [a, b, c],
      [a, b, d],
    ] as const)
      expect(Math.abs((x[q]! - x[p]!) * (y[r]! - y[p]!) - (y[q]! - y[p]!) * (x[r]! - x[p]!))).toBeLessThan(
        1e-12,
      );
  });
});
