/** Finds what is tucked in: parts of the sheet that lie between two layers joined by a fold. */
import type { Sheet } from '../../sheet/sheet.ts';
import { isInterior } from '../../sheet/walk.ts';
import { type Region, regionOf } from './measure.ts';
import type { Parts } from './parts.ts';
import { Remembered } from './remembered.ts';
import type { Folded } from './sides.ts';

/** `tab` lies between `below` and `above`, which a fold joins. All three are parts, see parts.ts. */
export interface Tuck {
  readonly group: number;
  readonly below: number;
  readonly tab: number;
  readonly above: number;
  /** The folds that join the two layers. */
  readonly joints: readonly number[];
  /** Cells of the group over which the tab lies between them. */
  readonly cells: readonly number[];
  /** The tab hangs together with one of the layers by folds that lie between them too, so it cannot slide. */
  readonly fixed: boolean;
}

/** Every tuck of an ordered pose; layers between the sides of a fold at an inner corner where all meet are none. */
export function tucksOf(folded: Folded, parts: Parts): Tuck[] {
  const { sheet, stacks } = folded;
  const found = new Map<string, Tuck & { cells: number[]; between: Set<number> }>();
  stacks.over.forEach((cells, group) => {
    cells.forEach((panels, cell) => {
      const layers = panels.map((panel) => parts.partOf[panel]!);
      for (let low = 0; low < layers.length; low++)
        for (let high = low + 2; high < layers.length; high++) {
          const [below, above] = [layers[low]!, layers[high]!];
          const joints = parts.joints.get(parts.pairOf(below, above));
          if (!joints) continue;
          const inside = layers.slice(low + 1, high);
          for (const tab of inside) {
            if (tab === below || tab === above) continue;
            const key = `${group},${below},${tab},${above}`;
            const tuck = found.get(key) ?? {
              ...{ group, below, tab, above, joints, fixed: false },
              cells: [],
              between: new Set(),
            };
            found.set(key, tuck);
            tuck.cells.push(cell);
            for (const part of inside) tuck.between.add(part);
          }
        }
    });
  });
  return [...found.values()]
    .map(({ between, ...tuck }): Tuck => ({ ...tuck, fixed: hangsTogether(parts, tuck, between) }))
    .filter((tuck) => !meetsAtCorner(sheet, parts, tuck));
}

/** Do folds lead from the tab to one of the layers by parts that lie between them? */
function hangsTogether(parts: Parts, { tab, below, above }: Tuck, between: ReadonlySet<number>): boolean {
  const seen = new Set([tab]);
  for (const part of seen) {
    if (joined(parts, part, below) || joined(parts, part, above)) return true;
    for (const other of between) if (joined(parts, part, other)) seen.add(other);
  }
  return false;
}

const joined = (parts: Parts, one: number, other: number) =>
  one !== other && parts.joints.has(parts.pairOf(one, other));

/** Do the tab and one of the layers meet in a fold that comes out of the same inner corner as the joining fold? */
function meetsAtCorner(sheet: Sheet, parts: Parts, { below, tab, above, joints }: Tuck): boolean {
  const cornersOf = (creases: readonly number[]) =>
    creases.flatMap((crease) => [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!]);
  const corners = new Set(cornersOf(joints).filter((vertex) => isInterior(sheet, vertex)));
  return [below, above].some((layer) =>
    cornersOf(parts.joints.get(parts.pairOf(tab, layer)) ?? []).some((vertex) => corners.has(vertex)),
  );
}

/** Cells over which all the given parts lie, as far as they hang together with the given ones. */
export function cellsUnder(
  folded: Folded,
  parts: Parts,
  group: number,
  wanted: readonly number[],
  from: readonly number[],
): ReadonlySet<number> {
  const name = `${group};${wanted.join()};${from.join()}`;
  return areas.of(folded, name, () => spread(folded, parts, group, wanted, from));
}

const areas = new Remembered<ReadonlySet<number>>();

function spread(
  { stacks: { planes, over } }: Folded,
  parts: Parts,
  group: number,
  wanted: readonly number[],
  from: readonly number[],
): ReadonlySet<number> {
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

/** Tells tucks from all others of the pose, whatever the order of the layers around them. */
export const nameOf = (tucks: readonly Tuck[]): string =>
  tucks
    .map(({ group, below, tab, above, cells }) => `${group},${below},${tab},${above}:${cells.join()}`)
    .join(';');

/** The area in which the given parts lie over one another, of all of which `from` are cells. */
export function areaUnder(
  folded: Folded,
  parts: Parts,
  group: number,
  wanted: readonly number[],
  from: readonly number[],
): Region {
  return regionOf(folded, parts, group, wanted, cellsUnder(folded, parts, group, wanted, from));
}
