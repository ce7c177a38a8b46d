/** What is named where paper is in its own way, on strips whose lengths say by hand which corner or fold it is. */
import { describe, expect, it } from 'vitest';
import { cornersPast, cornersThrough } from '../../../src/core/contact/corners-through.ts';
import { foldsMissing } from '../../../src/core/contact/left-unfolded.ts';
import type { Contact } from '../../../src/core/contact/track.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { otherAngles } from '../../../src/core/sheet/blame.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { mapSheet, stripSheet } from '../../support/faces.ts';
import { radians } from '../../support/patterns.ts';

const anglesOf = (sheet: Sheet) => sheet.creaseAngle.map((angle) => (Number.isNaN(angle) ? 0 : angle));

/** Corners of a strip are numbered from its start, two at each end of a panel. */
describe('corners of a strip', () => {
  const past = (cuff: number) => {
    const sheet = stripSheet([1, 0.5, cuff], [90, 180]);
    return cornersPast(sheet, placePanels(sheet, anglesOf(sheet), 0), [1, 2]).sort();
  };

  it('a cuff that is longer than its wall sticks past the fold at its foot', () => {
    expect(past(0.52)).toEqual([6, 7]);
    expect(past(0.48)).toEqual([]);
    // one that is meant to go far beyond is no slip
    expect(past(0.9)).toEqual([]);
  });

  const through = (flap: number) => {
    const sheet = stripSheet([1, 0.5, flap], [90, 135]);
    return cornersThrough(sheet, placePanels(sheet, anglesOf(sheet), 0), [0, 2]).sort();
  };

  it('a flap that comes down at 45 degrees from a wall of 0.5 meets the floor with 0.707 of its length', () => {
    expect(through(0.8)).toEqual([6, 7]);
    expect(through(0.7)).toEqual([]);
  });
});

describe('folds that no step makes', () => {
  // a margin, the floor, a wall, a flap of 0.6 that clears the floor, and its tip of 0.2 that does not
  const sheet = stripSheet([0.3, 1, 0.5, 0.6, 0.2], [-180, 90, 135, 180]);
  const creaseAfter = (panel: number) =>
    [...sheet.creaseKind.keys()].find((e) => {
      const sides = [sheet.halfEdgePanel[2 * e], sheet.halfEdgePanel[2 * e + 1]];
      return sides.includes(panel) && sides.includes(panel + 1);
    })!;
  const [margin, tip] = [creaseAfter(0), creaseAfter(3)];
  const end = anglesOf(sheet);
  end[margin] = 0;
  end[tip] = 0;
  const poses = [
    { at: 0, angle: new Float64Array(end.length) },
    { at: 1, angle: end },
  ];
  const contact: Contact = {
    ...{ panels: [1, 4] as const, mover: 4, kind: 'through', first: 0.9 },
    ...{ depth: 0.01, deepest: 1, at: [] },
  };

  it('the tip that would have to be folded back is named, the margin is not', () => {
    expect(foldsMissing({ sheet, still: 1, poses, never: [margin, tip] }, contact)).toEqual([tip]);
  });

  it('nothing is named that does not help, or where nothing crosses', () => {
    expect(foldsMissing({ sheet, still: 1, poses, never: [margin] }, contact)).toEqual([]);
    expect(foldsMissing({ sheet, still: 1, poses, never: [] }, contact)).toEqual([]);
    const early = { ...contact, deepest: 0 };
    expect(foldsMissing({ sheet, still: 1, poses, never: [margin, tip] }, early)).toEqual([]);
  });
});

describe('one angle that keeps a corner from closing', () => {
  // Two lines that cross: folded along one of them, both halves of it have the same angle.
  const sheet = mapSheet(2, 2);
  const inner = [...sheet.creaseKind.keys()].filter((e) => !Number.isNaN(sheet.creaseAngle[e]!));
  const upright = inner.filter(
    (e) => sheet.vertexX[sheet.creaseFrom[e]!] === sheet.vertexX[sheet.creaseTo[e]!],
  );

  it('is either half of the line, at the angle of the other', () => {
    expect(upright.length).toBe(2);
    const [one, other] = upright as [number, number];
    const angle = new Float64Array(sheet.creaseKind.length);
    angle[one] = 105 * radians;
    angle[other] = 90 * radians;
    const found = otherAngles(sheet, angle).map(({ crease, angle: to }) => [
      crease,
      Math.round(to / radians),
    ]);
    expect(found.sort()).toEqual(
      [
        [one, 90],
        [other, 105],
      ].sort(),
    );
  });

  it('is none where all close', () => {
    const angle = new Float64Array(sheet.creaseKind.length);
    for (const e of upright) angle[e] = 90 * radians;
    expect(otherAngles(sheet, angle)).toEqual([]);
  });
});
