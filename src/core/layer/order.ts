/**
 * Layer orders of a pose: which panel lies over which, wherever panels of one plane overlap. All conditions of a
 * non-crossing folded state are set up (crease direction, transitivity where panels really overlap together, strands
 * at every line) and solved exactly.
 */

import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Asked } from './asked.ts';
import { type LayerConflict, type LayerCount, type LayerOrder, LayerProblem } from './problem.ts';
import { OutOfTime } from './search.ts';

export type { Asked, AskedBetween, AskedKept, AskedOrder, OrderedPair } from './asked.ts';

export interface LayerAnswer extends LayerCount {
  /** One state; empty where there is none. */
  readonly order: LayerOrder;
  /** Most layers at any point. */
  readonly deepest: number;
  /** Where there is no state: conditions that cannot hold together, as few as were found. */
  readonly conflicts: readonly LayerConflict[];
}

export interface LayerOptions {
  readonly asked?: readonly Asked[];
  /** Gives up counting when this says so; the count is then "at least". */
  readonly outOfTime?: () => boolean;
}

/**
 * All that is said of a pose at once: one state, the count, the conflict; where time runs out before the first state,
 * "at least 0". See LayerProblem for each by itself.
 */
export function layerOrders(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  { asked = [], outOfTime = () => false }: LayerOptions = {},
): LayerAnswer {
  let deepest = 0;
  try {
    const problem = new LayerProblem(sheet, angle, placement, outOfTime);
    deepest = problem.deepest;
    const order = problem.first(asked, outOfTime);
    if (order) return { ...problem.count(asked, outOfTime), deepest, order, conflicts: [] };
    const conflict = problem.conflict(asked, outOfTime);
    return { states: 0n, exact: true, deepest, order: [], conflicts: conflict ? [conflict] : [] };
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return { states: 0n, exact: false, deepest, order: [], conflicts: [] };
  }
}
