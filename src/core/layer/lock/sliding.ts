/** Tabs that can slide in their pocket: how far they have to come, past what stands in the way. */
import { flatDot, type Point } from '../../numeric/vector.ts';
import { foldLock, jointNormal, ownPanels } from './cuffs.ts';
import { gather } from './gather.ts';
import { gradeOf, type Lock } from './lock.ts';
import { extent, middleOf, regionOf, square } from './measure.ts';
import { carrierOf, cuffOf, flapOf, type Mover, movedFirst, towardHinge } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import { areaUnder, cellsUnder, type Tuck } from './pockets.ts';
import { type Folded, inSpace, type Side, sidesOf } from './sides.ts';
import { shortestWay } from './ways.ts';

/** A tuck that can slide, with the flap its tab belongs to. */
interface Sliding extends Tuck {
  readonly flap: Mover;
  readonly key: string;
}

export function slidingLocks(
  folded: Folded,
  parts: Parts,
  tucks: readonly Tuck[],
  sheetSize: number,
): Lock[] {
  const tabs = new Set(tucks.map(({ tab }) => tab));
  const sliding = tucks.map((tuck): Sliding => {
    const { tab, below, above } = tuck;
    const flap = flapOf(folded, parts, tab, {
      without: (part) => part === below || part === above,
      wanted: (part) => tabs.has(part),
    }) ?? { panels: panelsOf(parts, [tab]), creases: [] };
    return { ...tuck, flap, key: flap.panels.join() };
  });
  return gather(folded, sliding, (one, other) => one.key === other.key).flatMap((own) =>
    slidingLock(folded, parts, own, sliding, sheetSize),
  );
}

/** A tab that slides is held by friction; one that is barred every way stays until the cuff is swung away. */
function slidingLock(
  folded: Folded,
  parts: Parts,
  own: readonly Sliding[],
  all: readonly Sliding[],
  sheetSize: number,
): Lock[] {
  const { group, flap } = own[0]!;
  const plane = folded.stacks.planes.groups[group]!;
  const region = own.flatMap(({ tab, below, above, cells }) =>
    regionOf(folded, parts, group, [tab, below, above], new Set(cells)),
  );
  const pocket = own.flatMap(({ below, above, cells }) =>
    areaUnder(folded, parts, group, [below, above], cells),
  );
  if (region.length === 0) return [];
  const toward: Point =
    flap.creases[0] === undefined
      ? [0, 0]
      : towardHinge(folded, plane, flap.creases[0], middleOf(region.flat()));
  const barriers = barriersOf(
    folded,
    parts,
    flap,
    all.filter((tuck) => tuck.group === group),
  );
  const best = shortestWay(region, pocket, barriers, toward);
  const closedSides = distinct(
    normalsOf(own.flatMap((tuck) => sidesOfPocket(folded, parts, tuck, within(parts, flap)))),
  );
  if (!best) {
    const first = cuffOf(folded, parts, own);
    return first ? [foldLock(folded, parts, own, first, sheetSize, closedSides)] : [];
  }
  const figures = { depth: best.depth, frictionLength: extent(region, square(best.way)) };
  return [
    {
      ...figures,
      grade: gradeOf('friction', figures, sheetSize),
      by: 'layers',
      ...ownPanels(parts, own),
      pocketDepth: extent(pocket, jointNormal(folded, own[0]!)),
      closedSides,
      opens: inSpace(plane, best.way),
      ...movedFirst(folded, carrierOf(folded, flap)),
    },
  ];
}

type Among = (part: number) => boolean;

function within(parts: Parts, { panels }: Mover): Among {
  const own = new Set(panels.map((panel) => parts.partOf[panel]!));
  return (part) => own.has(part);
}

/** Outward normals of all paper that stands in a flap's way, in its own plane. */
function barriersOf(folded: Folded, parts: Parts, flap: Mover, all: readonly Sliding[]): Point[] {
  const inFlap = within(parts, flap);
  return normalsOf(
    all
      .filter(({ tab }) => inFlap(tab))
      .flatMap((tuck) => [
        ...sidesOfPocket(folded, parts, tuck, inFlap),
        ...sidesOfTab(folded, parts, tuck, inFlap),
      ]),
  );
}

const normalsOf = (sides: readonly Side[]) =>
  sides.filter(({ closed }) => closed).map(({ normal }) => normal);

/** Sides of the whole area in which both layers of the pocket lie over each other, on the tab's side. */
function sidesOfPocket(
  folded: Folded,
  parts: Parts,
  { group, below, above, cells }: Tuck,
  moving: Among,
): Side[] {
  const gapOf = (cell: number): [number, number] => {
    const layers = folded.stacks.over[group]![cell]!.map((panel) => parts.partOf[panel]!);
    return [layers.indexOf(below), layers.indexOf(above)];
  };
  const moves = (panel: number) => moving(parts.partOf[panel]!);
  return sidesOf(folded, group, cellsUnder(folded, parts, group, [below, above], cells), gapOf, moves);
}

function sidesOfTab(folded: Folded, parts: Parts, { group, tab, cells }: Tuck, moving: Among): Side[] {
  const gapOf = (cell: number): [number, number] => {
    const place = folded.stacks.over[group]![cell]!.findIndex((panel) => parts.partOf[panel] === tab);
    return [place - 1, place + 1];
  };
  const moves = (panel: number) => moving(parts.partOf[panel]!);
  return sidesOf(folded, group, cellsUnder(folded, parts, group, [tab], cells), gapOf, moves);
}

/** How many different directions there are. */
function distinct(ways: readonly Point[]): number {
  const found: Point[] = [];
  for (const way of ways) if (!found.some((other) => flatDot(way, other) > 1 - 1e-6)) found.push(way);
  return found.length;
}
