/** Several layer orders of one pose, to choose from: what tells one from the others, and where a cut shows it best. */

import type { Point, Space } from '../numeric/vector.ts';
import type { OrderedPair } from './asked.ts';
import { flatPoint } from './leaves.ts';
import { middleOfCell } from './middle.ts';
import { cellAt } from './pieces.ts';
import { liftPoint, type PlaneGroup } from './planes.ts';
import type { LayerOrder, LayerProblem } from './problem.ts';
import type { SectionPlane } from './section.ts';
import type { Stacks } from './stacks.ts';

/** What tells one order from others: at one place one panel lies so over another. */
export interface Difference {
  /** [f, g, side]: panel f lies on the side of g that faced up at the start (1), or on the other (-1). */
  readonly pair: OrderedPair;
  /** The two overlap in several areas: it is said of the one at this place alone. */
  readonly oneOfSeveral: boolean;
  /** A place well inside that area, on the flat sheet as f has it and as g has it. */
  readonly at: readonly [Point, Point];
}

/** By what the chosen of several orders of one pose differs from each of the others: as few places as were found. */
export function differencesOf(
  { planes, overlaps, placement }: LayerProblem,
  orders: readonly LayerOrder[],
  chosen: number,
): Difference[] {
  return unknownsThatTell(orders, chosen).map((unknown) => {
    const [f, g] = orders[chosen]![unknown]!;
    const [x, y] = overlaps.placeWithin(unknown);
    const place = liftPoint(planes.groups[overlaps.list[unknown]!.group]!, x, y);
    return {
      pair: orders[chosen]![unknown]!,
      oneOfSeveral: overlaps.between(f, g).length > 1,
      at: [flatPoint(placement, f, place), flatPoint(placement, g, place)],
    };
  });
}

/** Greedily: of each what excludes most of the other orders that are left. */
function unknownsThatTell(orders: readonly LayerOrder[], chosen: number): number[] {
  const own = orders[chosen]!;
  let others = orders.filter((_, k) => k !== chosen);
  const told: number[] = [];
  while (others.length > 0) {
    let best = -1;
    let most = 0;
    own.forEach((pair, k) => {
      const excluded = others.filter((other) => other[k]![2] !== pair[2]).length;
      if (excluded > most) [best, most] = [k, excluded];
    });
    if (best < 0) break;
    told.push(best);
    others = others.filter((other) => other[best]![2] === own[best]![2]);
  }
  return told;
}

/** Points tried along a line of a plane. */
const SAMPLES = 48;

/** The plane, square to a plane of layers, that shows most of the orders differently. Null where none differ. */
export function tellingPlane(stacks: readonly Stacks[]): SectionPlane | null {
  let best: { plane: SectionPlane; told: number; cells: number } | null = null;
  const { planes } = stacks[0]!;
  planes.groups.forEach((group, g) => {
    const reach = reachOf(group);
    for (const cell of differingCells(stacks, g)) {
      const middle = middleOfCell(group, cell).at;
      for (const way of directions(group)) {
        const cells = cellsAlong(group, middle, way, reach);
        const told = new Set(stacks.map(({ over }) => cells.map((c) => over[g]![c]!.join()).join('|'))).size;
        if (best && (best.told > told || (best.told === told && best.cells >= cells.length))) continue;
        best = { plane: planeAlong(group, middle, way), told, cells: cells.length };
      }
    }
  });
  return (best as { plane: SectionPlane; told: number } | null)?.plane ?? null;
}

function differingCells(stacks: readonly Stacks[], group: number): number[] {
  const [first, ...others] = stacks;
  return Array.from(first!.over[group]!.keys()).filter((cell) => {
    const own = first!.over[group]![cell]!.join();
    return others.some(({ over }) => over[group]![cell]!.join() !== own);
  });
}

/** Directions of the lines of the plane, each once; at most eight. */
function directions({ net }: PlaneGroup): Point[] {
  const found: Point[] = [];
  for (let line = 0; line < net.from.length && found.length < 8; line++) {
    const dx = net.x[net.to[line]!]! - net.x[net.from[line]!]!;
    const dy = net.y[net.to[line]!]! - net.y[net.from[line]!]!;
    const length = Math.hypot(dx, dy);
    const way: Point = [dx / length, dy / length];
    if (!found.some(([x, y]) => Math.abs(x * way[1] - y * way[0]) < 1e-3)) found.push(way);
  }
  return found;
}

const reachOf = ({ net }: PlaneGroup) =>
  Math.hypot(Math.max(...net.x) - Math.min(...net.x), Math.max(...net.y) - Math.min(...net.y));

function cellsAlong(group: PlaneGroup, [x, y]: Point, [dx, dy]: Point, reach: number): number[] {
  const cells = new Set<number>();
  for (let k = 0; k <= SAMPLES; k++) {
    const t = reach * ((2 * k) / SAMPLES - 1);
    cells.add(cellAt(group, x + t * dx, y + t * dy));
  }
  return [...cells].filter((cell) => group.cover[cell]!.length > 0);
}

function planeAlong(
  { across, along, normal, offset }: PlaneGroup,
  [x, y]: Point,
  [dx, dy]: Point,
): SectionPlane {
  const square = (k: 0 | 1 | 2) => -dy * across[k] + dx * along[k];
  const cut: Space = [square(0), square(1), square(2)];
  const at = (k: 0 | 1 | 2) => offset * normal[k] + x * across[k] + y * along[k];
  return { normal: cut, offset: at(0) * cut[0] + at(1) * cut[1] + at(2) * cut[2] };
}
