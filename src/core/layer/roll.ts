/**
 * Layer orders carried from step to step. Panels that stay in contact keep their order; new contacts are laid as the
 * motion brings them, or as the teacher asks; what is still open then is a choice.
 */
import type { Asked, OrderedPair } from './asked.ts';
import type { LayerConflict, LayerOrder, LayerProblem } from './problem.ts';
import { OutOfTime } from './search.ts';

/** At most so many stackings are shown to choose from. */
export const mostChoices = 24;

/** Says when to give up. */
type TimeIsUp = () => boolean;
/** Starts a clock; each question gets its own. */
export type StartClock = (question?: 'layers' | 'contact') => TimeIsUp;

export interface RolledLayers {
  /** Is there an order? `gave-up`: time ran out before one was found, or before it was known that there is none. */
  readonly answer: 'yes' | 'no' | 'gave-up';
  /** How many orders are possible after all that was kept, told and asked; "at least" when not `exact`. */
  readonly states: bigint;
  readonly exact: boolean;
  /** The order taken: one that agrees with the motion, if any does. Empty where there is none. */
  readonly order: LayerOrder;
  /** What is known of the pairs whatever the answer: the order taken; else what was kept and what the motion told. */
  readonly known: LayerOrder;
  /** All possible orders, the one taken first; at most `mostChoices` of them. */
  readonly choices: readonly LayerOrder[];
  readonly deepest: number;
  /** Pairs that kept their order from before. */
  readonly kept: number;
  /** The order taken agrees with the motion wherever that tells, and is the only one that does. */
  readonly motionTells: boolean;
  /** No order agrees with the sides on which the motion brings panels together. */
  readonly motionDisagrees: boolean;
  /** Why there is no order. */
  readonly conflict: LayerConflict | null;
}

interface Rolling {
  /** Order at the start of the step. */
  readonly before: LayerOrder;
  /** Pairs that lay on each other all along the step. */
  readonly stayed: readonly (readonly [number, number])[];
  /** Sides on which the motion brings pairs together, 0 where it does not tell. */
  readonly motion: readonly (readonly [number, number, 1 | -1 | 0])[];
  /**
   * true: new contacts lie as the motion lays them. false (a tuck): they only come first among the choices, since a
   * hand slips one layer under another where stiff panels cannot.
   */
  readonly motionBinds: boolean;
  /** Orders asked for by the teacher. */
  readonly asked: readonly Asked[];
}

/** The layer order at the end of a step. @param problem of the pose there, which closes */
export function rollForward(problem: LayerProblem, rolling: Rolling, startClock: StartClock): RolledLayers {
  const wishes = wishesOf(problem, rolling);
  const { kept, told, must, withMotion } = wishes;
  const nothing = {
    ...{ states: 0n, exact: true, order: [], choices: [], known: [...kept, ...told] },
    ...{ deepest: problem.deepest, kept: kept.length, motionTells: false, motionDisagrees: false },
    conflict: null,
  };
  try {
    const agrees = problem.first(withMotion, startClock());
    const order = agrees ?? problem.first(must, startClock());
    if (!order) {
      const conflict = problem.conflict(must, startClock());
      return { ...nothing, answer: 'no', conflict };
    }
    const binds = rolling.motionBinds && agrees !== null;
    const given = binds ? withMotion : must;
    const choices = choicesOf(problem, given, order, startClock());
    const motionTells =
      agrees !== null && (binds ? choices.length === 1 : isOnly(problem, withMotion, startClock()));
    const { states, exact } = problem.count(given, startClock());
    const answer = { order, known: order, choices, states, exact, motionTells, motionDisagrees: !agrees };
    return { ...nothing, answer: 'yes', ...answer };
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return { ...nothing, answer: 'gave-up', exact: false };
  }
}

/** What has to hold, by whom it is wished. */
function wishesOf(problem: LayerProblem, { before, stayed, motion, asked }: Rolling) {
  const met = new Set(problem.overlaps.list.map(({ first, second }) => pairKey(first, second)));
  const together = new Set(stayed.map(([f, g]) => pairKey(f, g)));
  const kept = before.filter(([f, g]) => together.has(pairKey(f, g)) && met.has(pairKey(f, g)));
  const told = motion.filter((one): one is OrderedPair => one[2] !== 0 && met.has(pairKey(one[0], one[1])));
  const must: readonly Asked[] = [{ keep: kept }, ...asked];
  const withMotion: readonly Asked[] = [...must, { keep: told, weak: true }];
  return { kept, told, must, withMotion };
}

const pairKey = (f: number, g: number) => `${Math.min(f, g)},${Math.max(f, g)}`;

/** Is there no second order? Not, where time is up before that is known. */
function isOnly(problem: LayerProblem, given: readonly Asked[], timeIsUp: TimeIsUp): boolean {
  const { states, exact } = problem.count(given, timeIsUp);
  return exact && states === 1n;
}

/** Found before orders are counted: the count may take all its time. Where time is up, those found until then. */
function choicesOf(
  problem: LayerProblem,
  given: readonly Asked[],
  first: LayerOrder,
  timeIsUp: TimeIsUp,
): LayerOrder[] {
  const choices = [first];
  try {
    for (const order of problem.states(given, timeIsUp)) {
      if (order.some(([, , side], k) => side !== first[k]![2])) choices.push(order);
      if (choices.length >= mostChoices || timeIsUp()) break;
    }
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
  }
  return choices;
}
