/**
 * Layer orders carried from step to step. Panels that stay in contact keep their order; new contacts are laid as the
 * motion brings them, or as the teacher asks; what is still open then is a choice.
 */
import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Asked, OrderedPair } from './asked.ts';
import { type LayerConflict, type LayerOrder, LayerProblem } from './problem.ts';

/** At most so many stackings are shown to choose from. */
export const mostChoices = 24;

export interface RolledLayers {
  /** How many orders are possible after all that was kept, told and asked; "at least" when not `exact`. */
  readonly states: bigint;
  readonly exact: boolean;
  /** The order taken: one that agrees with the motion, if any does. Empty where there is none. */
  readonly order: LayerOrder;
  /** All possible orders, the one taken first; at most `mostChoices` of them. */
  readonly choices: readonly LayerOrder[];
  readonly deepest: number;
  /** Pairs that kept their order from before. */
  readonly kept: number;
  /** The motion says where every new contact lies, and the order taken agrees. */
  readonly motionTells: boolean;
  /** No order agrees with the sides on which the motion brings panels together. */
  readonly motionDisagrees: boolean;
  /** Why there is no order. */
  readonly conflict: LayerConflict | null;
}

export interface Rolling {
  /** Order at the start of the step. */
  readonly before: LayerOrder;
  /** The pose at the end, placed. */
  readonly placement: Placement;
  /** Sides on which the motion brings pairs together, 0 where it does not tell. */
  /** Pairs that lay on each other all along the step. */
  readonly stayed: readonly (readonly [number, number])[];
  readonly motion: readonly (readonly [number, number, 1 | -1 | 0])[];
  /**
   * true: new contacts lie as the motion lays them. false (a tuck): they only come first among the choices, since a
   * hand slips one layer under another where stiff panels cannot.
   */
  readonly motionBinds: boolean;
  /** Orders asked for by the teacher. */
  readonly asked: LayerOrder;
  readonly outOfTime: () => boolean;
}

/** The layer order at the end of a step. @param angle the pose there, which closes */
export function rollForward(sheet: Sheet, angle: Float64Array, rolling: Rolling): RolledLayers {
  const { placement, asked, outOfTime } = rolling;
  const problem = new LayerProblem(sheet, angle, placement);
  const met = pairsMet(problem);
  const stayed = new Set(rolling.stayed.map(([f, g]) => pairKey(f, g)));
  const kept = rolling.before.filter(([f, g]) => stayed.has(pairKey(f, g)) && met.has(pairKey(f, g)));
  const wished = asked.filter(([f, g]) => met.has(pairKey(f, g)));
  const told = rolling.motion.filter(
    (one): one is OrderedPair => one[2] !== 0 && met.has(pairKey(one[0], one[1])),
  );
  const must: Asked[] = [{ keep: kept }, { keep: wished }];
  const withMotion: Asked[] = [...must, { keep: told.filter((one) => !settled(wished, one)) }];
  const agrees = told.length > 0 ? problem.first(withMotion) : null;
  const motionDisagrees = told.length > 0 && agrees === null && problem.first(must) !== null;
  const given = rolling.motionBinds && agrees ? withMotion : must;
  const order = agrees ?? problem.first(given);
  const motionTells = agrees !== null && problem.count(withMotion, outOfTime).states === 1n;
  const rest = { deepest: problem.deepest, kept: kept.length, motionTells, motionDisagrees };
  if (!order) {
    const conflict = problem.conflict(given, outOfTime);
    return { states: 0n, exact: true, order: [], choices: [], conflict, ...rest };
  }
  const { states, exact } = problem.count(given, outOfTime);
  return {
    states,
    exact,
    order,
    choices: choicesOf(problem, given, order, outOfTime),
    conflict: null,
    ...rest,
  };
}

const pairKey = (f: number, g: number) => `${Math.min(f, g)},${Math.max(f, g)}`;

const settled = (orders: LayerOrder, [f, g]: readonly [number, number, number]) =>
  orders.some(([p, q]) => pairKey(p, q) === pairKey(f, g));

function pairsMet(problem: LayerProblem): Set<string> {
  return new Set(problem.overlaps.list.map(({ first, second }) => pairKey(first, second)));
}

function choicesOf(
  problem: LayerProblem,
  given: readonly Asked[],
  first: LayerOrder,
  outOfTime: () => boolean,
): LayerOrder[] {
  const choices = [first];
  for (const order of problem.states(given)) {
    if (choices.length >= mostChoices || outOfTime()) break;
    if (order.some(([, , side], k) => side !== first[k]![2])) choices.push(order);
  }
  return choices;
}
