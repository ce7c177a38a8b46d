/**
 * Patterns are often laid out on an even grid. Where every corner of a drawing lies near a crossing of one, too near
 * for chance, that grid is what was meant, and says better where the corners belong than the drawing does.
 */
import type { Sheet } from './sheet.ts';

/** Finest grid that is looked for, in parts of the sheet's longer side. */
const FINEST = 64;
/** A grid that random corners would fit with at least this probability is no finding. */
const CHANCE = 1e-3;

/** The coarsest grid (parts of the longer side) that all corners lie within `tolerance` of, or null. */
export function commonGrid(sheet: Sheet, tolerance: number): number | null {
  const places = distinct([...sheet.vertexX, ...sheet.vertexY], tolerance).filter(
    (place) => place > tolerance && place < 1 - tolerance,
  );
  for (let parts = 2; parts <= FINEST; parts++) {
    const fits = places.every((place) => Math.abs(place - Math.round(place * parts) / parts) <= tolerance);
    if (fits && (2 * tolerance * parts) ** places.length < CHANCE) return parts;
  }
  return null;
}

/**
 * The same sheet with every corner on the nearest crossing of the grid, the grid laid where it fits best (least squares,
 * moved and scaled); and how far the worst corner moved, units of the sheet given.
 */
export function onGrid(sheet: Sheet, parts: number): { sheet: Sheet; moved: number } {
  const snap = (place: number) => Math.round(place * parts) / parts;
  const [x, y] = [sheet.vertexX.map(snap), sheet.vertexY.map(snap)];
  const mean = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0) / list.length;
  const [mx, my, drawnX, drawnY] = [x, y, sheet.vertexX, sheet.vertexY].map(mean) as [
    number,
    number,
    number,
    number,
  ];
  let [both, own] = [0, 0];
  x.forEach((_, v) => {
    both += (x[v]! - mx) * (sheet.vertexX[v]! - drawnX) + (y[v]! - my) * (sheet.vertexY[v]! - drawnY);
    own += (x[v]! - mx) ** 2 + (y[v]! - my) ** 2;
  });
  const scale = both / own;
  const [left, low] = [drawnX - scale * mx, drawnY - scale * my];
  const moved = x.reduce((most, _, v) => {
    const dx = left + scale * x[v]! - sheet.vertexX[v]!;
    return Math.max(most, Math.hypot(dx, low + scale * y[v]! - sheet.vertexY[v]!));
  }, 0);
  const { frame } = sheet;
  return {
    moved,
    sheet: {
      ...sheet,
      vertexX: x,
      vertexY: y,
      frame: {
        x: frame.x + frame.scale * left,
        y: frame.y + frame.scale * low,
        scale: frame.scale * scale,
      },
    },
  };
}

/** One of each cluster of values. */
function distinct(values: number[], tolerance: number): number[] {
  const sorted = values.sort((a, b) => a - b);
  return sorted.filter((value, k) => k === 0 || value - sorted[k - 1]! > tolerance);
}
