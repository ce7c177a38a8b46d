/** The sides of a tuck: where paper stands in the way of sliding, and where the pocket is open. */

import { dot, type Space } from '../../numeric/vector.ts';
import type { Placement } from '../../pose/place.ts';
import { placePoint } from '../../pose/place.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';
import { creaseMiddle, halfEdgeOrigin } from '../../sheet/walk.ts';
import type { PlaneGroup } from '../planes.ts';
import type { Stacks } from '../stacks.ts';

/** One straight stretch of a region's rim, in the plane's own coordinates. */
export interface Side {
  /** Outward, unit length. */
  readonly normal: readonly [number, number];
  readonly length: number;
  /** Paper stands across it between the two levels. */
  readonly closed: boolean;
  /** Line of the plane's net. */
  readonly line: number;
}

/** A folded pose with its layers. */
export interface Folded {
  readonly sheet: Sheet;
  readonly placement: Placement;
  readonly stacks: Stacks;
}

/**
 * Sides of a region of cells. Paper stands across a side when, right there, a layer from below the gap turns up or one
 * from above it turns down: by a fold to the other side of the gap, or as a wall out of the plane.
 * @param gapOf in a cell the highest layer below the gap and the lowest above it, as places in its stack
 * @param moves panels that slide along, which bar nothing
 */
export function sidesOf(
  folded: Folded,
  group: number,
  cells: ReadonlySet<number>,
  gapOf: (cell: number) => readonly [number, number],
  moves: (panel: number) => boolean = () => false,
): Side[] {
  const plane = folded.stacks.planes.groups[group]!;
  const { net, faces } = plane;
  const sides: Side[] = [];
  for (let line = 0; line < net.from.length; line++) {
    const [left, right] = [faces.face[2 * line]!, faces.face[2 * line + 1]!];
    if (cells.has(left) === cells.has(right)) continue;
    const cell = cells.has(left) ? left : right;
    const dx = net.x[net.to[line]!]! - net.x[net.from[line]!]!;
    const dy = net.y[net.to[line]!]! - net.y[net.from[line]!]!;
    const length = Math.hypot(dx, dy);
    const out = cell === left ? 1 : -1;
    sides.push({
      normal: [(out * dy) / length, (-out * dx) / length],
      length,
      closed: stands(folded, group, cell, line, gapOf(cell), moves),
      line,
    });
  }
  return sides;
}

function stands(
  { sheet, placement, stacks }: Folded,
  group: number,
  cell: number,
  line: number,
  [below, above]: readonly [number, number],
  moves: (panel: number) => boolean,
): boolean {
  const plane = stacks.planes.groups[group]!;
  const stack = stacks.over[group]![cell]!;
  return plane.boundary[line]!.some((h) => {
    const from = stack.indexOf(sheet.halfEdgePanel[h]!);
    const beyond = sheet.halfEdgePanel[h ^ 1]!;
    if (from < 0 || beyond === NONE || moves(stack[from]!) || moves(beyond) || (from > below && from < above))
      return false;
    if (stacks.planes.groupOf[beyond] === group) {
      const to = stack.indexOf(beyond);
      return to >= 0 && from <= below ? to >= above : to <= below && to >= 0;
    }
    const rises = height(sheet, placement, plane, beyond, h >> 1) > 0;
    return from <= below ? rises : !rises;
  });
}

/** How far a panel stands over a plane (under it: negative), by its corner farthest from one of its creases. */
export function height(
  sheet: Sheet,
  placement: Placement,
  plane: PlaneGroup,
  panel: number,
  crease: number,
): number {
  let most = 0;
  const at = new Float64Array(3);
  const [mx, my] = creaseMiddle(sheet, crease);
  placePoint(at, 0, placement, panel, mx, my);
  const start = dot([at[0]!, at[1]!, at[2]!], plane.normal);
  const first = sheet.panelRings[panel]![0]!;
  let h = first;
  do {
    const v = halfEdgeOrigin(sheet, h);
    placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
    const here = dot([at[0]!, at[1]!, at[2]!], plane.normal) - start;
    if (Math.abs(here) > Math.abs(most)) most = here;
    h = sheet.halfEdgeNext[h]!;
  } while (h !== first);
  return most;
}

/** A direction of a plane as one of space. */
export function inSpace({ across, along }: PlaneGroup, [x, y]: readonly [number, number]): Space {
  return [0, 1, 2].map((k) => x * across[k]! + y * along[k]!) as unknown as Space;
}
