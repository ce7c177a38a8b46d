/** Random vertices, held against the published relation of the flat-foldable degree-4 vertex (Huffman 1976). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { degreesOf, fold, foldToFinish } from '../../support/fold.ts';
import { radians, vertexSheet } from '../../support/patterns.ts';

const seed = 20261;
const sectors4 = fc
  .tuple(fc.double({ min: 20, max: 160, noNaN: true }), fc.double({ min: 20, max: 160, noNaN: true }))
  .filter(([a, b]) => Math.abs(a - b) > 4 && Math.abs(a + b - 180) > 4)
  .map(([a, b]) => [a, b, 180 - a, 180 - b]);

describe(`random flat-foldable vertices, seed ${seed}`, () => {
  it('degree 4: both modes fold flat, and half-angle tangents keep their ratio on the way', () => {
    fc.assert(
      fc.property(
        sectors4,
        fc.boolean(),
        fc.double({ min: 5, max: 170, noNaN: true }),
        (sectors, first, drive) => {
          const [a, b] = sectors as [number, number];
          const pA = -Math.cos(((a + b) / 2) * radians) / Math.cos(((a - b) / 2) * radians);
          const pB = Math.sin(((a - b) / 2) * radians) / Math.sin(((a + b) / 2) * radians);
          const signs = first ? [1, Math.sign(pA), 1, -Math.sign(pA)] : [Math.sign(pB), 1, -Math.sign(pB), 1];
          const sheet = vertexSheet(
            sectors,
            signs.map((sign) => 180 * sign),
          );
          const driven = first ? 0 : 1;
          const { end, report } = fold(sheet, { [driven]: drive });
          expect(report.outcome).toBe('rigid');
          const t = degreesOf(end, 4).map((angle) => Math.tan((angle / 2) * radians));
          const expected = first
            ? [t[0]!, pA * t[0]!, t[0]!, -pA * t[0]!]
            : [pB * t[1]!, t[1]!, -pB * t[1]!, t[1]!];
          t.forEach((value, k) => expect(Math.atan(value)).toBeCloseTo(Math.atan(expected[k]!), 9));
          const flat = foldToFinish(sheet);
          expect(flat.report.outcome).toBe('rigid');
          degreesOf(flat.end, 4).forEach((angle, k) => expect(angle).toBeCloseTo(180 * signs[k]!, 9));
        },
      ),
      { seed, numRuns: 60 },
    );
  });

  it('creases may go against their kind only when asked, and it is said', () => {
    const sheet = vertexSheet([60, 75, 120, 105], [1, -1, 1, 1]);
    const against = fold(sheet, { 0: -60, 1: 20, 2: -60, 3: -20 }, { drawn: true });
    expect(against.report.outcome).toBe('fails');
    const freely = fold(sheet, { 0: -60 }, { free: true });
    expect(freely.report.outcome).toBe('rigid');
    expect(freely.report.findings.map(({ code }) => code)).toContain('kind-flipped');
    expect(fold(sheet, { 0: 60 }).report.findings).toEqual([]);
  });
});
