/** Several layer orders of one pose, to choose from: what tells one from the others, and where a cut shows it best. */
import type { OrderedPair } from './asked.ts';
import { cellAt } from './pieces.ts';
import type { PlaneGroup, Space } from './planes.ts';
import type { LayerOrder } from './problem.ts';
import type { SectionPlane } from './section.ts';
import type { Stacks } from './stacks.ts';

/** The fewest pairs found (greedily) that hold in one of the orders and in no other. Orders list the same pairs. */
export function pairsThatTell(orders: readonly LayerOrder[], chosen: number): OrderedPair[] {
  const own = orders[chosen]!;
  const twofold = pairsInSeveralAreas(own);
  let others = orders.filter((_, k) => k !== chosen);
  const told: OrderedPair[] = [];
  while (others.length > 0) {
    let best = -1;
    let most = 0;
    own.forEach(([f, g, side], k) => {
      if (twofold.has(`${f},${g}`)) return;
      const excluded = others.filter((other) => other[k]![2] !== side).length;
      if (excluded > most) [best, most] = [k, excluded];
    });
    if (best < 0) break;
    told.push(own[best]!);
    others = others.filter((other) => other[best]![2] === own[best]![2]);
  }
  return told;
}

/** Pairs that lie one way here and the other way there cannot be told by one word. */
function pairsInSeveralAreas(order: LayerOrder): Set<string> {
  const sides = new Map<string, number>();
  const several = new Set<string>();
  for (const [f, g, side] of order) {
    const key = `${f},${g}`;
    if (sides.has(key) && sides.get(key) !== side) several.add(key);
    sides.set(key, side);
  }
  return several;
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
      const middle = middleOfCell(group, cell);
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

type Flat = readonly [number, number];

function differingCells(stacks: readonly Stacks[], group: number): number[] {
  const [first, ...others] = stacks;
  return Array.from(first!.over[group]!.keys()).filter((cell) => {
    const own = first!.over[group]![cell]!.join();
    return others.some(({ over }) => over[group]![cell]!.join() !== own);
  });
}

/** A point inside a cell: the middle of its corners where that lies inside, else beside one of its lines. */
function middleOfCell({ net, faces }: PlaneGroup, cell: number): Flat {
  let [x, y, count] = [0, 0, 0];
  faces.face.forEach((face, h) => {
    if (face !== cell) return;
    const v = (h & 1) === 0 ? net.from[h >> 1]! : net.to[h >> 1]!;
    x += net.x[v]!;
    y += net.y[v]!;
    count++;
  });
  return [x / count, y / count];
}

/** Directions of the lines of the plane, each once; at most eight. */
function directions({ net }: PlaneGroup): Flat[] {
  const found: Flat[] = [];
  for (let line = 0; line < net.from.length && found.length < 8; line++) {
    const dx = net.x[net.to[line]!]! - net.x[net.from[line]!]!;
    const dy = net.y[net.to[line]!]! - net.y[net.from[line]!]!;
    const length = Math.hypot(dx, dy);
    const way: Flat = [dx / length, dy / length];
    if (!found.some(([x, y]) => Math.abs(x * way[1] - y * way[0]) < 1e-3)) found.push(way);
  }
  return found;
}

const reachOf = ({ net }: PlaneGroup) =>
  Math.hypot(Math.max(...net.x) - Math.min(...net.x), Math.max(...net.y) - Math.min(...net.y));

function cellsAlong(group: PlaneGroup, [x, y]: Flat, [dx, dy]: Flat, reach: number): number[] {
  const cells = new Set<number>();
  for (let k = 0; k <= SAMPLES; k++) {
    const t = reach * ((2 * k) / SAMPLES - 1);
    cells.add(cellAt(group, x + t * dx, y + t * dy));
  }
  return [...cells].filter((cell) => group.cover[cell]!.length > 0);
}

function planeAlong(
  { across, along, normal, offset }: PlaneGroup,
  [x, y]: Flat,
  [dx, dy]: Flat,
): SectionPlane {
  const square = (k: 0 | 1 | 2) => -dy * across[k] + dx * along[k];
  const cut: Space = [square(0), square(1), square(2)];
  const at = (k: 0 | 1 | 2) => offset * normal[k] + x * across[k] + y * along[k];
  return { normal: cut, offset: at(0) * cut[0] + at(1) * cut[1] + at(2) * cut[2] };
}
