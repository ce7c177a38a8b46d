/** Conditions of the panels themselves: which way creases folded flat go, and no circles among three panels. */
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import type { ConditionTable } from './condition-table.ts';
import { not, type Overlaps, placeIn } from './overlaps.ts';
import type { PlaneGroup, Planes } from './planes.ts';
import type { LinePiece } from './strands.ts';

/** Creases within this of a half turn (radians) count as folded flat; what stands open by more leaves the plane. */
const HALF_TURN = 1e-6;

/** A valley folded flat has its lower layer's upper side inside: the panel whose side up looks up is below. */
export function addCreaseDirections(
  table: ConditionTable,
  sheet: Sheet,
  angle: Float64Array,
  planes: Planes,
  overlaps: Overlaps,
  pieces: readonly LinePiece[],
): void {
  const known = new Set<number>();
  for (const { sides } of pieces)
    for (const { group, left, right, boundary } of sides)
      for (const h of boundary) {
        const e = h >> 1;
        if ((h & 1) === 1 || known.has(e) || sheet.creaseKind[e] === KIND.unassigned) continue;
        const [p, q] = [sheet.halfEdgePanel[h]!, sheet.halfEdgePanel[h ^ 1]!];
        if (q === NONE || Math.PI - Math.abs(angle[e]!) > HALF_TURN || !boundary.includes(h ^ 1)) continue;
        const { cover } = planes.groups[group]!;
        const cell = placeIn(cover[left]!, p) >= 0 ? left : right;
        if (placeIn(cover[cell]!, q) < 0) continue;
        const lower = planes.up[p]! > 0 === angle[e]! > 0 ? p : q;
        table.addTrue(overlaps.above(group, cell, lower, lower === p ? q : p), e, NONE);
        known.add(e);
      }
}

/** Of three panels that lie together over a place, none lies over itself by way of the others. */
export function addTransitivity(
  table: ConditionTable,
  planes: Planes,
  overlaps: Overlaps,
  tick: () => void,
): void {
  planes.groups.forEach((group, g) => {
    for (const { cell, from } of cellsInTurn(group)) {
      const panels = group.cover[cell]!;
      const before = group.cover[from]!;
      const isNew = panels.map((panel) => placeIn(before, panel) < 0);
      // three that lay together over the neighbour have had their condition there
      for (let i = 0; i < panels.length; i++) {
        tick();
        for (let j = i + 1; j < panels.length; j++) {
          const ij = overlaps.aboveAt(g, cell, i, j);
          const anyNew = isNew[i]! || isNew[j]!;
          for (let k = j + 1; k < panels.length; k++)
            if (anyNew || isNew[k]!)
              table.addMixed(ij, overlaps.aboveAt(g, cell, j, k), not(overlaps.aboveAt(g, cell, i, k)));
        }
      }
    }
  });
}

/** Cells from the outside inward, each with a neighbour that came before it. */
function* cellsInTurn({ net, faces }: PlaneGroup): Generator<{ cell: number; from: number }> {
  const beside: number[][] = Array.from({ length: faces.faceCount }, () => []);
  for (let h = 0; h < 2 * net.from.length; h++) beside[faces.face[h]!]!.push(faces.face[h ^ 1]!);
  const seen = new Set([faces.outside]);
  for (const from of seen)
    for (const cell of beside[from]!) {
      if (seen.has(cell)) continue;
      seen.add(cell);
      yield { cell, from };
    }
}
