/** Conditions of the panels themselves: which way creases folded flat go, and no circles among three panels. */
import { FOLDED_FLAT } from '../numeric/tolerance.ts';
import { KIND } from '../sheet/kind.ts';
import { originOf } from '../sheet/rings.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import type { ConditionTable, EachMixed } from './condition-table.ts';
import { type Overlaps, placeIn } from './overlaps.ts';
import type { PlaneGroup, Planes } from './planes.ts';
import type { LinePiece } from './strands.ts';

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
        if (q === NONE || Math.PI - Math.abs(angle[e]!) > FOLDED_FLAT || !boundary.includes(h ^ 1)) continue;
        const { cover } = planes.groups[group]!;
        const cell = placeIn(cover[left]!, p) >= 0 ? left : right;
        if (placeIn(cover[cell]!, q) < 0) continue;
        const lower = planes.up[p]! > 0 === angle[e]! > 0 ? p : q;
        table.addTrue(overlaps.above(group, cell, lower, lower === p ? q : p), e, NONE);
        known.add(e);
      }
}

/**
 * Of three panels that lie together over a place, none lies over itself by way of the others. Gives the conditions of
 * all such threes; a three that goes on from one cell to the next is given once, but may come again elsewhere.
 */
export function eachTransitivity(planes: Planes, overlaps: Overlaps, tick: () => void): EachMixed {
  return (visit) =>
    planes.groups.forEach((group, g) => {
      for (const { cell, before } of cellsInTurn(group)) {
        const panels = group.cover[cell]!;
        // a bit for each way from a neighbour that had its turn on which the panel goes on
        const shared = panels.map((panel) =>
          before.reduce(
            (bits, { other, cut }, k) =>
              bits | (placeIn(group.cover[other]!, panel) < 0 || cut?.includes(panel) ? 0 : 1 << k),
            0,
          ),
        );
        for (let i = 0; i < panels.length; i++)
          for (let j = i + 1; j < panels.length; j++) {
            tick();
            const ij = overlaps.aboveAt(g, cell, i, j);
            const both = shared[i]! & shared[j]!;
            for (let k = j + 1; k < panels.length; k++)
              if ((both & shared[k]!) === 0)
                visit(ij, overlaps.aboveAt(g, cell, j, k), overlaps.aboveAt(g, cell, i, k) ^ 1);
          }
      }
    });
}

/**
 * Cells as a line askew sweeps over them, each with (up to 31) ways to it from neighbours that came before it, and the
 * panels that are cut on that way. Of cells met at one corner that which shares most panels with a neighbour before it comes first. Panels are mostly convex, and of
 * what three of them share the sweep then meets one cell before all others.
 */
function* cellsInTurn({ net, faces, cover, cuts }: PlaneGroup): Generator<{ cell: number; before: Way[] }> {
  const { faceCount, face } = faces;
  const beside: Map<number, Way>[] = Array.from({ length: faceCount }, () => new Map());
  const met = new Float64Array(faceCount).fill(Number.POSITIVE_INFINITY);
  for (let h = 0; h < 2 * net.from.length; h++) {
    const v = originOf(net, h);
    const [other, cut] = [face[h ^ 1]!, cuts.get(h >> 1)];
    // a way that cuts nothing serves for all lines between two cells; ways that cut are told apart by their line
    beside[face[h]!]!.set(cut ? -1 - (h >> 1) : other, { other, cut });
    met[face[h]!] = Math.min(met[face[h]!]!, net.x[v]! * SWEEP.x + net.y[v]! * SWEEP.y);
  }
  const order = Array.from({ length: faceCount }, (_, cell) => cell).sort((a, b) => met[a]! - met[b]!);
  /** Most panels shared with a neighbour that came before. */
  const shares = new Int32Array(faceCount);
  const done = new Uint8Array(faceCount);
  for (let k = 0; k < faceCount; k++) {
    let next = k;
    for (let j = k + 1; j < faceCount && met[order[j]!] === met[order[k]!]; j++)
      if (shares[order[j]!]! > shares[order[next]!]!) next = j;
    const cell = order[next]!;
    order[next] = order[k]!;
    const ways = [...beside[cell]!.values()];
    const before = ways.filter(({ other }) => done[other] === 1 && cover[other]!.length > 2);
    yield { cell, before: before.slice(0, 31) };
    done[cell] = 1;
    for (const { other } of ways)
      if (done[other] === 0)
        shares[other] = Math.max(shares[other]!, sharedCount(cover[cell]!, cover[other]!));
  }
}

/** A way to a cell from a neighbour, across one line. */
interface Way {
  readonly other: number;
  readonly cut: readonly number[] | undefined;
}

function sharedCount(panels: readonly number[], others: readonly number[]): number {
  return panels.reduce((count, panel) => count + (placeIn(others, panel) < 0 ? 0 : 1), 0);
}

/** A direction that no line of a drawing is likely to be square to. */
const SWEEP = { x: Math.cos(0.7317), y: Math.sin(0.7317) };
