/** How far from what a step forces open each crease lies that only follows. */
import { Groups } from '../numeric/plane.ts';
import { type Axes, inLine } from './in-line.ts';
import { creasesOf, type TiedPart } from './parts.ts';

/** How far out each follower lies, 0 for other creases: 1 where all the loops in which its run ends are open. */
export function reachOf(
  part: TiedPart,
  followers: readonly number[],
  open: Uint8Array,
  axes: Axes,
): Int32Array {
  const reach = new Int32Array(part.creases.at(-1)! + 1);
  const away = stepsAway(part, open);
  const { runs, ends, passed } = runsOf(part, new Set(followers), open, axes);
  const ending = new Set(ends.map(({ crease }) => runs.find(crease)));
  // a run without ends has no need to move, and counts by the corners on it
  const counted = [...ends, ...passed.filter(({ crease }) => !ending.has(runs.find(crease)))];
  for (const { crease, loop } of counted) {
    const run = runs.find(crease);
    reach[run] = Math.max(reach[run]!, 1 + away[loop]!);
  }
  for (const crease of followers) reach[crease] = reach[runs.find(crease)]!;
  return reach;
}

/**
 * Followers joined where they run straight on through a corner that closes: such a run can move as one, and nothing
 * beside it has to. With the loops in which runs end, and those that they pass.
 */
function runsOf(part: TiedPart, follows: ReadonlySet<number>, open: Uint8Array, axes: Axes) {
  const runs = new Groups(part.creases.at(-1)! + 1);
  const ends: { crease: number; loop: number }[] = [];
  const passed: { crease: number; loop: number }[] = [];
  part.loops.forEach(({ kind, halfEdges }, loop) => {
    const own = [...halfEdges.keys()].filter((i) => follows.has(halfEdges[i]! >> 1));
    for (const i of own) {
      const crease = halfEdges[i]! >> 1;
      const isOn = (j: number) => j !== i && inLine(axes[loop]![i]!, axes[loop]![j]!) !== 0;
      const on = kind === 'hole' || open[loop] ? undefined : own.find(isOn);
      (on === undefined ? ends : passed).push({ crease, loop });
      if (on !== undefined) runs.join(crease, halfEdges[on]! >> 1);
    }
  });
  return { runs, ends, passed };
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
