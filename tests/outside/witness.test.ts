/**
 * A general-purpose rigid-body engine (cannon-es) as a witness: panels as bodies, creases as hinges, one crease turned
 * by a motor. It agrees with our poses within its own hinge gap.
 */
import { describe, expect, it } from 'vitest';
import { fold } from '../support/fold.ts';
import { HingedBodies } from '../support/hinged-bodies.ts';
import { miuraSheet, radians, vertexSheet } from '../support/patterns.ts';

const cases = [
  {
    name: 'degree 4, sectors 60 75 120 105, mode A',
    sheet: vertexSheet([60, 75, 120, 105], [1, -1, 1, 1]),
    driven: 0,
  },
  {
    name: 'degree 4, sectors 60 75 120 105, mode B',
    sheet: vertexSheet([60, 75, 120, 105], [-1, 1, 1, 1]),
    driven: 1,
  },
  {
    name: 'Miura 2 x 2',
    sheet: miuraSheet(2, 2),
    driven: miuraSheet(2, 2).creaseKind.findIndex((kind) => kind < 2),
  },
];

describe('cannon-es as witness', () => {
  for (const { name, sheet, driven } of cases)
    it(name, () => {
      const sign = sheet.creaseAngle[driven]! > 0 ? 1 : -1;
      const start = fold(sheet, { [driven]: 15 * sign }).end;
      const ours = fold(sheet, { [driven]: 70 * sign }).end;
      const bodies = new HingedBodies(sheet, start, 200);
      bodies.drive(new Map([[driven, ours[driven]!]]), 900);
      const theirs = bodies.angles();
      const gap = bodies.gap();
      expect(Math.abs(theirs[driven]! - ours[driven]!) / radians).toBeLessThan(1);
      // compare at the angle that the engine's driven hinge really has
      const same = fold(sheet, { [driven]: theirs[driven]! / radians }).end;
      const apart = theirs.reduce((most, angle, e) => Math.max(most, Math.abs(angle - same[e]!)), 0);
      expect(gap).toBeLessThan(0.05);
      expect(apart, `gap ${gap}, angles apart ${apart}`).toBeLessThan(4 * gap + 1e-6);
    });
});
