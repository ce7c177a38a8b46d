/** The looks of a drawing gathered into rows, each of which is asked about at once: one answer for many. */
import type { LineMapping, StrokeGroup } from '../../core/storage/drawing/mapping.ts';

/** Every look by itself, or all that share a dash, a colour or a layer; what lies on the rim stays apart. */
const gatherings = ['look', 'dash', 'colour', 'layer'] as const;
export type Gathering = (typeof gatherings)[number];

export interface LineRow {
  readonly key: string;
  /** Indices of its looks. */
  readonly groups: readonly number[];
  /** Lines of all of them. */
  readonly count: number;
  /** What all of them share; null where they differ. */
  readonly dash: StrokeGroup['dash'] | null;
  readonly colour: string | null;
  readonly layer: string | null;
  readonly onRim: boolean;
}

/** The rows of a drawing, the one with most lines first. */
export function lineRows(groups: readonly StrokeGroup[], by: Gathering): LineRow[] {
  const rows = new Map<string, number[]>();
  groups.forEach((group, index) => {
    const key = by === 'look' ? group.key : `${group[by]} ${group.place}`;
    rows.set(key, [...(rows.get(key) ?? []), index]);
  });
  return [...rows]
    .map(([key, indices]) => {
      const own = indices.map((index) => groups[index]!);
      return {
        ...{ key, groups: indices, onRim: own[0]!.place === 'rim' },
        count: own.reduce((sum, { count }) => sum + count, 0),
        ...{ dash: shared(own, 'dash'), colour: shared(own, 'colour'), layer: shared(own, 'layer') },
      };
    })
    .sort((a, b) => b.count - a.count);
}

/** What the row stands for; null where its looks were answered differently. */
export function meaningOfRow(row: LineRow, groups: readonly StrokeGroup[], mapping: LineMapping) {
  const meanings = new Set(row.groups.map((index) => mapping[groups[index]!.key]?.kind ?? 'ignore'));
  return meanings.size === 1 ? [...meanings][0]! : null;
}

/** Rows that can be looked through at once. */
const READABLE = 12;

/** Ways to gather that ask about fewer rows than every look by itself, and that first. */
export function usefulGatherings(groups: readonly StrokeGroup[]): Gathering[] {
  const tells = (by: Exclude<Gathering, 'look'>) => new Set(groups.map((one) => one[by])).size > 1;
  return gatherings.filter(
    (by) => by === 'look' || (tells(by) && lineRows(groups, by).length < groups.length),
  );
}

/** The way to begin with: every look by itself while those can be read, else the one of fewest rows. */
export function firstGathering(groups: readonly StrokeGroup[]): Gathering {
  if (groups.length <= READABLE) return 'look';
  return usefulGatherings(groups).reduce((best, by) =>
    lineRows(groups, by).length < lineRows(groups, best).length ? by : best,
  );
}

function shared<K extends 'dash' | 'colour' | 'layer'>(
  groups: readonly StrokeGroup[],
  what: K,
): StrokeGroup[K] | null {
  const first = groups[0]![what];
  return groups.every((one) => one[what] === first) ? first : null;
}
