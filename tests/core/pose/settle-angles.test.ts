/** Finished angles written with few decimals are moved to where they close, and nothing else is. */
import { expect, test } from 'vitest';
import { CLOSED } from '../../../src/core/numeric/tolerance.ts';
import { closureOfPose } from '../../../src/core/pose/closure.ts';
import { settleAngles } from '../../../src/core/pose/settle-angles.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { fold } from '../../support/fold.ts';
import { radians, vertexSheet } from '../../support/patterns.ts';

/** A box corner: two walls at 90 degrees, a gusset folded flat between them; it closes as it is. */
const exact = vertexSheet([90, 45, 45, 180], [90, 180, 90, 0]);

/** A corner of four creases folded part of the way, its angles given in degrees to so many decimals. */
function rounded(decimals: number): Sheet {
  const sheet = vertexSheet([60, 80, 120, 100], [90, -90, 90, 90]);
  const { end } = fold(sheet, { 0: 70 });
  const creaseAngle = sheet.creaseAngle.map((angle, e) =>
    Number.isNaN(angle) ? angle : Number((end[e]! / radians).toFixed(decimals)) * radians,
  );
  return { ...sheet, creaseAngle };
}

const closure = (sheet: Sheet) => closureOfPose(sheet, withoutGaps(sheet)).largest;
const withoutGaps = ({ creaseAngle }: Sheet) => creaseAngle.map((angle) => (Number.isNaN(angle) ? 0 : angle));

test('what closes is left as it is', () => {
  expect(closure(exact)).toBeLessThan(CLOSED);
  expect(settleAngles(exact)).toEqual({ sheet: exact, findings: [] });
  expect(settleAngles(exact).sheet).toBe(exact);
});

test('what has an angle that nobody gave is left as it is', () => {
  const sheet = rounded(3);
  const open = { ...sheet, creaseAngle: sheet.creaseAngle.map((angle, e) => (e === 0 ? Number.NaN : angle)) };
  expect(settleAngles(open).sheet).toBe(open);
  // one more crease in the widest sector: left flat the corner would close nearly, but nobody says that it is
  const five = vertexSheet([60, 80, 60, 60, 100], [90, -90, 90, 0, 90]);
  const own = [...sheet.creaseAngle.slice(0, 3), Number.NaN, sheet.creaseAngle[3]!];
  const wide = { ...five, creaseAngle: five.creaseAngle.map((angle, e) => own[e] ?? angle) };
  expect(settleAngles(wide).sheet).toBe(wide);
});

test('angles given to three decimals are moved by no more than what was lost, and close', () => {
  const sheet = rounded(3);
  expect(closure(sheet)).toBeGreaterThan(CLOSED);
  const { sheet: settled, findings } = settleAngles(sheet);
  expect(closure(settled)).toBeLessThan(CLOSED);
  expect(findings.map(({ code, severity }) => [code, severity])).toEqual([['angle-assumed', 'note']]);
  const moved = settled.creaseAngle.map((angle, e) => Math.abs(angle - sheet.creaseAngle[e]!) / radians);
  expect(findings[0]!.value).toBeCloseTo(Math.max(...moved.filter((by) => !Number.isNaN(by))), 12);
  settled.creaseAngle.forEach((angle, e) => {
    if (!Number.isNaN(angle)) expect(Math.abs(angle - sheet.creaseAngle[e]!) / radians).toBeLessThan(0.002);
  });
});

test('angles given to whole degrees are too far off, and left as they are', () => {
  const sheet = rounded(0);
  expect(settleAngles(sheet)).toEqual({ sheet, findings: [] });
});
