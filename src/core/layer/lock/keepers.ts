/**
 * Flaps kept by paper that they do not hang on: a layer lies over the flap on the side to which the flap would swing
 * open. A wall alone keeps a tuck flap so, a lid the flaps under it, and each flap of a ring the next.
 */

import { Groups } from '../../numeric/plane.ts';
import type { Point } from '../../numeric/vector.ts';
import { kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE } from '../../sheet/sheet.ts';
import { circlesOf } from './circles.ts';
import { middleOf, type Region, regionOf } from './measure.ts';
import { carrierOf, flapOf, type Mover, towardHinge } from './movers.ts';
import type { Parts } from './parts.ts';
import { type Folded, height } from './sides.ts';

/** `keeper` lies over the outside of `kept`; both are parts, see parts.ts. */
export interface Keeper {
  readonly group: number;
  readonly keeper: number;
  readonly kept: number;
  /** The keeper lies above, as the plane's normal looks. */
  readonly onTop: boolean;
  readonly cells: ReadonlySet<number>;
  /** Where one lies over the other. */
  readonly region: Region;
  readonly flap: Swing;
  /** The keeper's own flap; null where the keeper does not swing by itself. */
  readonly cover: Swing | null;
  /** The kept flap hangs by a half turn on a layer of the same plane. */
  readonly inPlane: boolean;
}

/** A flap with the way, in its plane, to its hinge. */
interface Swing extends Mover {
  readonly toward: Point;
}

/** One part over another, above as the plane's normal looks. */
interface Pair {
  readonly group: number;
  readonly upper: number;
  readonly lower: number;
  readonly cells: Set<number>;
}

export function keepersOf(folded: Folded, parts: Parts): Keeper[] {
  const pairs = pairsOf(folded, parts);
  const name = (group: number, part: number) => `${group},${part}`;
  const circles = circlesOf(
    pairs.map(({ group, upper, lower }) => [name(group, upper), name(group, lower)] as const),
  );
  const linked = linksOf(parts);
  const leaves = partsThatLeave(folded, parts);
  return pairs.flatMap((pair) => {
    const { group, upper, lower } = pair;
    // of flaps that hang in the plane only a ring keeps: all else lies between two layers that a fold joins
    const inCircle = circles.some((own) => own.has(name(group, upper)) && own.has(name(group, lower)));
    return [true, false]
      .filter((onTop) => inCircle || leaves(onTop ? lower : upper))
      .flatMap((onTop) => keeperOf(folded, parts, pair, onTop))
      .filter((found) => (found.inPlane ? inCircle : !linked(upper, lower)));
  });
}

function pairsOf({ stacks }: Folded, parts: Parts): Pair[] {
  const pairs = new Map<string, Pair>();
  stacks.over.forEach((cells, group) => {
    cells.forEach((panels, cell) => {
      const layers = panels.map((panel) => parts.partOf[panel]!);
      layers.forEach((upper, high) => {
        for (const lower of layers.slice(0, high)) {
          if (upper === lower || parts.joints.has(parts.pairOf(upper, lower))) continue;
          const name = `${group},${upper},${lower}`;
          const pair = pairs.get(name) ?? { group, upper, lower, cells: new Set<number>() };
          pairs.set(name, pair);
          pair.cells.add(cell);
        }
      });
    });
  });
  return [...pairs.values()];
}

/** Parts that half-turn folds lead to, one from the other. */
function linksOf(parts: Parts): (one: number, other: number) => boolean {
  const groups = new Groups(parts.partOf.length);
  for (const pair of parts.joints.keys()) groups.join(...parts.partsOfPair(pair));
  return (one, other) => groups.find(one) === groups.find(other);
}

/** Parts from which paper goes on out of their plane. */
function partsThatLeave({ sheet, stacks }: Folded, parts: Parts): (part: number) => boolean {
  const { groupOf } = stacks.planes;
  const found = new Set<number>();
  sheet.halfEdgePanel.forEach((panel, h) => {
    const beyond = sheet.halfEdgePanel[h ^ 1]!;
    if (panel === NONE || beyond === NONE || groupOf[panel] === groupOf[beyond]) return;
    if (kindJoinsPanels(sheet.creaseKind[h >> 1]!)) found.add(parts.partOf[panel]!);
  });
  return (part) => found.has(part);
}

function keeperOf(
  folded: Folded,
  parts: Parts,
  { group, upper, lower, cells }: Pair,
  onTop: boolean,
): Keeper[] {
  const plane = folded.stacks.planes.groups[group]!;
  const [keeper, kept] = onTop ? [upper, lower] : [lower, upper];
  const hingeOutside = (crease: number) =>
    sideOfCarrier(folded, parts, group, kept, crease) === (onTop ? -1 : 1);
  const flap = flapOf(folded, parts, kept, { without: (part) => part === keeper, hinge: hingeOutside });
  if (!flap) return [];
  const region = regionOf(folded, parts, group, [keeper, kept], cells);
  if (region.length === 0) return [];
  const middle = middleOf(region.flat());
  const swing = (mover: Mover): Swing => ({
    ...mover,
    toward: towardHinge(folded, plane, mover.creases[0]!, middle),
  });
  const cover = flapOf(folded, parts, keeper, { without: (part) => part === kept });
  return [
    {
      ...{ group, keeper, kept, onTop, cells, region },
      inPlane: folded.stacks.planes.groupOf[carrierOf(folded, flap).panels[0]!] === group,
      flap: swing(flap),
      cover: cover && swing(cover),
    },
  ];
}

/** On which side of a part the paper beyond one of its creases lies: 1 above, -1 below, as the plane's normal looks. */
function sideOfCarrier(
  { sheet, placement, stacks }: Folded,
  parts: Parts,
  group: number,
  part: number,
  crease: number,
): number {
  const { groups, groupOf } = stacks.planes;
  const [p, q] = [sheet.halfEdgePanel[2 * crease]!, sheet.halfEdgePanel[2 * crease + 1]!];
  const [own, carrier] = parts.partOf[p] === part ? [p, q] : [q, p];
  if (groupOf[carrier] !== group) return Math.sign(height(sheet, placement, groups[group]!, carrier, crease));
  const beside = stacks.over[group]!.find((panels) => panels.includes(own) && panels.includes(carrier));
  return beside ? Math.sign(beside.indexOf(carrier) - beside.indexOf(own)) : 0;
}
