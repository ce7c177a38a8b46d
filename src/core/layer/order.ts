/**
 * Layer orders of a pose: which panel lies over which, wherever panels of one plane overlap. All conditions of a
 * non-crossing folded state are set up (crease direction, transitivity where panels really overlap together, strands
 * at every line) and solved exactly.
 */

import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Asked } from './asked.ts';
import { cornerConflict } from './corners.ts';
import { type LayerConflict, type LayerCount, type LayerOrder, LayerProblem } from './problem.ts';
import { OutOfTime } from './search.ts';

export type { AskedOrder } from './asked.ts';

export interface LayerAnswer extends LayerCount {
  /** Is there a state? `gave-up`: not known in the time given. */
  readonly answer: 'yes' | 'no' | 'gave-up';
  /** One state; empty where there is none. */
  readonly order: LayerOrder;
  /** Most layers at any point. */
  readonly deepest: number;
  /** Where there is no state: conditions that cannot hold together, as few as were found. */
  readonly conflicts: readonly LayerConflict[];
}

interface LayerOptions {
  readonly asked?: readonly Asked[];
  /** Gives up counting when this says so; the count is then "at least". */
  readonly outOfTime?: () => boolean;
}

/**
 * All that is said of a pose at once: one state, the count, the conflict; where time runs out before the first state,
 * "at least 0". Panels are taken as exactly where they are; see contact/at-rest.ts for paper that gives. See
 * LayerProblem for each question by itself.
 */
export function layerOrders(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  { asked = [], outOfTime = () => false }: LayerOptions = {},
): LayerAnswer {
  const corner = cornerConflict(sheet, angle);
  if (corner) return noStates(corner, 0);
  try {
    const problem = new LayerProblem(sheet, angle, placement, outOfTime);
    return answerOf(problem, asked, () => outOfTime);
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return gaveUp(0);
  }
}

/** The same of a problem that is set up; each question has a clock of its own. */
export function answerOf(
  problem: LayerProblem,
  asked: readonly Asked[],
  startClock: () => () => boolean,
): LayerAnswer {
  const { deepest } = problem;
  try {
    const order = problem.first(asked, startClock());
    if (!order) return noStates(problem.conflict(asked, startClock()), deepest);
    return { answer: 'yes', ...problem.count(asked, startClock()), deepest, order, conflicts: [] };
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return gaveUp(deepest);
  }
}

export const noStates = (conflict: LayerConflict | null, deepest: number): LayerAnswer => ({
  ...{ answer: 'no', states: 0n, exact: true, deepest, order: [] },
  conflicts: conflict ? [conflict] : [],
});

export const gaveUp = (deepest: number): LayerAnswer => ({
  ...{ answer: 'gave-up', states: 0n, exact: false, deepest, order: [], conflicts: [] },
});
