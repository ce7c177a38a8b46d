/** Conditions of the panels themselves: which way creases folded flat go, and no circles among three panels. */
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { not, type Overlaps } from './overlaps.ts';
import type { Planes } from './planes.ts';
import type { Condition, LinePiece } from './strands.ts';

/** Creases within this of a half turn (radians) count as folded flat; what stands open by more leaves the plane. */
const HALF_TURN = 1e-6;

/** A valley folded flat has its lower layer's upper side inside: the panel whose side up looks up is below. */
export function creaseDirections(
  sheet: Sheet,
  angle: Float64Array,
  planes: Planes,
  overlaps: Overlaps,
  pieces: readonly LinePiece[],
): Condition[] {
  const conditions: Condition[] = [];
  for (const { sides } of pieces)
    for (const { group, left, right, boundary } of sides)
      for (const h of boundary) {
        const e = h >> 1;
        if ((h & 1) === 1 || !boundary.includes(h ^ 1) || sheet.creaseKind[e] === KIND.unassigned) continue;
        const [p, q] = [sheet.halfEdgePanel[h]!, sheet.halfEdgePanel[h ^ 1]!];
        if (q === NONE || Math.PI - Math.abs(angle[e]!) > HALF_TURN) continue;
        const { cover } = planes.groups[group]!;
        const cell = cover[left]!.includes(p) ? left : right;
        if (!cover[cell]!.includes(q)) continue;
        const lower = planes.up[p]! > 0 === angle[e]! > 0 ? p : q;
        conditions.push({
          kind: 'true',
          of: [overlaps.above(group, cell, lower, lower === p ? q : p)],
          origin: { panels: [p, q], creases: [e] },
        });
      }
  return conditions;
}

/** Of three panels that lie together over a place, none lies over itself by way of the others. */
export function transitivity(planes: Planes, overlaps: Overlaps): Condition[] {
  const conditions: Condition[] = [];
  const known = new Set<string>();
  planes.groups.forEach(({ cover }, group) => {
    cover.forEach((panels, cell) => {
      for (let i = 0; i < panels.length; i++)
        for (let j = i + 1; j < panels.length; j++)
          for (let k = j + 1; k < panels.length; k++) {
            const [a, b, c] = [panels[i]!, panels[j]!, panels[k]!];
            const ab = overlaps.above(group, cell, a, b);
            const bc = overlaps.above(group, cell, b, c);
            const ac = overlaps.above(group, cell, a, c);
            const key = `${ab},${bc},${ac}`;
            if (known.has(key)) continue;
            known.add(key);
            conditions.push({
              kind: 'mixed',
              of: [ab, bc, not(ac)],
              origin: { panels: [a, b, c], creases: [] },
            });
          }
    });
  });
  return conditions;
}
