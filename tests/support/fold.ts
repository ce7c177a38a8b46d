/** Short ways for tests to fold something and to look at what came of it. */
import { type FoldOptions, foldStep } from '../../src/core/pose/fold-step.ts';
import { type Placement, placePanels, placePoint } from '../../src/core/pose/place.ts';
import type { StepTrack } from '../../src/core/pose/track.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { creaseLength, panelContaining } from '../../src/core/sheet/walk.ts';
import { radians } from './patterns.ts';

export interface Drives {
  /** Crease to degrees. */
  readonly [crease: number]: number;
}

/** Folds from `start` (flat where left out); driven creases run exactly to their angles unless `drawn`. */
export function fold(
  sheet: Sheet,
  drives: Drives,
  options: Partial<FoldOptions> & { start?: Float64Array; drawn?: boolean } = {},
): StepTrack & { end: Float64Array } {
  const creases = sheet.creaseKind.length;
  const target = new Float64Array(creases).fill(Number.NaN);
  const exact = new Uint8Array(creases);
  for (const [crease, degrees] of Object.entries(drives)) {
    target[Number(crease)] = degrees * radians;
    if (!options.drawn) exact[Number(crease)] = 1;
  }
  const steps = foldStep(
    sheet,
    options.start ?? new Float64Array(creases),
    { target, exact },
    {
      bend: false,
      free: false,
      ...options,
    },
  );
  for (;;) {
    const { value, done } = steps.next();
    if (done) return { ...value, end: value.poses[value.poses.length - 1]!.angle };
  }
}

/** Every crease with a finished angle drawn to it. */
export function foldToFinish(sheet: Sheet, options: Partial<FoldOptions> = {}) {
  const drives: Record<number, number> = {};
  sheet.creaseAngle.forEach((angle, crease) => {
    if (!Number.isNaN(angle)) drives[crease] = angle / radians;
  });
  return fold(sheet, drives, { ...options, drawn: true });
}

/** Fold angles of the first creases, degrees. */
export function degreesOf(angle: Float64Array, count: number): number[] {
  return Array.from(angle.subarray(0, count), (a) => a / radians);
}

/** Largest relative change of length of any crease or raw edge, as the panels beside it have it. */
export function stretchOf(sheet: Sheet, placement: Placement): number {
  const p = new Float64Array(6);
  let worst = 0;
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const flat = creaseLength(sheet, e);
    const sides = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!].filter(
      (panel) => panel >= 0,
    );
    // one end by one panel, the other by the other: a gape would show as a change of length
    for (const [one, other] of [sides, [...sides].reverse()]) {
      const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
      placePoint(p, 0, placement, one!, sheet.vertexX[a]!, sheet.vertexY[a]!);
      placePoint(p, 3, placement, other ?? one!, sheet.vertexX[b]!, sheet.vertexY[b]!);
      const length = Math.hypot(p[0]! - p[3]!, p[1]! - p[4]!, p[2]! - p[5]!);
      worst = Math.max(worst, Math.abs(length - flat) / flat);
    }
  }
  return worst;
}

/** Largest distance in space over distance on the sheet, of random pairs of points on a convex sheet. */
export function largestExpansion(
  sheet: Sheet,
  angle: Float64Array,
  pairs: number,
  random: () => number,
): number {
  const placement = placePanels(sheet, angle, 0);
  const p = new Float64Array(6);
  let worst = 0;
  const height = sheet.vertexY.reduce((most, y) => Math.max(most, y), 0);
  const width = sheet.vertexX.reduce((most, x) => Math.max(most, x), 0);
  const pick = (): [number, number, number] => {
    for (;;) {
      const x = random() * width;
      const y = random() * height;
      const panel = panelContaining(sheet, x, y);
      if (panel >= 0) return [x, y, panel];
    }
  };
  for (let k = 0; k < pairs; k++) {
    const [ax, ay, a] = pick();
    const [bx, by, b] = pick();
    placePoint(p, 0, placement, a, ax, ay);
    placePoint(p, 3, placement, b, bx, by);
    const flat = Math.hypot(ax - bx, ay - by);
    worst = Math.max(worst, Math.hypot(p[0]! - p[3]!, p[1]! - p[4]!, p[2]! - p[5]!) - flat);
  }
  return worst;
}
