/**
 * Locks: what is tucked into what, how deep, which way it comes out, what has to move first, and what holds it.
 *
 * The grade follows one rule, from the strongest to the weakest:
 * - `fold`: the tab cannot slide, since folds between the same layers tie it to the pocket, and the joining fold runs
 *   round its edge. It stays until the cuff is swung away.
 * - `friction`: the tab can slide out in its plane, past no paper that stands in the way.
 * - `gravity`: the tab cannot slide, but is only covered: by a layer that lies on top of it.
 * - `none`: the same, where the cover does not lie on top.
 */

import { Groups } from '../../numeric/plane.ts';
import type { Placement } from '../../pose/place.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { PlaneGroup, Space } from '../planes.ts';
import type { Stacks } from '../stacks.ts';
import { carrierOf, cuffOf, flapOf, type Mover } from './movers.ts';
import { type Parts, partsOf } from './parts.ts';
import { type Tuck, tucksOf } from './pockets.ts';
import { type Folded, inSpace, reach, type Side, sidesOf } from './sides.ts';

export type Grade = 'fold' | 'friction' | 'gravity' | 'none';

export interface Lock {
  readonly grade: Grade;
  /** Panels that are tucked in, and the panels that make the pocket. */
  readonly tab: readonly number[];
  readonly pocket: readonly number[];
  /** How far the tab has to come until it is out (or, where it cannot slide, how far it reaches in), sheet units. */
  readonly depth: number;
  /** From the joining fold to the far end of the pocket, sheet units. */
  readonly pocketDepth: number;
  /** Sides on which paper closes the pocket. */
  readonly closedSides: number;
  /** The way the tab slides out, in the frame of the pose; null where it cannot slide. */
  readonly opens: Space | null;
  /** What has to move before, or with, the tab. */
  readonly first: Mover;
}

/** How much holds: the areas of all tabs that a fold or friction holds, in sheet units; to compare stackings by. */
export function strengthOf(locks: readonly Lock[]): number {
  return locks
    .filter(({ grade }) => grade === 'fold' || grade === 'friction')
    .reduce((sum, { depth, pocketDepth, tab }) => sum + depth * pocketDepth * tab.length, 0);
}

export function locksOf(sheet: Sheet, angle: Float64Array, placement: Placement, stacks: Stacks): Lock[] {
  const parts = partsOf(sheet, angle);
  const folded: Folded = { sheet, placement, stacks };
  const tucks = tucksOf(sheet, stacks, parts);
  const loose = tucks.filter(({ fixed }) => !fixed);
  const tabs = new Set(loose.map(({ tab }) => tab));
  const sliding = loose.map((tuck): Sliding => {
    const flap = flapOf(folded, parts, tuck, tabs) ?? { panels: panelsOf(parts, [tuck.tab]), creases: [] };
    return { ...tuck, flap, key: flap.panels.join() };
  });
  const locks = gather(stacks, sliding).map((own) => slidingLock(folded, parts, own, sliding));
  const held = new Set(locks.flatMap(({ tab, pocket }) => [...tab, ...pocket]));
  // what a sliding lock is made of is not spoken of again as merely covered
  const others = tucks.filter(({ fixed, tab }) => fixed && !panelsOf(parts, [tab]).some((p) => held.has(p)));
  return [...locks, ...gather(stacks, others).map((own) => fixedLock(folded, parts, own))];
}

/** A tuck that can slide, with the flap its tab belongs to. */
interface Sliding extends Tuck {
  readonly flap: Mover;
  readonly key: string;
}

/** Tucks whose areas overlap or touch, together; those of different flaps apart. */
function gather<T extends Tuck & { key?: string }>({ planes }: Stacks, tucks: readonly T[]): T[][] {
  const groups = new Groups(tucks.length);
  tucks.forEach((one, i) => {
    const { faces } = planes.groups[one.group]!;
    const near = new Set(one.cells);
    for (let h = 0; h < faces.face.length; h++)
      if (one.cells.includes(faces.face[h]!)) near.add(faces.face[h ^ 1]!);
    tucks.forEach((other, j) => {
      if (j >= i || other.group !== one.group || other.key !== one.key) return;
      if (other.cells.some((cell) => near.has(cell))) groups.join(i, j);
    });
  });
  const gathered = new Map<number, T[]>();
  tucks.forEach((tuck, k) => {
    const root = groups.find(k);
    gathered.set(root, [...(gathered.get(root) ?? []), tuck]);
  });
  return [...gathered.values()];
}

function slidingLock(folded: Folded, parts: Parts, own: readonly Sliding[], all: readonly Sliding[]): Lock {
  const { group, flap } = own[0]!;
  const plane = folded.stacks.planes.groups[group]!;
  const moving = new Set(flap.panels.map((panel) => parts.partOf[panel]!));
  const inFlap = (part: number) => moving.has(part);
  const pocketSides = own.flatMap((tuck) => sidesOfPocket(folded, parts, tuck, inFlap));
  // where the flap is itself a pocket, what stands in the other's way stands in its own from behind
  const around = all.filter(({ tab, below, above }) => !inFlap(tab) && inFlap(below) && inFlap(above));
  const barred: Way[] = [
    ...normalsOf(
      all
        .filter(({ tab }) => inFlap(tab))
        .flatMap((tuck) => [
          ...sidesOfPocket(folded, parts, tuck, inFlap),
          ...sidesOfTab(folded, parts, tuck, inFlap),
        ]),
    ),
    ...normalsOf(
      around.flatMap((tuck) => sidesOfPocket(folded, parts, tuck, (part) => part === tuck.tab)),
    ).map(([x, y]): Way => [-x, -y]),
  ];
  const free = (way: Way) => barred.every((normal) => along(way, normal) < 1e-6);
  const cells = cellsOf(own);
  const ways = pocketSides
    .filter(({ closed }) => !closed)
    .map(({ normal }) => normal)
    .filter(free)
    .map((way) => ({ way, depth: reach(plane, cells, way) }))
    .sort((a, b) => a.depth - b.depth);
  const best = ways[0];
  const shape = shapeOf(folded, parts, own, pocketSides);
  if (!best) return { ...shape, grade: 'fold', opens: null, first: cuffOf(folded, parts, own) };
  return {
    ...shape,
    grade: 'friction',
    depth: best.depth,
    opens: inSpace(plane, best.way),
    first: carrierOf(folded, flap),
  };
}

function fixedLock(folded: Folded, parts: Parts, own: readonly Tuck[]): Lock {
  const plane = folded.stacks.planes.groups[own[0]!.group]!;
  const shape = shapeOf(
    folded,
    parts,
    own,
    own.flatMap((tuck) => sidesOfPocket(folded, parts, tuck)),
  );
  const wraps = own.some((tuck) => reachesFold(folded, parts, tuck));
  const first = cuffOf(folded, parts, own);
  const grade = wraps ? 'fold' : coverLiesOnTop(parts, plane, own, first) ? 'gravity' : 'none';
  return { ...shape, grade, depth: coverDepth(folded, parts, own, first), opens: null, first };
}

/** How far the cover reaches over the tab, square to its fold. */
function coverDepth({ stacks }: Folded, parts: Parts, own: readonly Tuck[], cover: Mover): number {
  const { group } = own[0]!;
  const plane = stacks.planes.groups[group]!;
  const covering = new Set(cover.panels.map((panel) => parts.partOf[panel]!));
  const cells = own.flatMap(({ tab, below, above, cells }) => [
    ...pocketCells(stacks, parts, group, [tab, covering.has(above) ? above : below], cells),
  ]);
  return reach(plane, cells, jointNormal(plane, own[0]!));
}

type Way = readonly [number, number];
const along = (a: Way, b: Way) => a[0] * b[0] + a[1] * b[1];
const cellsOf = (tucks: readonly Tuck[]) => new Set(tucks.flatMap(({ cells }) => cells));

const normalsOf = (sides: readonly Side[]) =>
  sides.filter(({ closed }) => closed).map(({ normal }) => normal);

/** Sides of the whole area in which both layers of the pocket lie over each other, on the tab's side. */
function sidesOfPocket(
  folded: Folded,
  parts: Parts,
  { group, below, above, cells }: Tuck,
  moving: (part: number) => boolean = () => false,
): Side[] {
  const { stacks } = folded;
  const gapOf = (cell: number): [number, number] => {
    const layers = stacks.over[group]![cell]!.map((panel) => parts.partOf[panel]!);
    return [layers.indexOf(below), layers.indexOf(above)];
  };
  const moves = (panel: number) => moving(parts.partOf[panel]!);
  return sidesOf(folded, group, pocketCells(stacks, parts, group, [below, above], cells), gapOf, moves);
}

/** Cells over which all the given parts lie, as far as they hang together with the given ones. */
function pocketCells(
  { planes, over }: Stacks,
  parts: Parts,
  group: number,
  wanted: readonly number[],
  from: readonly number[],
): Set<number> {
  const { faces } = planes.groups[group]!;
  const inside = (cell: number) => {
    const layers = over[group]![cell]!.map((panel) => parts.partOf[panel]!);
    return wanted.every((part) => layers.includes(part));
  };
  const found = new Set(from);
  for (const cell of found)
    for (let h = 0; h < faces.face.length; h++)
      if (faces.face[h] === cell && inside(faces.face[h ^ 1]!)) found.add(faces.face[h ^ 1]!);
  return found;
}

function sidesOfTab(
  folded: Folded,
  parts: Parts,
  { group, tab, cells }: Tuck,
  moving: (part: number) => boolean,
): Side[] {
  const gapOf = (cell: number): [number, number] => {
    const place = folded.stacks.over[group]![cell]!.findIndex((panel) => parts.partOf[panel] === tab);
    return [place - 1, place + 1];
  };
  const moves = (panel: number) => moving(parts.partOf[panel]!);
  return sidesOf(folded, group, pocketCells(folded.stacks, parts, group, [tab], cells), gapOf, moves);
}

function shapeOf(folded: Folded, parts: Parts, own: readonly Tuck[], sides: readonly Side[]) {
  const { group } = own[0]!;
  const plane = folded.stacks.planes.groups[group]!;
  const across = jointNormal(plane, own[0]!);
  const pocket = own.flatMap(({ below, above, cells }) => [
    ...pocketCells(folded.stacks, parts, group, [below, above], cells),
  ]);
  return {
    tab: panelsOf(
      parts,
      own.map(({ tab }) => tab),
    ),
    pocket: panelsOf(
      parts,
      own.flatMap(({ below, above }) => [below, above]),
    ),
    depth: reach(plane, cellsOf(own), across),
    pocketDepth: reach(plane, pocket, across),
    closedSides: distinct(normalsOf(sides)),
  };
}

/** Direction square to the fold that joins a pocket. */
function jointNormal({ net, boundary }: PlaneGroup, { joints }: Tuck): Way {
  const line = boundary.findIndex((halfEdges) => halfEdges.some((h) => joints.includes(h >> 1)));
  const dx = net.x[net.to[line]!]! - net.x[net.from[line]!]!;
  const dy = net.y[net.to[line]!]! - net.y[net.from[line]!]!;
  const length = Math.hypot(dx, dy);
  return [dy / length, -dx / length];
}

/** How many different directions there are. */
function distinct(ways: readonly Way[]): number {
  const found: Way[] = [];
  for (const way of ways) if (!found.some((other) => along(way, other) > 1 - 1e-6)) found.push(way);
  return found.length;
}

function panelsOf(parts: Parts, wanted: readonly number[]): number[] {
  const found: number[] = [];
  parts.partOf.forEach((part, panel) => {
    if (wanted.includes(part)) found.push(panel);
  });
  return found;
}

/** Does the tab's own edge lie along the fold that joins the pocket? */
function reachesFold({ sheet, stacks }: Folded, parts: Parts, { group, tab, joints, cells }: Tuck): boolean {
  const { boundary, faces } = stacks.planes.groups[group]!;
  return boundary.some(
    (halfEdges, line) =>
      halfEdges.some((h) => joints.includes(h >> 1)) &&
      halfEdges.some((h) => parts.partOf[sheet.halfEdgePanel[h]!] === tab) &&
      (cells.includes(faces.face[2 * line]!) || cells.includes(faces.face[2 * line + 1]!)),
  );
}

/** Planes tilted by less than about 45 degrees hold a cover down. */
const LEVEL = 0.7;

function coverLiesOnTop(parts: Parts, plane: PlaneGroup, own: readonly Tuck[], cover: Mover): boolean {
  const up = plane.normal[2];
  if (Math.abs(up) < LEVEL) return false;
  const covering = new Set(cover.panels.map((panel) => parts.partOf[panel]!));
  return own.every(({ below, above }) => covering.has(up > 0 ? above : below));
}
