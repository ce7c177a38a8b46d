/**
 * Layer orders of a pose: which panel lies over which, wherever panels of one plane overlap. All conditions of a
 * non-crossing folded state are set up (crease direction, transitivity where panels really overlap together, strands
 * at every line) and solved exactly.
 */

import type { Placement } from '../pose/place.ts';
import { KIND } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { not, Overlaps } from './overlaps.ts';
import { linePieces } from './pieces.ts';
import { groupByPlane, type Planes } from './planes.ts';
import { countStates, hasState } from './solver.ts';
import { type Condition, conditionsAt, type LinePiece, type Origin } from './strands.ts';

/** Asked: `over` lies above `under`, seen from the side up of `under` at the start. */
export interface AskedOrder {
  readonly over: number;
  readonly under: number;
}

export interface LayerAnswer {
  /** How many states there are, or at least how many when not `exact`. */
  readonly states: bigint;
  readonly exact: boolean;
  /**
   * One state: [f, g, 1] panel f lies on the side of g that faced up at the start, -1 on the other side. Every pair
   * that overlaps, once for each area where it does.
   */
  readonly order: readonly (readonly [number, number, 1 | -1])[];
  /** Most layers at any point. */
  readonly deepest: number;
  /** Where there is no state: conditions that cannot hold together, as few as were found. */
  readonly conflicts: readonly { panels: number[]; creases: number[]; message: string }[];
}

export interface LayerOptions {
  readonly asked?: readonly AskedOrder[];
  /** Gives up counting when this says so; the count is then "at least". */
  readonly outOfTime?: () => boolean;
}

/**
 * @param angle fold angle per crease, radians; a pose that closes. The sign of a half turn of an unassigned crease
 * does not count: it may go either way.
 * @param placement the same pose, placed
 */
export function layerOrders(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  options: LayerOptions = {},
): LayerAnswer {
  const planes = groupByPlane(sheet, placement);
  const overlaps = new Overlaps(planes, sheet.panelRings.length);
  const pieces = linePieces(planes);
  const conditions = [
    ...creaseDirections(sheet, angle, planes, overlaps, pieces),
    ...transitivity(planes, overlaps),
    ...pieces.flatMap((piece) => conditionsAt(sheet, planes, overlaps, piece)),
    ...asked(planes, overlaps, options.asked ?? []),
  ];
  const outOfTime = options.outOfTime ?? (() => false);
  const { states, exact, first } = countStates(overlaps.list.length, conditions, outOfTime);
  const deepest = Math.max(0, ...planes.groups.flatMap(({ cover }) => cover.map((panels) => panels.length)));
  return {
    states,
    exact,
    deepest,
    order: first ? orderOf(planes, overlaps, first) : [],
    conflicts: first ? [] : describeConflict(overlaps.list.length, conditions),
  };
}

/** A valley folded flat has its lower layer's upper side inside: the panel whose side up looks up is below. */
function creaseDirections(
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

/** Creases within this of a half turn (radians) count as folded flat; what stands open by more leaves the plane. */
const HALF_TURN = 1e-6;

function transitivity(planes: Planes, overlaps: Overlaps): Condition[] {
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

/** Asked orders hold wherever the two panels overlap. */
function asked(planes: Planes, overlaps: Overlaps, orders: readonly AskedOrder[]): Condition[] {
  return orders.flatMap(({ over, under }) => {
    const own = overlaps.list.flatMap((overlap, unknown) =>
      overlap.first === Math.min(over, under) && overlap.second === Math.max(over, under) ? [unknown] : [],
    );
    return own.map((unknown): Condition => {
      const overIsAbove = planes.up[under]! > 0;
      const secondIsAbove = over > under === overIsAbove;
      return {
        kind: 'true',
        of: [2 * unknown + (secondIsAbove ? 0 : 1)],
        origin: { panels: [over, under], creases: [] },
      };
    });
  });
}

function orderOf(planes: Planes, overlaps: Overlaps, state: Uint8Array): [number, number, 1 | -1][] {
  return overlaps.list.map(({ first, second }, unknown) => {
    const secondAbove = state[unknown] === 1;
    const firstOnNormalSide = !secondAbove;
    return [first, second, firstOnNormalSide === planes.up[second]! > 0 ? 1 : -1];
  });
}

/** Leaves out conditions as long as what is left still contradicts itself: by halves, then one by one. */
function describeConflict(unknowns: number, conditions: readonly Condition[]) {
  let left = [...conditions];
  for (let size = Math.ceil(left.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2))
    for (let k = 0; k < left.length; ) {
      const fewer = [...left.slice(0, k), ...left.slice(k + size)];
      if (fewer.length < left.length && !hasState(unknowns, fewer)) left = fewer;
      else k += size;
    }
  const all: Origin = {
    panels: [...new Set(left.flatMap(({ origin }) => origin.panels))].sort((a, b) => a - b),
    creases: [...new Set(left.flatMap(({ origin }) => origin.creases))].sort((a, b) => a - b),
  };
  const creases = all.creases.length > 0 ? ` at creases ${all.creases.join(', ')}` : '';
  const message = `Panels ${all.panels.join(', ')} cannot be stacked without paper passing through paper${creases}: change the way one of these creases folds.`;
  return [{ panels: [...all.panels], creases: [...all.creases], message }];
}
