/** Tucks that are one lock. */
import { Groups } from '../../numeric/plane.ts';
import { foldOf } from './lines.ts';
import type { Parts } from './parts.ts';
import type { Tuck } from './pockets.ts';
import type { Folded } from './sides.ts';

/**
 * Tucks of one plane are one lock where their tabs hang together (`sameTab`) and their pockets do: joined by folds on one
 * line, or one round the other.
 */
export function gather<T extends Tuck>(
  folded: Folded,
  tucks: readonly T[],
  sameTab: (one: T, other: T) => boolean,
): T[][] {
  const lineOf = new Map<number, ReadonlySet<number>>();
  const line = ({ joints }: T) => {
    const own = lineOf.get(joints[0]!) ?? foldOf(folded, joints[0]!);
    lineOf.set(joints[0]!, own);
    return own;
  };
  const groups = new Groups(tucks.length);
  tucks.forEach((one, i) => {
    tucks.slice(0, i).forEach((other, j) => {
      if (other.group !== one.group || !sameTab(one, other)) return;
      if (line(one).has(other.joints[0]!) || one.cells.some((cell) => other.cells.includes(cell)))
        groups.join(i, j);
    });
  });
  const gathered = new Map<number, T[]>();
  tucks.forEach((tuck, k) => {
    const root = groups.find(k);
    gathered.set(root, [...(gathered.get(root) ?? []), tuck]);
  });
  return [...gathered.values()];
}

/** Do half-turn folds lead from one part to the other by the given parts? */
export function hangTogether(
  parts: Parts,
  among: readonly number[],
): (one: number, other: number) => boolean {
  const groups = new Groups(among.length);
  among.forEach((one, i) => {
    among.slice(0, i).forEach((other, j) => {
      if (one === other || parts.joints.has(parts.pairOf(one, other))) groups.join(i, j);
    });
  });
  return (one, other) => groups.find(among.indexOf(one)) === groups.find(among.indexOf(other));
}
