/**
 * Which creases a step may move. Closure ties creases that meet at an interior vertex or at a hole; what no chain of
 * ties joins to a driven crease cannot be moved by it. Within a tied part as few creases as possible are let go.
 */
import { Groups } from '../numeric/plane.ts';
import { CLOSED, COLLINEAR, MISS } from '../numeric/tolerance.ts';
import type { Loop } from '../sheet/loops.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';

/** Creases that closure ties to each other, driven ones among them, and the walks that tie them. */
export interface TiedPart {
  readonly creases: readonly number[];
  readonly loops: readonly Loop[];
}

/** A way from a pose to angles asked for; one entry per crease of the sheet, NaN in `target` for what follows. */
export interface Asked {
  readonly sheet: Sheet;
  readonly start: Float64Array;
  readonly target: Float64Array;
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

/**
 * Sets of creases of a part to try one after the other, smallest first. The first holds the driven creases alone.
 * Where a corner or hole does not close so along the straight way to the targets, creases that follow are let go round
 * it, and from there outward, the reach doubled each time, until the whole part is free. Sets in which closure
 * leaves a driven crease no motion are left out.
 */
export function setsToFree(part: TiedPart, asked: Asked): readonly Uint8Array[] {
  const { start, target } = asked;
  const driven = part.creases.filter((e) => !Number.isNaN(target[e]!));
  const followers = part.creases.filter((e) => Number.isNaN(target[e]!));
  const reach = reachOfFollowers(part, followers, openLoops(part, driven, asked));
  const furthest = followers.reduce((most, e) => Math.max(most, reach[e]!), 0);
  const axes = foldedAxes(part, asked);
  const sets: Uint8Array[] = [];
  const freeWithin = (radius: number) => {
    const free = new Uint8Array(start.length);
    for (const e of driven) free[e] = 1;
    for (const e of followers) if (reach[e]! <= radius) free[e] = 1;
    return free;
  };
  for (let radius = 0; radius < furthest; radius = Math.max(1, 2 * radius)) {
    const free = freeWithin(radius);
    const loose = whatCanMove(part, free, axes);
    if (driven.every((e) => loose[e] || Math.abs(target[e]! - start[e]!) < MISS)) sets.push(free);
  }
  sets.push(freeWithin(furthest));
  return sets;
}

const creasesOf = (loop: Loop): number[] => Array.from(loop.halfEdges, (h) => h >> 1);

/** Shares of the straight way at which closure is looked at. */
const SHARES = [0.25, 0.5, 0.75, 1];

/** 1 for each loop that does not close while the driven creases go straight to their targets and others stay. */
function openLoops(part: TiedPart, driven: readonly number[], { sheet, start, target }: Asked): Uint8Array {
  const system = new ClosureSystem(sheet, new Uint8Array(start.length), part.loops);
  const open = new Uint8Array(part.loops.length);
  const pose = start.slice();
  for (const share of SHARES) {
    for (const e of driven) pose[e] = start[e]! + share * (target[e]! - start[e]!);
    system.evaluate(pose);
    system.loopClosures().forEach(({ rotation, gap }, l) => {
      if (Math.max(rotation, gap) > CLOSED) open[l] = 1;
    });
  }
  return open;
}

/** How far outward of an open loop each follower lies: 1 where all its loops are open. One entry per crease. */
function reachOfFollowers(part: TiedPart, followers: readonly number[], open: Uint8Array): Int32Array {
  const loopsOf = new Map<number, number[]>();
  part.loops.forEach((loop, l) => {
    for (const e of creasesOf(loop)) loopsOf.set(e, [...(loopsOf.get(e) ?? []), l]);
  });
  const away = new Int32Array(part.loops.length).fill(-1);
  // where every loop closes, the driven creases move alone or anything may have to
  let rim = [...away.keys()].filter((l) => open[l] || !open.includes(1));
  for (const l of rim) away[l] = 0;
  const tied = new Set(part.creases);
  while (rim.length > 0) {
    const next = rim.flatMap((l) => {
      const beside = creasesOf(part.loops[l]!).flatMap((e) => (tied.has(e) ? loopsOf.get(e)! : []));
      return beside.filter((other) => {
        if (away[other] !== -1) return false;
        away[other] = away[l]! + 1;
        return true;
      });
    });
    rim = next;
  }
  const reach = new Int32Array(tied.size > 0 ? Math.max(...tied) + 1 : 0);
  for (const e of followers) reach[e] = 1 + Math.max(...(loopsOf.get(e) ?? []).map((l) => away[l]!));
  return reach;
}

/** Direction of each crease of each loop as folded at the start, seen from the loop's first panel. */
function foldedAxes(part: TiedPart, { sheet, start }: Asked): readonly (readonly number[])[][] {
  const all = new Uint8Array(start.length).fill(1);
  const system = new ClosureSystem(sheet, all, part.loops);
  system.evaluate(start);
  return part.loops.map((_, l) => system.axesOfLoop(l));
}

/**
 * Of the free creases those that closure lets move at all: no loop turns about one crease alone, nor about two that
 * are not in line. 1 per crease; each crease that is stuck may make others so.
 */
function whatCanMove(part: TiedPart, free: Uint8Array, axes: readonly (readonly number[])[][]): Uint8Array {
  const loose = free.slice();
  for (let stuck = true; stuck; ) {
    stuck = false;
    part.loops.forEach((loop, l) => {
      const places = [...loop.halfEdges.keys()].filter((i) => loose[loop.halfEdges[i]! >> 1]);
      const [a, b] = places;
      const holds =
        places.length === 1 ||
        (places.length === 2 && loop.kind === 'vertex' && !inLine(axes[l]![a!]!, axes[l]![b!]!));
      if (!holds) return;
      for (const i of places) loose[loop.halfEdges[i]! >> 1] = 0;
      stuck = true;
    });
  }
  return loose;
}

function inLine(a: readonly number[], b: readonly number[]): boolean {
  const cross = [a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!];
  return Math.hypot(...cross) < COLLINEAR;
}
