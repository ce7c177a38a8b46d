import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { validateSheet } from '../../../src/core/sheet/validate.ts';
import { creaseCount, panelCount, vertexCount } from '../../../src/core/sheet/walk.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { countArrangement, type WholeStroke } from '../../oracles/arrangement.ts';
import { mapped, outline, square } from './drawings.ts';

const soak = process.env.CREASEWAY_SOAK === '1';
const seed = soak ? Date.now() % 1e9 : 20;
const numRuns = soak ? 5000 : 300;

/** Coordinates that often meet (twelfths) and often do not. */
const coordinate = fc.oneof(
  fc.integer({ min: 0, max: 12 }).map((k) => k / 12),
  fc.double({ min: 0, max: 1, noNaN: true, noDefaultInfinity: true }),
);

const stroke = fc
  .tuple(
    coordinate,
    coordinate,
    coordinate,
    coordinate,
    fc.constantFrom('mountain', 'valley', 'flat', 'cut', 'unassigned'),
    fc.constantFrom(undefined, 1, 2),
  )
  .map(([x1, y1, x2, y2, kind, size]): Segment => {
    const angle =
      size === undefined || kind === 'flat' || kind === 'cut'
        ? undefined
        : kind === 'mountain'
          ? -size
          : size;
    return { x1, y1, x2, y2, kind: kind as Segment['kind'], angle };
  });

const outlines: Segment[][] = [
  square(),
  outline([0, 0], [1, 0], [1, 0.5], [0.5, 0.5], [0.5, 1], [0, 1]),
  [...square(), ...outline([0.3, 0.3], [0.7, 0.35], [0.5, 0.65])],
];

const drawing = fc
  .tuple(fc.constantFrom(...outlines), fc.array(stroke, { maxLength: 18 }))
  .map(([edges, strokes]) => [...edges, ...strokes]);

/** A sheet told without numbers: every crease by its ends in the drawing's own coordinates, mapped back. */
function lines(sheet: Sheet, back: (x: number, y: number) => [number, number]) {
  const place = (v: number) =>
    back(
      sheet.frame.x + sheet.frame.scale * sheet.vertexX[v]!,
      sheet.frame.y + sheet.frame.scale * sheet.vertexY[v]!,
    );
  return Array.from(sheet.creaseFrom, (from, e) => ({
    ends: [place(from), place(sheet.creaseTo[e]!)] as const,
    kind: sheet.creaseKind[e]!,
    angle: sheet.creaseAngle[e]!,
  }));
}

function expectSame(
  sheet: Sheet | null,
  other: Sheet | null,
  back: (x: number, y: number) => [number, number],
): void {
  expect(other === null).toBe(sheet === null);
  if (sheet === null || other === null) return;
  expect(validateSheet(other)).toEqual([]);
  expect([vertexCount(other), creaseCount(other), panelCount(other)]).toEqual([
    vertexCount(sheet),
    creaseCount(sheet),
    panelCount(sheet),
  ]);
  const waiting = lines(other, back);
  const near = (p: readonly [number, number], q: readonly [number, number]) =>
    Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-6;
  for (const one of lines(sheet, (x, y) => [x, y])) {
    const found = waiting.findIndex(
      (two) =>
        two.kind === one.kind &&
        Object.is(two.angle, one.angle) &&
        ((near(one.ends[0], two.ends[0]) && near(one.ends[1], two.ends[1])) ||
          (near(one.ends[0], two.ends[1]) && near(one.ends[1], two.ends[0]))),
    );
    expect(found, `no line like ${JSON.stringify(one)}`).toBeGreaterThanOrEqual(0);
    waiting.splice(found, 1);
  }
}

describe(`the same drawing gives the same graph (seed ${seed}, ${numRuns} runs)`, () => {
  // common practice, no source: a drawing means the same however it lies on the table
  test('turned', () => {
    const property = fc.property(drawing, fc.double({ min: 0, max: 6.3, noNaN: true }), (strokes, turn) => {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const turned = buildSheet(mapped(strokes, (x, y) => [c * x - s * y, s * x + c * y]));
      expectSame(buildSheet(strokes).sheet, turned.sheet, (x, y) => [c * x + s * y, c * y - s * x]);
    });
    fc.assert(property, { seed, numRuns });
  });

  test('mirrored', () => {
    const property = fc.property(drawing, (strokes) => {
      const mirrored = buildSheet(mapped(strokes, (x, y) => [3 - x, y]));
      expectSame(buildSheet(strokes).sheet, mirrored.sheet, (x, y) => [3 - x, y]);
    });
    fc.assert(property, { seed, numRuns });
  });

  test('shuffled and with strokes drawn the other way', () => {
    const shuffled = drawing.chain((strokes) =>
      fc.tuple(
        fc.constant(strokes),
        fc.shuffledSubarray(strokes, { minLength: strokes.length }),
        fc.array(fc.boolean(), { minLength: strokes.length, maxLength: strokes.length }),
      ),
    );
    const property = fc.property(shuffled, ([strokes, order, turned]) => {
      const other = order.map((s, k) => (turned[k] ? { ...s, x1: s.x2, y1: s.y2, x2: s.x1, y2: s.y1 } : s));
      expectSame(buildSheet(strokes).sheet, buildSheet(other).sheet, (x, y) => [x, y]);
    });
    fc.assert(property, { seed, numRuns });
  });

  test('scaled from 1e-6 to 1e6 and shifted', () => {
    const property = fc.property(
      drawing,
      fc.double({ min: -6, max: 6, noNaN: true }),
      coordinate,
      (strokes, power, shift) => {
        const size = 10 ** power;
        const scaled = buildSheet(mapped(strokes, (x, y) => [size * (x + shift), size * (y - shift)]));
        expectSame(buildSheet(strokes).sheet, scaled.sheet, (x, y) => [x / size - shift, y / size + shift]);
      },
    );
    fc.assert(property, { seed, numRuns });
  });

  test('every sheet is sound and every finding is a sentence', () => {
    const property = fc.property(drawing, (strokes) => {
      const { sheet, findings } = buildSheet(strokes);
      if (sheet !== null) expect(validateSheet(sheet)).toEqual([]);
      else expect(findings.map(({ severity }) => severity)).toContain('error');
      for (const found of findings) expect(sentenceOf(found)).toMatch(/^.{20,}\.\)?$/);
    });
    fc.assert(property, { seed, numRuns });
  });
});

describe(`agrees with exact fractions, every pair against every pair (seed ${seed}, ${numRuns} runs)`, () => {
  const size = 8;
  const corner = fc.integer({ min: 0, max: size });
  const whole = fc
    .tuple(corner, corner, corner, corner)
    .map(([x1, y1, x2, y2]): WholeStroke => ({ from: [x1, y1], to: [x2, y2], edge: false }));
  const frame: WholeStroke[] = [
    [0, 0],
    [size, 0],
    [size, size],
    [0, size],
  ].map((p, k, all) => ({
    from: p as [number, number],
    to: all[(k + 1) % 4] as [number, number],
    edge: true,
  }));

  test('vertices, creases, panels and places', () => {
    const property = fc.property(fc.array(whole, { maxLength: 12 }), (strokes) => {
      const all = [...frame, ...strokes];
      const segments = all.map(({ from, to, edge }) => ({
        x1: from[0],
        y1: from[1],
        x2: to[0],
        y2: to[1],
        kind: edge ? ('edge' as const) : ('flat' as const),
      }));
      const truth = countArrangement(all);
      // whole-number strokes can pass each other at less than the usual snap length
      const { sheet } = buildSheet(segments, { snap: 1e-8 });
      expect([vertexCount(sheet!), creaseCount(sheet!), panelCount(sheet!)]).toEqual([
        truth.vertices,
        truth.creases,
        truth.panels,
      ]);
      for (const [x, y] of truth.places) {
        const nearest = Math.min(
          ...Array.from(sheet!.vertexX, (vx, v) => Math.hypot(vx * size - x, sheet!.vertexY[v]! * size - y)),
        );
        expect(nearest).toBeLessThan(1e-12);
      }
    });
    fc.assert(property, { seed, numRuns });
  });
});
