/** Which creases cannot move at all while others are held, told without solving for a pose. */
import { type Asked, type Axes, inLine } from './in-line.ts';
import { rangeFrom } from './moving.ts';
import type { TiedPart } from './parts.ts';

/**
 * Of the free creases those that closure lets move: where up to three are free in a corner, panels between them make a
 * spherical triangle, which is stiff, so that only two in line can turn, together; a hole does not turn about one.
 * @returns 1 per crease; each that is stuck may make others so
 */
export function whatCanMove(part: TiedPart, free: Uint8Array, axes: Axes, asked: Asked): Uint8Array {
  const loose = free.slice();
  for (let before = -1, stuck = 0; before !== stuck; ) {
    before = stuck;
    part.loops.forEach(({ kind, halfEdges }, l) => {
      const places = [...halfEdges.keys()].filter((i) => loose[halfEdges[i]! >> 1]);
      if (places.length > (kind === 'hole' ? 1 : 3)) return;
      const turns = (i: number, j: number) =>
        turnTogether(halfEdges[i]! >> 1, halfEdges[j]! >> 1, inLine(axes[l]![i]!, axes[l]![j]!), asked);
      for (const i of places) {
        if (places.some((j) => j !== i && turns(i, j))) continue;
        loose[halfEdges[i]! >> 1] = 0;
        stuck++;
      }
    });
  }
  return loose;
}

/** Do the ranges of two creases leave them room to turn by the same angle (sense 1), or by opposite ones (-1)? */
function turnTogether(a: number, b: number, sense: -1 | 0 | 1, asked: Asked): boolean {
  if (sense === 0) return false;
  const [downA, upA] = room(a, asked);
  const [downB, upB] = sense === 1 ? room(b, asked) : room(b, asked).toReversed();
  return (downA! && downB!) || (upA! && upB!);
}

/** Has the crease room below and above where it starts? */
function room(crease: number, { sheet, start, free, bothWays }: Asked): boolean[] {
  const unbound = free || bothWays?.[crease] === 1;
  const [lower, upper] = rangeFrom(start[crease]!, sheet.creaseKind[crease]!, unbound);
  return [start[crease]! > lower, start[crease]! < upper];
}
