/** Of a tied part as few creases as possible are let go: which sets to try, one after the other. */
import { CLOSED, MISS } from '../numeric/tolerance.ts';
import { ClosureSystem } from './closure.ts';
import { type Asked, foldedAxes } from './in-line.ts';
import type { TiedPart } from './parts.ts';
import { reachOf } from './reach.ts';
import { whatCanMove } from './stuck.ts';

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
    const loose = whatCanMove(part, free, axes, asked);
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
