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

/** The same sheet with every corner on the nearest crossing of the grid. */
export function onGrid(sheet: Sheet, parts: number): Sheet {
  const snap = (place: number) => Math.round(place * parts) / parts;
  return { ...sheet, vertexX: sheet.vertexX.map(snap), vertexY: sheet.vertexY.map(snap) };
}

/** One of each cluster of values. */
function distinct(values: number[], tolerance: number): number[] {
  const sorted = values.sort((a, b) => a - b);
  return sorted.filter((value, k) => k === 0 || value - sorted[k - 1]! > tolerance);
}
