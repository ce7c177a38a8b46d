/** Is a state what was asked for? Patterns of which no state but the flat one exists half-way, and patterns that fold. */
import { describe, expect, it } from 'vitest';
import { stageOfFinishedAngles } from '../../../src/core/lesson/stages.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { CLOSED } from '../../../src/core/numeric/tolerance.ts';
import { correctPose } from '../../../src/core/pose/correct.ts';
import { angleBounds } from '../../../src/core/pose/moving.ts';
import { reaches } from '../../../src/core/pose/reaches.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { fold } from '../../support/fold.ts';
import { miuraSheet, PatternMaker, radians, squareTwistSheet, vertexSheet } from '../../support/patterns.ts';
import { fixture, sheetOf } from '../storage/help.ts';

const angles = (...degrees: number[]) => Float64Array.from(degrees, (one) => one * radians);

describe('by hand', () => {
  it.each([
    ['finished angles met', [180, -90], [180, -90], 1, true],
    ['one off by less than a degree', [180, -90], [179.1, -90], 1, true],
    ['one off by more', [180, -90], [178.9, -90], 1, false],
    ['what is not asked does not count', [180, Number.NaN], [180, 45], 1, true],
    // misses 30 and 40 make 50, three quarters of the root of 40^2 + 53^2 = 66.4 are 49.8
    ['half-way, just not', [40, 53], [10, 13], 0.5, false],
    // and of 40^2 + 54^2 = 67.2 are 50.4, against 30 and 40.2, which make 50.2
    ['half-way, just', [40, 54], [10, 13.8], 0.5, true],
    ['half-way a degree counts for nothing', [40, 40], [38, 42], 0.5, true],
    ['nothing is asked, and flat it is', [0, 0], [0, 0], 0, true],
  ] as const)('%s', (_name, asked, reached, part, answer) => {
    expect(reaches(angles(...asked), angles(...reached), part)).toBe(answer);
  });
});

/** Rings of a square pleated alternately, with its diagonals. */
function pleatedSquare(rings: number): Sheet {
  const maker = new PatternMaker();
  const middle = maker.point(0, 0);
  let inner = [middle, middle, middle, middle];
  for (let ring = 1; ring <= rings; ring++) {
    const corners = [
      [-ring, -ring],
      [ring, -ring],
      [ring, ring],
      [-ring, ring],
    ].map(([x, y]) => maker.point(x!, y!));
    corners.forEach((corner, k) => {
      maker.crease(inner[k]!, corner, 42 * ((ring + k) % 2 ? -1 : 1));
      if (ring === rings) maker.line(corner, corners[(k + 1) % 4]!, 'edge');
      else maker.crease(corner, corners[(k + 1) % 4]!, ring % 2 ? 60 : -60);
    });
    inner = corners;
  }
  return maker.sheet();
}

/** Closing states near the scaled angles with all kinds kept, and where a motion toward them comes to rest. */
function statesNear(sheet: Sheet, part: number): { asked: Float64Array; states: Float64Array[] } {
  const target = stageOfFinishedAngles(sheet).target.map((angle) => part * angle);
  const wished = Object.fromEntries(
    [...target].flatMap((angle, e) => (Number.isNaN(angle) ? [] : [[e, angle / radians]])),
  );
  const random = seededRandom(11);
  const near = Array.from({ length: 40 }, (_, k) =>
    target.map((angle) => (Number.isNaN(angle) ? 0 : angle * (k === 0 ? 1 : 1 + 0.4 * (random() - 0.5)))),
  ).map((pose) => correctPose(sheet, pose));
  const closing = near.flatMap(({ closure, angle }) =>
    closure < CLOSED && keepsKinds(sheet, angle) ? [angle] : [],
  );
  return { asked: target, states: [fold(sheet, wished, { drawn: true }).end, ...closing] };
}

const keepsKinds = (sheet: Sheet, angle: Float64Array) =>
  angle.every((one, crease) => {
    const [lower, upper] = angleBounds(sheet.creaseKind[crease]!, false);
    return one >= lower - CLOSED && one <= upper + CLOSED;
  });

describe('no state like the one asked for', () => {
  // a corner that folds has creases of both kinds, unless folds run straight through it (Abel et al. 2016)
  const fourValleys = vertexSheet([60, 90, 120, 90], [180, 180, 180, 180]);
  const sixValleys = vertexSheet([60, 60, 60, 60, 60, 60], [180, 180, 180, 180, 180, 180]);
  it.each([
    ['four valleys at 0.99', fourValleys, 0.99],
    ['four valleys half-way', fourValleys, 0.5],
    ['six valleys half-way', sixValleys, 0.5],
    // no more than the flat state exists (Demaine, Demaine, Hart, Price and Tachi 2011)
    ['a square pleated in rings', pleatedSquare(3), 0.5],
  ])('%s', (_name, sheet, part) => {
    const { asked, states } = statesNear(sheet, part);
    expect(states.map((state) => reaches(asked, state, part))).toEqual(states.map(() => false));
  });
});

describe('patterns that fold', () => {
  const sample = (name: string) => sheetOf(openFile(name, fixture(name)));
  it.each([
    ['Miura sheet', miuraSheet(4, 4)],
    ['square twist that folds stiff', squareTwistSheet(45, 'MMVV')],
    ...['s1.fold', 's2.fold', 's3.fold', 's5.fold'].map((name) => [name, sample(name)] as const),
  ] as const)('%s, at a tenth, half-way and nearly done', (_name, sheet) => {
    for (const part of [0.1, 0.5, 0.9]) {
      const { asked, states } = statesNear(sheet, part);
      expect(reaches(asked, states[0]!, part)).toBe(true);
    }
  });
});
