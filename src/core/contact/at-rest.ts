/** What a pose of real paper is asked: what crosses in it, and whether its layers have an order. */

import { type Finding, finding } from '../finding/finding.ts';
import type { Asked } from '../layer/asked.ts';
import { cornerConflict } from '../layer/corners.ts';
import { answerOf, gaveUp, type LayerAnswer, noStates } from '../layer/order.ts';
import { namedAsFolded, pressedFlat } from '../layer/press.ts';
import { LayerProblem } from '../layer/problem.ts';
import type { StartClock } from '../layer/roll.ts';
import { OutOfTime } from '../layer/search.ts';
import { ROUNDING, TIGHT } from '../numeric/tolerance.ts';
import { type Placement, placePanels } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type Crossing, crossingsOfPose } from './crossings.ts';
import { describeContacts, type StepFacts } from './findings.ts';
import type { Contact } from './track.ts';

/** What a pose of real paper is asked: do its layers have an order, and what crosses in it. */
interface RestingAnswer extends LayerAnswer {
  /** Panels that cross in the pose as it is, however little. */
  readonly crossings: readonly Crossing[];
}

interface RestingOptions {
  readonly asked?: readonly Asked[];
  /** Starts a clock for each question, setting up included. */
  readonly startClock?: StartClock;
}

/** Asks both questions of one pose. @param angle radians per crease @param placement the same pose, placed */
export function askAtRest(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  { asked = [], startClock = () => () => false }: RestingOptions = {},
): RestingAnswer {
  const corner = cornerConflict(sheet, angle);
  if (corner) return { ...noStates(corner, 0), crossings: crossingsOfPose(sheet, placement) };
  try {
    const { problem, crossings } = restingPose(sheet, angle, placement, false, startClock());
    return { ...answerOf(problem, asked, startClock), crossings };
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return { ...gaveUp(0), crossings: crossingsOfPose(sheet, placement) };
  }
}

/** Crossings of a resting pose as contacts at the end of a way. */
export const contactsAtRest = (crossings: readonly Crossing[]): Contact[] =>
  crossings.map((crossing) => ({
    ...crossing,
    ...{ mover: crossing.panels[0], kind: 'through', first: 1, deepest: 1 },
  }));

/** The answers as findings. Panels that are known to pass through each other have no layers; that is told once. */
export function describeAtRest(
  { answer, crossings, conflicts }: RestingAnswer,
  facts: Omit<StepFacts, 'along' | 'tucks'>,
): Finding[] {
  const crossed = describeContacts(contactsAtRest(crossings), {
    ...facts,
    along: { how: 'rest' },
    tucks: false,
  });
  if (crossed.some(({ severity }) => severity === 'error') || answer === 'yes') return crossed;
  return [...crossed, answer === 'no' ? noOrder(conflicts) : noTime];
}

function noOrder([conflict]: RestingAnswer['conflicts']): Finding {
  const { panels = [], creases = [], why = null } = conflict ?? {};
  const values = { how: 'none', after: null, why, stick: null } as const;
  return finding('layer-none', 'error', values, { panels, creases });
}

const noTime = finding('layer-none', 'warning', { how: 'gave-up', after: null });

interface RestingPose {
  readonly problem: LayerProblem;
  /** Panels that cross in the pose as it is. */
  readonly crossings: readonly Crossing[];
  /** The problem is that of the pose pressed flat: as it is, a hair open, paper runs into paper. */
  readonly pressed: boolean;
}

/**
 * Sets up what is asked of the layers of a pose. Crossings too slight to be told do not stand in its way: where a raw edge
 * reaches through by no more than the thickness of paper it ends there. Deeper ones do, however tight; but where no order
 * exists since panels a hair open run into each other, the pose pressed flat is asked.
 * @param angle fold angle per crease, radians; a pose that closes
 * @param placement the same pose, placed
 * @param arrived a motion led here: unassigned creases folded flat are folded the way that their angles say, not either way
 * @throws OutOfTime
 */
export function restingPose(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  arrived: boolean,
  timeIsUp: () => boolean = () => false,
): RestingPose {
  const crossings = crossingsOfPose(sheet, placement);
  const slight = new Set(
    crossings.filter(({ free, depth }) => free && depth <= TIGHT).map(({ panels }) => panels.join()),
  );
  const grazes = (a: number, b: number) => slight.has(a < b ? `${a},${b}` : `${b},${a}`);
  const own = arrived ? namedAsFolded(sheet, angle, () => true) : sheet;
  const problem = new LayerProblem(own, angle, placement, timeIsUp, grazes);
  const flat = pressedFlat(sheet, angle);
  if (!flat || problem.first([], timeIsUp)) return { problem, crossings, pressed: false };
  // what stood open has a way to close
  const named = namedAsFolded(own, flat, (e) => Math.abs(Math.sin(angle[e]!)) > ROUNDING);
  const level = new LayerProblem(named, flat, placePanels(sheet, flat, 0), timeIsUp);
  return { problem: level, crossings, pressed: true };
}
