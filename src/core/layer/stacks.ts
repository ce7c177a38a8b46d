/**
 * The layers of a pose, ready to be looked at: over every cell of every plane the panels from the lowest to the
 * highest, with heights at which they can be drawn or fanned out. Plain data throughout.
 */

import { dot, type Space } from '../numeric/vector.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { layerHeights } from './heights.ts';
import { overlapsOf } from './overlaps.ts';
import { cellAt } from './pieces.ts';
import type { Planes } from './planes.ts';
import type { LayerOrder } from './problem.ts';

export interface Stacks {
  readonly planes: Planes;
  /** Per group and cell: panels from the lowest to the highest, as the group's normal looks. */
  readonly over: readonly (readonly (readonly number[])[])[];
  /** The same shape: a height for each layer, whole numbers from 0 that grow within every cell. */
  readonly heights: readonly (readonly (readonly number[])[])[];
  /** Pairs that overlap but whose order nobody told; they are stacked by number. */
  readonly untold: readonly (readonly [number, number])[];
}

/** The layers at one point. */
interface LayersHere {
  readonly group: number;
  readonly cell: number;
  /** Panels from the lowest to the highest, as the group's normal looks. */
  readonly panels: readonly number[];
  readonly normal: Space;
}

/** Stacks up the panels of a pose. An order from another pose of the same sheet serves for the pairs it names. */
export function stacksOf(planes: Planes, order: LayerOrder): Stacks {
  const above = relation(planes, order);
  const untold = new Map<string, readonly [number, number]>();
  const over = planes.groups.map(({ cover }, group) =>
    cover.map((panels, cell) => {
      const told = panels.map((p) => panels.map((q) => (p === q ? 0 : above(group, cell, p, q))));
      told.forEach((row, k) => {
        for (let j = 0; j < k; j++)
          if (row[j] === 0) untold.set(`${panels[j]!},${panels[k]!}`, [panels[j]!, panels[k]!]);
      });
      return stacked(told).map((k) => panels[k]!);
    }),
  );
  const heights = over.map((cells) => layerHeights(cells));
  return { planes, over, heights, untold: [...untold.values()] };
}

/**
 * From the lowest to the highest, so that all that is told is kept; the first in number where it leaves a choice (Kahn 1962).
 * @param told per pair p, q: 1 if q lies above p, -1 below, 0 if that is not told
 */
function stacked(told: readonly (readonly number[])[]): number[] {
  const below = told.map((row) => row.filter((side) => side < 0).length);
  const left = new Set(told.keys());
  const stack: number[] = [];
  while (left.size > 0) {
    let next = -1;
    for (const k of left) if (next < 0 || below[k]! < below[next]!) next = k;
    left.delete(next);
    stack.push(next);
    for (const k of left) if (told[k]![next]! < 0) below[k]!--;
  }
  return stack;
}

/** 1: q lies above p over that cell, as the normal looks; -1: below; 0: not told. */
type Above = (group: number, cell: number, p: number, q: number) => 1 | -1 | 0;

function relation(planes: Planes, order: LayerOrder): Above {
  const overlaps = overlapsOf(planes);
  const sameOverlaps =
    order.length === overlaps.list.length &&
    overlaps.list.every(({ first, second }, k) => order[k]![0] === first && order[k]![1] === second);
  if (sameOverlaps)
    return (group, cell, p, q) => {
      const literal = overlaps.above(group, cell, p, q);
      const [, second, side] = order[literal >> 1]!;
      const secondAbove = side > 0 !== planes.up[second]! > 0;
      return secondAbove === ((literal & 1) === 0) ? 1 : -1;
    };
  const count = planes.groupOf.length;
  const sides = new Map(order.flatMap(([f, g, side]) => [[f * count + g, side] as const]));
  return (_, __, p, q) => {
    const qOnSideOfP = sides.get(q * count + p);
    if (qOnSideOfP !== undefined) return (qOnSideOfP * planes.up[p]!) as 1 | -1;
    const pOnSideOfQ = sides.get(p * count + q);
    return pOnSideOfQ === undefined ? 0 : (-(pOnSideOfQ * planes.up[q]!) as 1 | -1);
  };
}

/** The layers at a point of a panel; the point is given on the flat sheet. */
export function layersAt(
  { planes, over }: Stacks,
  placement: Placement,
  panel: number,
  [x, y]: readonly [number, number],
): LayersHere {
  const group = planes.groupOf[panel]!;
  const plane = planes.groups[group]!;
  const point = new Float64Array(3);
  placePoint(point, 0, placement, panel, x, y);
  const at: Space = [point[0]!, point[1]!, point[2]!];
  const cell = cellAt(plane, dot(at, plane.across), dot(at, plane.along));
  return { group, cell, panels: over[group]![cell]!, normal: plane.normal };
}
