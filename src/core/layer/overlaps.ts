/** One unknown for each pair of panels and each connected area in which they overlap: which of the two is above. */
import { Groups } from '../numeric/plane.ts';
import type { PlaneGroup, Planes } from './planes.ts';

export interface Overlap {
  /** The two panels, the lower number first. The unknown is true where `second` is above `first`. */
  readonly first: number;
  readonly second: number;
  readonly group: number;
}

/** A literal: 2 * unknown, plus 1 where it is negated. */
export type Literal = number;
export const not = (literal: Literal): Literal => literal ^ 1;

export class Overlaps {
  readonly list: Overlap[] = [];
  /** Unknown of a pair over a cell: per group, per cell, by pair. */
  private readonly at: Map<number, number>[][];
  private readonly panels: number;
  private ofPair: Map<number, number[]> | null = null;

  constructor(planes: Planes, panels: number) {
    this.panels = panels;
    this.at = planes.groups.map((group, g) => this.unknownsOf(group, g));
  }

  /** Literal of "upper is above lower" over a cell of a group, above as the group's normal looks. */
  above(group: number, cell: number, lower: number, upper: number): Literal {
    const [first, second] = lower < upper ? [lower, upper] : [upper, lower];
    const unknown = this.at[group]![cell]!.get(first * this.panels + second);
    if (unknown === undefined) throw new Error(`panels ${first} and ${second} do not overlap there`);
    return 2 * unknown + (lower < upper ? 0 : 1);
  }

  /** Unknowns of two panels, one for each area in which they overlap. */
  between(f: number, g: number): readonly number[] {
    this.ofPair ??= this.listPairs();
    return this.ofPair.get(Math.min(f, g) * this.panels + Math.max(f, g)) ?? [];
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

  private unknownsOf({ net, faces, cover }: PlaneGroup, group: number): Map<number, number>[] {
    const nodes: { pair: number; cell: number }[] = [];
    const node = cover.map((panels, cell) => {
      const own = new Map<number, number>();
      for (let i = 0; i < panels.length; i++)
        for (let j = i + 1; j < panels.length; j++) {
          const pair = panels[i]! * this.panels + panels[j]!;
          own.set(pair, nodes.length);
          nodes.push({ pair, cell });
        }
      return own;
    });
    const joined = new Groups(nodes.length);
    for (let e = 0; e < net.from.length; e++) {
      const left = node[faces.face[2 * e]!]!;
      const right = node[faces.face[2 * e + 1]!]!;
      if (left === right) continue;
      for (const [pair, id] of left) {
        const other = right.get(pair);
        // a panel that covers both sides of a line goes on across it
        if (other !== undefined) joined.join(id, other);
      }
    }
    const unknown = new Map<number, number>();
    nodes.forEach(({ pair }, id) => {
      const root = joined.find(id);
      if (unknown.has(root)) return;
      unknown.set(root, this.list.length);
      this.list.push({ first: Math.floor(pair / this.panels), second: pair % this.panels, group });
    });
    return node.map((own) => new Map([...own].map(([pair, id]) => [pair, unknown.get(joined.find(id))!])));
  }
}
