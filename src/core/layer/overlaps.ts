/**
 * One unknown for each pair of panels and each connected area in which they overlap: which of the two is above. An area
 * ends where either panel does, at a cut within it too: what lies over on one side of a slit may lie under on the other.
 */
import { Groups } from '../numeric/plane.ts';
import { middleOfCell } from './middle.ts';
import type { PlaneGroup, Planes } from './planes.ts';

interface Overlap {
  /** The two panels, the lower number first. The unknown is true where `second` is above `first`. */
  readonly first: number;
  readonly second: number;
  readonly group: number;
}

/** A literal: 2 * unknown, plus 1 where it is negated. */
export type Literal = number;
export const not = (literal: Literal): Literal => literal ^ 1;

/** Place of the pair i < j in a list of all pairs. */
const pairAt = (i: number, j: number) => (j * (j - 1)) / 2 + i;

const known = new WeakMap<Planes, Overlaps>();

/** Found once for the planes of a pose and kept. @param tick called now and then while it takes long; may throw */
export function overlapsOf(planes: Planes, tick: () => void = () => {}): Overlaps {
  let overlaps = known.get(planes);
  if (!overlaps) known.set(planes, (overlaps = new Overlaps(planes, planes.groupOf.length, tick)));
  return overlaps;
}

export class Overlaps {
  readonly list: Overlap[] = [];
  /** Unknowns per group and cell, by pairs of places in the cell's cover. */
  private readonly at: Int32Array[][];
  private readonly planes: Planes;
  private readonly panels: number;
  private ofPair: Map<number, number[]> | null = null;

  /** @param tick called now and then while it takes long; may throw */
  constructor(planes: Planes, panels: number, tick: () => void = () => {}) {
    this.planes = planes;
    this.panels = panels;
    this.at = planes.groups.map((group, g) => this.unknownsOf(group, g, tick));
  }

  /** Literal of "upper is above lower" over a cell of a group, above as the group's normal looks. */
  above(group: number, cell: number, lower: number, upper: number): Literal {
    const cover = this.planes.groups[group]!.cover[cell]!;
    const i = placeIn(cover, lower);
    const j = placeIn(cover, upper);
    if (i < 0 || j < 0 || i === j) throw new Error(`panels ${lower} and ${upper} do not overlap there`);
    return this.aboveAt(group, cell, i, j);
  }

  /** The same for places in the cell's cover: "the panel at j is above the panel at i". */
  aboveAt(group: number, cell: number, i: number, j: number): Literal {
    const own = this.at[group]![cell]!;
    return i < j ? 2 * own[pairAt(i, j)]! : 2 * own[pairAt(j, i)]! + 1;
  }

  /** Unknowns of two panels, one for each area in which they overlap. */
  between(f: number, g: number): readonly number[] {
    this.ofPair ??= this.listPairs();
    return this.ofPair.get(Math.min(f, g) * this.panels + Math.max(f, g)) ?? [];
  }

  /** A place well inside the area of an unknown, in its plane's own coordinates: in the middle of its roomiest cell. */
  placeWithin(unknown: number): [number, number] {
    const { group } = this.list[unknown]!;
    const plane = this.planes.groups[group]!;
    let best: ReturnType<typeof middleOfCell> = { at: [0, 0], area: -1 };
    this.at[group]!.forEach((own, cell) => {
      if (!own.includes(unknown)) return;
      const middle = middleOfCell(plane, cell);
      if (middle.area > best.area) best = middle;
    });
    return best.at;
  }

  private listPairs(): Map<number, number[]> {
    const pairs = new Map<number, number[]>();
    this.list.forEach(({ first, second }, unknown) => {
      const pair = first * this.panels + second;
      const own = pairs.get(pair);
      if (own) own.push(unknown);
      else pairs.set(pair, [unknown]);
    });
    return pairs;
  }

  private unknownsOf({ net, faces, cover, cuts }: PlaneGroup, group: number, tick: () => void): Int32Array[] {
    const base = new Int32Array(cover.length + 1);
    for (const [cell, { length }] of cover.entries()) base[cell + 1] = base[cell]! + pairAt(0, length);
    const joined = new Groups(base[cover.length]!);
    const known = new Set<number>();
    for (let e = 0; e < net.from.length; e++) {
      const [left, right] = [faces.face[2 * e]!, faces.face[2 * e + 1]!];
      if (left === right) continue;
      const cut = cuts.get(e) ?? NO_PANELS;
      const sides = Math.min(left, right) * cover.length + Math.max(left, right);
      if (cut.length === 0 && known.has(sides)) continue;
      if (cut.length === 0) known.add(sides);
      tick();
      joinAcross(joined, base[left]!, cover[left]!, base[right]!, cover[right]!, cut);
    }
    const unknown = new Int32Array(base[cover.length]!).fill(-1);
    return cover.map((panels, cell) => {
      const own = new Int32Array(pairAt(0, panels.length));
      for (let i = 0; i < panels.length; i++)
        for (let j = i + 1; j < panels.length; j++) {
          const root = joined.find(base[cell]! + pairAt(i, j));
          if (unknown[root] === -1) {
            unknown[root] = this.list.length;
            this.list.push({ first: panels[i]!, second: panels[j]!, group });
          }
          own[pairAt(i, j)] = unknown[root]!;
        }
      return own;
    });
  }
}

const NO_PANELS: readonly number[] = [];

/** Two panels that both go on across a line, neither cut along it, overlap on both sides of it in one area. */
function joinAcross(
  joined: Groups,
  leftBase: number,
  left: readonly number[],
  rightBase: number,
  right: readonly number[],
  cut: readonly number[],
): void {
  const inLeft: number[] = [];
  const inRight: number[] = [];
  for (let i = 0, j = 0; i < left.length && j < right.length; ) {
    if (left[i] === right[j]) {
      if (!cut.includes(left[i]!)) {
        inLeft.push(i);
        inRight.push(j);
      }
      i++;
      j++;
    } else if (left[i]! < right[j]!) i++;
    else j++;
  }
  for (let b = 1; b < inLeft.length; b++)
    for (let a = 0; a < b; a++)
      joined.join(leftBase + pairAt(inLeft[a]!, inLeft[b]!), rightBase + pairAt(inRight[a]!, inRight[b]!));
}

/** Place of a panel in a list of panels, ascending; -1 where it is not in it. */
export function placeIn(panels: readonly number[], panel: number): number {
  let low = 0;
  let high = panels.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    if (panels[middle] === panel) return middle;
    if (panels[middle]! < panel) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
