/**
 * Which creases a step can move at all. Closure ties creases that meet at an interior vertex or at a hole; what no chain
 * of ties joins to a driven crease stays.
 */
import { Groups } from '../numeric/plane.ts';
import type { Loop } from '../sheet/loops.ts';

/** Creases that closure ties to each other, driven ones among them, and the walks that tie them. */
export interface TiedPart {
  readonly creases: readonly number[];
  readonly loops: readonly Loop[];
}

/**
 * The parts that hold a driven crease, each to be moved by itself.
 * @param moving 1 for creases that fold; others tie nothing
 */
export function tiedParts(
  loops: readonly Loop[],
  moving: Uint8Array,
  target: Float64Array,
): readonly TiedPart[] {
  const groups = new Groups(moving.length);
  const folding = loops.map((loop) => creasesOf(loop).filter((e) => moving[e] === 1));
  for (const [first, ...others] of folding) for (const e of others) groups.join(first!, e);
  const parts = new Map<number, { creases: number[]; loops: Loop[] }>();
  for (let e = 0; e < moving.length; e++)
    if (moving[e] && !Number.isNaN(target[e]!)) parts.set(groups.find(e), { creases: [], loops: [] });
  for (let e = 0; e < moving.length; e++) if (moving[e]) parts.get(groups.find(e))?.creases.push(e);
  folding.forEach(([first], l) => {
    if (first !== undefined) parts.get(groups.find(first))?.loops.push(loops[l]!);
  });
  return [...parts.values()];
}

/** Creases crossed by a walk, in order. */
export const creasesOf = (loop: Loop): number[] => Array.from(loop.halfEdges, (h) => h >> 1);
