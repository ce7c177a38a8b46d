/** On which side panels in contact belong, at any moment: the nearest order that contact leads to without a break. */
import { describe, expect, it } from 'vitest';
import { posePanels, shapesOf } from '../../../src/core/contact/shapes.ts';
import { ToldSides, type ToldStep } from '../../../src/core/drawn/told-sides.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import type { TrackPose } from '../../../src/core/pose/track.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';

/** A strip of three panels; the creases at 1/3 and 2/3 by the given angles. The middle one stays still. */
const line = (x1: number, y1: number, x2: number, y2: number, kind: 'edge' | 'unassigned') => {
  return { x1, y1, x2, y2, kind };
};
const sheet = buildSheet([
  line(0, 0, 3, 0, 'edge'),
  line(3, 0, 3, 1, 'edge'),
  line(3, 1, 0, 1, 'edge'),
  line(0, 1, 0, 0, 'edge'),
  line(1, 0, 1, 1, 'unassigned'),
  line(2, 0, 2, 1, 'unassigned'),
]).sheet!;
const panel = (x: number) => panelContaining(sheet, x, 0.1);
const [left, middle, right] = [panel(0.1), panel(0.5), panel(0.9)];

function pose(at: number, a: number, b: number): TrackPose {
  const angle = new Float64Array(sheet.creaseKind.length);
  for (let e = 0; e < angle.length; e++)
    if (sheet.creaseKind[e] !== 4) angle[e] = sheet.vertexX[sheet.creaseFrom[e]!]! < 0.5 ? a : b;
  return { at, angle };
}

/** From one pair of angles to another, in ten poses. */
function track(from: readonly [number, number], to: readonly [number, number]): TrackPose[] {
  return Array.from({ length: 11 }, (_, k) => {
    const share = k / 10;
    const at = (which: 0 | 1) => from[which] + share * (to[which] - from[which]);
    return pose(share, at(0), at(1));
  });
}

const shut = Math.PI;

/** The side of the middle panel on which one of the others is told to lie, at a moment; null where it is not told. */
function sideOf(steps: readonly ToldStep[], step: number, share: number, flap: number): number | null {
  const sides = new ToldSides(
    sheet,
    middle,
    () => steps,
    () => 0.005,
  );
  const { angle } = steps[step]!.poses!.reduce((best, one) => {
    return Math.abs(one.at - share) < Math.abs(best.at - share) ? one : best;
  });
  const posed = posePanels(shapesOf(sheet), placePanels(sheet, angle, middle));
  const found = sides.at(step, share, posed).find(({ f, g }) => f === flap && g === middle);
  return found?.side ?? null;
}

// plane geometry, by hand
describe('the left flap, folded to the front in one step and to the back in the next', () => {
  const steps: ToldStep[] = [
    { poses: track([0, 0], [shut, 0]), order: [[left, middle, 1]] },
    { poses: track([shut, 0], [-shut, 0]), order: [[left, middle, -1]] },
  ];

  it('belongs to the side that the nearer end of its contact names', () => {
    expect(sideOf(steps, 0, 0.9, left)).toBe(1);
    expect(sideOf(steps, 1, 0.1, left)).toBe(1);
    expect(sideOf(steps, 1, 0.9, left)).toBe(-1);
  });

  it('is told nothing of while it does not lie over the other', () => {
    expect(sideOf(steps, 0, 0.1, left)).toBeNull();
    expect(sideOf(steps, 1, 0.5, left)).toBeNull();
  });
});

describe('a flap that is shut in a step whose order does not name it', () => {
  it('belongs where a later order has it, if it stays in contact until then', () => {
    const steps: ToldStep[] = [
      { poses: track([0, 0], [shut - 0.01, 0]), order: [] },
      { poses: track([shut - 0.01, 0], [shut, 0]), order: [[left, middle, 1]] },
    ];
    expect(sideOf(steps, 0, 0.9, left)).toBe(1);
  });

  it('is told nothing of where it is opened in between', () => {
    const steps: ToldStep[] = [
      { poses: track([0, 0], [-(shut - 0.01), 0]), order: [] },
      { poses: track([-(shut - 0.01), 0], [0, 0]), order: [] },
      { poses: track([0, 0], [shut, 0]), order: [[left, middle, 1]] },
    ];
    expect(sideOf(steps, 0, 0.9, left)).toBeNull();
    expect(sideOf(steps, 2, 0.9, left)).toBe(1);
  });

  it('is not followed through a step on another sheet, or one that is not known yet', () => {
    const first: ToldStep = { poses: track([0, 0], [shut - 0.01, 0]), order: [] };
    const last: ToldStep = { poses: track([shut - 0.01, 0], [shut, 0]), order: [[left, middle, 1]] };
    expect(sideOf([first, { poses: null, order: [] }, last], 0, 0.9, left)).toBeNull();
  });
});

it('a flap keeps the side that it has before and after, while another moves', () => {
  const order = [[left, middle, 1]] as const;
  const steps: ToldStep[] = [
    { poses: track([0, 0], [shut, 0]), order },
    { poses: track([shut, 0], [shut, -shut]), order: [...order, [right, middle, -1]] },
  ];
  for (const share of [0.1, 0.5, 0.9]) expect(sideOf(steps, 1, share, left)).toBe(1);
  expect(sideOf(steps, 1, 0.9, right)).toBe(-1);
});
