/** Flaps that a wall alone keeps, or that a cover lies over. */
import { flatDot } from '../../numeric/vector.ts';
import type { Keeper } from './keepers.ts';
import { gradeOf, type Lock, liesOnTop } from './lock.ts';
import { extent, regionOf, square } from './measure.ts';
import { carrierOf, movedFirst } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import { cellsUnder } from './pockets.ts';
import { coverFigures } from './rings.ts';
import { type Folded, inSpace, sidesOf } from './sides.ts';

/** One lock for each flap, by all that keeps it in its plane. */
export function coverLocks(
  folded: Folded,
  parts: Parts,
  keepers: readonly Keeper[],
  sheetSize: number,
): Lock[] {
  const ofFlap = new Map<string, Keeper[]>();
  for (const one of keepers) {
    const key = `${one.group},${one.flap.panels.join()}`;
    ofFlap.set(key, [...(ofFlap.get(key) ?? []), one]);
  }
  return [...ofFlap.values()].flatMap((own) => {
    const walls = own.filter((one) => isWall(one) && mouthIsOpen(folded, parts, one));
    if (walls.length > 0) return [wallLock(folded, parts, walls, sheetSize)];
    const covers = own.filter(({ cover }) => cover !== null);
    return covers.length > 0 ? [coverLock(folded, parts, covers, sheetSize)] : [];
  });
}

/** Cosine of the least angle between two flaps that do not face each other. */
const FACING = -Math.SQRT1_2;

/** A flap tucked in against paper that stands firm, or that hangs on the far side: it has to slide out. */
const isWall = ({ flap, cover }: Keeper) => cover === null || flatDot(flap.toward, cover.toward) < FACING;

/** Does nothing stand between the flap and its keeper on the side of the flap's hinge? */
function mouthIsOpen(folded: Folded, parts: Parts, { group, kept, onTop, cells, flap }: Keeper): boolean {
  const own = new Set(flap.panels);
  const gapOf = (cell: number): [number, number] => {
    const stack = folded.stacks.over[group]![cell]!;
    const place = stack.findIndex((panel) => parts.partOf[panel] === kept);
    return onTop ? [-1, place + 1] : [place - 1, stack.length];
  };
  return sidesOf(folded, group, cells, gapOf, (panel) => own.has(panel)).every(
    ({ normal, closed }) => !closed || flatDot(normal, flap.toward) < Math.SQRT1_2,
  );
}

function wallLock(folded: Folded, parts: Parts, walls: readonly Keeper[], sheetSize: number): Lock {
  const { group, flap } = walls[0]!;
  const plane = folded.stacks.planes.groups[group]!;
  const { toward } = flap;
  const region = walls.flatMap((one) => one.region);
  const wall = walls.flatMap(({ keeper, cells }) =>
    regionOf(folded, parts, group, [keeper], cellsUnder(folded, parts, group, [keeper], [...cells])),
  );
  const figures = { depth: extent(region, toward), frictionLength: extent(region, square(toward)) };
  const behind = behindOf(folded, parts, walls);
  return {
    ...figures,
    grade: gradeOf('friction', figures, sheetSize),
    by: behind.length > 0 ? 'layers' : 'wall',
    tab: tabOf(folded, walls[0]!),
    pocket: panelsOf(parts, [...walls.map(({ keeper }) => keeper), ...behind]),
    pocketDepth: extent(wall, toward),
    closedSides: 1,
    opens: inSpace(plane, toward),
    ...movedFirst(folded, carrierOf(folded, flap)),
  };
}

/** Panels of the flap that lie in the plane in which it is kept. */
function tabOf({ stacks: { planes } }: Folded, { flap, group }: Keeper): number[] {
  return flap.panels.filter((panel) => planes.groupOf[panel] === group);
}

/** A flap under a cover that swings by itself. */
function coverLock(folded: Folded, parts: Parts, covers: readonly Keeper[], sheetSize: number): Lock {
  const deepest = covers
    .map((one) => ({ ...one, ...coverFigures(one) }))
    .reduce((best, one) => (one.depth > best.depth ? one : best));
  const { group, onTop, keeper, cover, depth, frictionLength } = deepest;
  const grade = liesOnTop(folded.stacks.planes.groups[group]!, onTop) ? 'gravity' : 'none';
  return {
    grade: gradeOf(grade, deepest, sheetSize),
    by: 'cover',
    tab: tabOf(folded, deepest),
    pocket: panelsOf(parts, [keeper]),
    ...{ depth, frictionLength, pocketDepth: depth },
    closedSides: 1,
    opens: null,
    ...movedFirst(folded, cover!),
  };
}

/** Layers on the other side of a flap that it does not hang on. */
function behindOf(folded: Folded, parts: Parts, walls: readonly Keeper[]): number[] {
  const found = new Set<number>();
  for (const { group, kept, onTop, cells, flap } of walls)
    for (const cell of cells) {
      const layers = folded.stacks.over[group]![cell]!;
      const place = layers.findIndex((panel) => parts.partOf[panel] === kept);
      for (const panel of onTop ? layers.slice(0, place) : layers.slice(place + 1))
        if (!flap.panels.includes(panel)) found.add(parts.partOf[panel]!);
    }
  return [...found];
}
