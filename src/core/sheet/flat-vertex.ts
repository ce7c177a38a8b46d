/**
 * Can one vertex fold flat? Exact for given mountains and valleys: the rules of Kawasaki and Justin (angle sums),
 * Maekawa and Justin (counts), and Hull's run recursion ("Counting mountain-valley assignments for flat folds", Ars
 * Combinatoria 67, 2003), which is necessary and sufficient for a single vertex: in a run of equal smallest sectors
 * between larger ones, mountains and valleys differ by 0 (odd run) or 1 (even run); then the run folds away.
 */

/** 1 valley, -1 mountain, 0 undecided. */
export type Turn = -1 | 0 | 1;

export type FlatVerdict =
  | { readonly rule: 'folds' }
  | { readonly rule: 'odd-degree'; readonly degree: number }
  /** How far the sum of every other sector is from half a turn, radians. */
  | { readonly rule: 'angle-sum'; readonly excess: number }
  | { readonly rule: 'count'; readonly mountains: number; readonly valleys: number }
  /** Creases (places in the list given) between which a smallest sector cannot fold in. */
  | { readonly rule: 'small-angle'; readonly creases: readonly number[] };

/**
 * Judges a vertex with paper all round.
 * @param sector angle from crease i to crease i+1, radians, counter-clockwise, summing to a full turn
 * @param turn the way crease i folds; undecided ones may go either way
 * @param slack sectors this near to each other count as equal, and angle sums this near to half a turn as true
 */
export function judgeFlatVertex(
  sector: readonly number[],
  turn: readonly Turn[],
  slack: number,
): FlatVerdict[] {
  const degree = sector.length;
  if (degree === 0) return [{ rule: 'folds' }];
  if (degree % 2 === 1) return [{ rule: 'odd-degree', degree }];
  const failed: FlatVerdict[] = [];
  const excess = sector.reduce((sum, angle, k) => (k % 2 === 0 ? sum + angle : sum), 0) - Math.PI;
  if (Math.abs(excess) > slack) failed.push({ rule: 'angle-sum', excess });
  const mountains = turn.filter((t) => t < 0).length;
  const valleys = turn.filter((t) => t > 0).length;
  if (!canDiffer(turn, 2)) failed.push({ rule: 'count', mountains, valleys });
  return failed.length > 0 ? failed : [foldRunsAway(sector, turn, slack)];
}

/** Can the undecided ones be chosen so that the two ways differ by exactly this? */
function canDiffer(turn: readonly Turn[], difference: number): boolean {
  return canSum(turn, difference) || canSum(turn, -difference);
}

function canSum(turn: readonly Turn[], goal: number): boolean {
  const sum = turn.reduce<number>((total, t) => total + t, 0);
  const open = turn.filter((t) => t === 0).length;
  return Math.abs(goal - sum) <= open && (goal - sum - open) % 2 === 0;
}

interface Corner {
  /** Sector that follows the crease. */
  angle: number;
  turn: Turn;
  crease: number;
}

function foldRunsAway(sector: readonly number[], turn: readonly Turn[], slack: number): FlatVerdict {
  let ring: Corner[] = sector.map((angle, k) => ({ angle, turn: turn[k]!, crease: k }));
  for (;;) {
    const smallest = ring.reduce((least, c) => Math.min(least, c.angle), Number.POSITIVE_INFINITY);
    const isSmall = ring.map((c) => c.angle <= smallest + slack);
    if (!isSmall.includes(false)) {
      return canDiffer(
        ring.map((c) => c.turn),
        2,
      )
        ? { rule: 'folds' }
        : blocked(ring);
    }
    // turn the ring so that it begins with a run of smallest sectors and ends with a larger one
    const first = isSmall.findIndex((small, k) => small && !isSmall.at(k - 1));
    ring = [...ring.slice(first), ...ring.slice(0, first)];
    const length = ring.findIndex((c) => c.angle > smallest + slack);
    const run = ring.slice(0, length + 1);
    const rest = ring.slice(length + 1);
    const turns = run.map((c) => c.turn);
    if (length % 2 === 1) {
      if (!canSum(turns, 0)) return blocked(run);
      const before = rest.at(-1);
      // the run folds to one layer, and its larger neighbours become one sector
      if (before === undefined) return { rule: 'folds' };
      before.angle += run[length]!.angle - smallest;
      ring = rest;
    } else {
      const left: Turn[] = ([-1, 1] as const).filter((t) => canSum(turns, t));
      if (left.length === 0) return blocked(run);
      ring = [{ ...run[length]!, turn: left.length === 2 ? 0 : left[0]! }, ...rest];
    }
  }
}

function blocked(run: readonly Corner[]): FlatVerdict {
  return { rule: 'small-angle', creases: run.map((c) => c.crease) };
}
