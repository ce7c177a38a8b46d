/** Corners of panels that stick through another panel, or past a fold. */
import { CLOSED, LEVEL, OUT_OF_PLACE } from '../numeric/tolerance.ts';
import { type Placement, placeOf } from '../pose/place.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin, panelContaining, panelRing } from '../sheet/walk.ts';
import { seenFrom } from './shapes.ts';

/**
 * Corners of the panels given that lie beyond another of them, on the side of which their own panel has less; the deepest
 * first. Of two panels that go through each other those of the one that has less to go back.
 */
export function cornersThrough(sheet: Sheet, placement: Placement, panels: readonly number[]): number[] {
  return ofPairs(panels, (panel, other) =>
    beyond(cornersOf(sheet, placement, panel, other), ({ at }) => at[2]).filter(
      ({ at }) => panelContaining(sheet, at[0], at[1]) === other,
    ),
  );
}

/**
 * The same for panels in one plane: corners past an edge of another at which that folds on. What is far past it is no slip
 * of the drawing and is left out.
 */
export function cornersPast(sheet: Sheet, placement: Placement, panels: readonly number[]): number[] {
  return ofPairs(panels, (panel, other) => {
    const corners = cornersOf(sheet, placement, panel, other);
    if (corners.some(({ at }) => Math.abs(at[2]) > LEVEL)) return [];
    return panelRing(sheet, sheet.panelRings[other]![0]!).flatMap((half) => {
      const beside = sheet.halfEdgePanel[half ^ 1]!;
      return beside === NONE || beside === panel ? [] : pastEdge(sheet, half, corners);
    });
  });
}

/** Corners of each panel beyond each other one: of two panels the shallower ones. The deepest of all first. */
function ofPairs(panels: readonly number[], beyondOther: (panel: number, other: number) => Deep[]): number[] {
  const found = panels.flatMap((panel, k) =>
    panels.slice(k + 1).flatMap((other) => {
      const both = [beyondOther(panel, other), beyondOther(other, panel)].filter(({ length }) => length > 0);
      return both.sort((a, b) => deepestOf(a) - deepestOf(b))[0] ?? [];
    }),
  );
  const sorted = found.sort((a, b) => b.depth - a.depth);
  return [...new Set(sorted.map(({ vertex }) => vertex))];
}

const deepestOf = (corners: readonly Deep[]) => Math.max(...corners.map(({ depth }) => depth));

/** Those past an edge of a panel, beside it, and by no more than a slip. */
function pastEdge(sheet: Sheet, half: number, corners: readonly Corner[]): Deep[] {
  const [a, b] = [halfEdgeOrigin(sheet, half), halfEdgeEnd(sheet, half)];
  const [ax, ay] = [sheet.vertexX[a]!, sheet.vertexY[a]!];
  const [dx, dy] = [sheet.vertexX[b]! - ax, sheet.vertexY[b]! - ay];
  const length = Math.hypot(dx, dy);
  const past = beyond(corners, ({ at }) => ((at[1] - ay) * dx - (at[0] - ax) * dy) / length);
  return past.filter(({ at, depth }) => {
    const along = ((at[0] - ax) * dx + (at[1] - ay) * dy) / length;
    return depth < OUT_OF_PLACE && along > -OUT_OF_PLACE && along < length + OUT_OF_PLACE;
  });
}

interface Corner {
  readonly vertex: number;
  readonly at: readonly [number, number, number];
}

interface Deep extends Corner {
  readonly depth: number;
}

function cornersOf(sheet: Sheet, placement: Placement, panel: number, other: number): Corner[] {
  return panelRing(sheet, sheet.panelRings[panel]![0]!).map((half) => {
    const vertex = halfEdgeOrigin(sheet, half);
    const place = placeOf(placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
    return { vertex, at: seenFrom({ placement }, other, ...place) };
  });
}

/** Of corners on both sides those on the side that has less. */
function beyond(corners: readonly Corner[], heightOf: (corner: Corner) => number): Deep[] {
  const heights = corners.map(heightOf);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  if (low > -CLOSED || high < CLOSED) return [];
  const side = -low < high ? -1 : 1;
  const all = corners.map((corner, k) => ({ ...corner, depth: side * heights[k]! }));
  return all.filter(({ depth }) => depth > CLOSED);
}
