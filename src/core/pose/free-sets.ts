/** Of a tied part as few creases as possible are let go: which sets to try, one after the other. */
import { Groups } from '../numeric/plane.ts';
import { CLOSED, COLLINEAR, MISS } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { ClosureSystem } from './closure.ts';
import { creasesOf, type TiedPart } from './parts.ts';

/** A way from a pose to angles asked for; one entry per crease of the sheet, NaN in `target` for what follows. */
export interface Asked {
  readonly sheet: Sheet;
  readonly start: Float64Array;
  readonly target: Float64Array;
}

type Axes = readonly (readonly (readonly number[])[])[];

/**
 * The first set holds the driven creases alone. Where a corner or hole does not close so along the straight way to the
 * targets, creases that follow are let go round it, and from there outward, the reach doubled each time, until the
 * whole part is free. Sets in which closure leaves a driven crease no motion are left out.
 * @returns 1 per crease of the sheet that is free, smallest set first
 */
export function setsToFree(part: TiedPart, asked: Asked): readonly Uint8Array[] {
  const { start, target } = asked;
  const driven = part.creases.filter((e) => !Number.isNaN(target[e]!));
  const followers = part.creases.filter((e) => Number.isNaN(target[e]!));
  const freeWithin = (reach: Int32Array, radius: number) => {
    const free = new Uint8Array(start.length);
    for (const e of part.creases) if (reach[e]! <= radius) free[e] = 1;
    return free;
  };
  if (followers.length === 0) return [freeWithin(new Int32Array(start.length), 0)];
  const axes = foldedAxes(part, asked);
  const reach = reachOf(part, followers, openLoops(part, driven, asked), axes);
  const furthest = followers.reduce((most, e) => Math.max(most, reach[e]!), 0);
  const sets: Uint8Array[] = [];
  for (let radius = 0; radius < furthest; radius = Math.max(1, 2 * radius)) {
    const free = freeWithin(reach, radius);
    const loose = whatCanMove(part, free, axes);
    if (driven.every((e) => loose[e] || Math.abs(target[e]! - start[e]!) < MISS)) sets.push(free);
  }
  return [...sets, freeWithin(reach, furthest)];
}

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

/**
 * How far out each follower lies, 0 for other creases: 1 where all the loops in which it ends are open. A follower that
 * runs straight on through a corner that closes does not end there: its run can move as one, and nothing beside it has
 * to. A run without ends has no need to move, and counts by the corners on it.
 */
function reachOf(part: TiedPart, followers: readonly number[], open: Uint8Array, axes: Axes): Int32Array {
  const away = stepsAway(part, open);
  const follows = new Set(followers);
  const runs = new Groups(part.creases.at(-1)! + 1);
  const ends: { crease: number; loop: number }[] = [];
  const passed: { crease: number; loop: number }[] = [];
  part.loops.forEach(({ kind, halfEdges }, loop) => {
    const own = [...halfEdges.keys()].filter((i) => follows.has(halfEdges[i]! >> 1));
    for (const i of own) {
      const crease = halfEdges[i]! >> 1;
      const isOn = (j: number) => j !== i && inLine(axes[loop]![i]!, axes[loop]![j]!);
      const on = kind === 'hole' || open[loop] ? undefined : own.find(isOn);
      (on === undefined ? ends : passed).push({ crease, loop });
      if (on !== undefined) runs.join(crease, halfEdges[on]! >> 1);
    }
  });
  const ofRun = new Map<number, number>();
  const hasEnds = new Set(ends.map(({ crease }) => runs.find(crease)));
  for (const { crease, loop } of [...ends, ...passed.filter((one) => !hasEnds.has(runs.find(one.crease)))]) {
    const run = runs.find(crease);
    ofRun.set(run, Math.max(ofRun.get(run) ?? 0, 1 + away[loop]!));
  }
  const reach = new Int32Array(part.creases.at(-1)! + 1);
  for (const e of followers) reach[e] = ofRun.get(runs.find(e))!;
  return reach;
}

/** How many ties away from an open loop each loop of the part is; all are open where none is. */
function stepsAway(part: TiedPart, open: Uint8Array): Int32Array {
  const tied = new Set(part.creases);
  const loopsOf = new Map<number, number[]>(part.creases.map((e) => [e, []]));
  const tiedOf = part.loops.map((loop) => creasesOf(loop).filter((e) => tied.has(e)));
  tiedOf.forEach((creases, l) => {
    for (const e of creases) loopsOf.get(e)!.push(l);
  });
  const away = new Int32Array(part.loops.length).fill(-1);
  const queue = [...away.keys()].filter((l) => open[l] || !open.includes(1));
  for (const l of queue) away[l] = 0;
  for (const l of queue)
    for (const other of tiedOf[l]!.flatMap((e) => loopsOf.get(e)!)) {
      if (away[other] !== -1) continue;
      away[other] = away[l]! + 1;
      queue.push(other);
    }
  return away;
}

/** Direction of each crease of each loop as folded at the start, seen from the loop's first panel. */
function foldedAxes(part: TiedPart, { sheet, start }: Asked): Axes {
  const all = new Uint8Array(start.length).fill(1);
  const system = new ClosureSystem(sheet, all, part.loops);
  system.evaluate(start);
  return part.loops.map((_, l) => system.axesOfLoop(l));
}

/**
 * Of the free creases those that closure lets move at all: no loop turns about one crease alone, nor about two that
 * are not in line. 1 per crease; each crease that is stuck may make others so.
 */
function whatCanMove(part: TiedPart, free: Uint8Array, axes: Axes): Uint8Array {
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
