/** The layers at the end of a step of a lesson, with what holds them; and whether its motion lets paper past paper. */

import { restingPose } from '../contact/at-rest.ts';
import { cornersPast, cornersThrough } from '../contact/corners-through.ts';
import {
  describeContacts,
  describeOutOfReach,
  describeUnwatched,
  type StepFacts,
} from '../contact/findings.ts';
import { foldsMissing } from '../contact/left-unfolded.ts';
import { panelsOutOfReach } from '../contact/reach.ts';
import type { MotionSides } from '../contact/sides.ts';
import { type Contact, contactsOfTrack, hingedSides } from '../contact/track.ts';
import { type Finding, finding } from '../finding/finding.ts';
import type { Asked } from '../layer/asked.ts';
import { type Difference, differencesOf } from '../layer/choices.ts';
import { type LidFit, lidFit } from '../layer/lock/lid.ts';
import { type Lock, locksOf, strengthOf } from '../layer/lock/locks.ts';
import { groupByPlane } from '../layer/planes.ts';
import type { LayerConflict, LayerOrder } from '../layer/problem.ts';
import { type RolledLayers, rollForward, type StartClock } from '../layer/roll.ts';
import { OutOfTime } from '../layer/search.ts';
import { stacksOf } from '../layer/stacks.ts';
import type { StepKind } from '../lesson/lesson.ts';
import { CLOSED, SAME_AREA, USUAL_SHEET } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { type Placement, placePanels } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** A step whose motion is known; its layers are asked for. Angles per crease of the lesson's sheet. */
export interface StepMotion {
  /** Counted from 0. */
  readonly step: number;
  readonly title: string;
  readonly stepKind: StepKind;
  readonly sheet: Sheet;
  /** Length of the longer side, mm, where it is known. */
  readonly sheetSize: number | undefined;
  /** Thickness of its paper, mm, where it is known. */
  readonly thickness?: number | undefined;
  readonly still: number;
  /** Creases that the pattern folds and no step drives, where that is known. */
  readonly never?: readonly number[];
  /** Nobody asked for this way to its end: layers are not bound by it, and what crosses on it is worth a warning. */
  readonly assumed?: boolean;
  /** No motion says which way unassigned creases fold: either. */
  readonly eitherWay?: boolean;
  readonly poses: readonly { readonly at: number; readonly angle: Float64Array }[];
  /** What its creases are driven to, radians, NaN for those that follow: a hand has to reach what they turn. */
  readonly target?: Float64Array;
  /** Layer order at the start of the step. */
  readonly before: LayerOrder;
  /** A lid from the same pattern that goes over the model at the end of this step: its sheet and its paper, mm. */
  readonly lid?: { readonly size: number; readonly thickness: number };
  /** Orders that the teacher asks for at its end. */
  readonly asked: readonly Asked[];
}

/** The layers at the end of a step. */
export interface StepLayers {
  /**
   * Is there an order? yes; no, see `conflict`; gave-up: not known in the time given. not-looked: the pose does not close
   * or is bent, which leaves nothing flat.
   */
  readonly answer: 'yes' | 'no' | 'gave-up' | 'not-looked';
  /** How many orders are possible, in decimals; "at least" when not `exact`. */
  readonly states: string;
  readonly exact: boolean;
  /** The order taken. Empty where there is none. */
  readonly order: LayerOrder;
  /** What the next step starts from: the order, or what is known of it. */
  readonly known: LayerOrder;
  /** Orders to choose from, the one taken first. */
  readonly choices: readonly LayerOrder[];
  /** Per choice: by what it differs from the others, the fewest places that tell it from each. */
  readonly differences: readonly (readonly Difference[])[];
  /** Per choice: its locks. */
  readonly locks: readonly (readonly Lock[])[];
  /** The teacher has to say which stacking is meant. */
  readonly asks: boolean;
  readonly deepest: number;
  readonly lid: LidFit | null;
  readonly conflict: LayerConflict | null;
  /** Moment of the step up to which contact was watched: 1, unless time was up. */
  readonly watched: number;
  readonly findings: readonly Finding[];
}

/**
 * The layers at the end of a step, rolled forward from its start, and what its motion does to the paper.
 * @param startClock starts a clock for each question asked
 */
export function layersOfStep(motion: StepMotion, startClock: StartClock): StepLayers {
  const { sheet, still, poses, before } = motion;
  const end = poses.at(-1)!.angle;
  if (closureOfPose(sheet, end).largest > CLOSED) return { ...noLayers, known: before };
  const placement = placePanels(sheet, end, still);
  let taken: Taken | null = null;
  const timeIsUp = startClock('contact');
  const { contacts, watched } = contactsOfTrack({
    ...{ sheet, poses, still, paper: motion, timeIsUp },
    startOrder: before,
    endOrder: (sides) => {
      taken = takeOrder(motion, placement, sides, startClock);
      return taken.order;
    },
  });
  const layers = taken! as Taken;
  return {
    ...layers,
    lid: lidOf(motion, placement, layers.order),
    watched,
    findings: [
      ...contactFindings(motion, contacts, layers.order, watched, timeIsUp),
      ...(layers.conflict ? [noOrder(motion, placement, layers.conflict)] : []),
      ...(layers.answer === 'gave-up' ? [gaveUp(motion)] : []),
    ],
  };
}

type Taken = Omit<StepLayers, 'lid' | 'findings' | 'watched'>;

/** The order that the paper takes at the end, of those that are left by what lay on what before and by the motion. */
function takeOrder(
  motion: StepMotion,
  placement: Placement,
  { pairs, kept }: MotionSides,
  startClock: StartClock,
): Taken {
  const { sheet, poses, before, asked } = motion;
  const end = poses.at(-1)!.angle;
  try {
    const { problem, pressed } = restingPose(sheet, end, placement, !motion.eitherWay, startClock());
    const hinged = hingedSides(sheet, poses);
    const rolling = {
      ...{ before, asked, motionBinds: !slips(motion) },
      motion: [...pairs, ...hinged.pairs],
      stayed: [...kept, ...hinged.kept],
    };
    const rolled = rollForward(problem, rolling, startClock);
    const planes = pressed ? groupByPlane(sheet, placement) : problem.planes;
    const locks = rolled.choices.map((choice) =>
      locksOf(sheet, end, placement, stacksOf(planes, choice), motion.sheetSize ?? USUAL_SHEET),
    );
    const { answer, states, exact, deepest, conflict, known } = rolled;
    const taken = slips(motion) ? takeLock(rolled, locks) : takeAsMoved(rolled, locks);
    return {
      ...{ answer, states: String(states), exact, deepest, conflict, ...taken },
      known: answer === 'yes' ? taken.order : known,
      differences: taken.choices.map((_, k) => differencesOf(problem, taken.choices, k)),
    };
  } catch (error) {
    if (!(error instanceof OutOfTime)) throw error;
    return { ...noLayers, answer: 'gave-up', known: before };
  }
}

function lidOf(motion: StepMotion, placement: Placement, order: LayerOrder): LidFit | null {
  const { sheet, sheetSize, still, lid } = motion;
  if (!lid || !sheetSize || order.length === 0) return null;
  const stacks = stacksOf(groupByPlane(sheet, placement), order);
  return lidFit({ sheet, placement, stacks }, still, sheetSize, lid.size, lid.thickness);
}

/** What paper meets on its way, and what no hand can reach. */
function contactFindings(
  motion: StepMotion,
  contacts: readonly Contact[],
  after: LayerOrder,
  watched: number,
  timeIsUp: () => boolean,
): Finding[] {
  const { sheet, poses, still, target, before, never = [] } = motion;
  const facts: StepFacts = {
    ...{ sheet, sheetSize: motion.sheetSize, thickness: motion.thickness },
    along: motion.assumed ? { how: 'way' } : { how: 'step', number: motion.step, title: motion.title },
    tucks: !motion.assumed && slips(motion),
    assumed: motion.assumed === true,
    foldsMissing: (contact) => foldsMissing({ sheet, still, poses, never }, contact),
  };
  const unreached =
    target && !motion.assumed
      ? panelsOutOfReach({ sheet, poses, still, target, order: [...before, ...after], timeIsUp })
      : [];
  // layers that no way binds stand on whichever side they like
  const met = motion.assumed ? contacts.filter(({ kind }) => kind === 'through') : contacts;
  return [
    ...describeContacts(met, facts),
    ...describeUnwatched(watched, facts),
    ...describeOutOfReach(unreached, facts),
  ];
}

/** In a tuck or a lock, a hand may slip one layer under another where stiff panels cannot. */
const slips = ({ stepKind, assumed }: StepMotion) =>
  assumed === true || stepKind === 'tuck' || stepKind === 'lock';

type Choice = Pick<StepLayers, 'order' | 'choices' | 'locks' | 'asks'>;

/** A fold lays its layers as it moves them; where that does not settle it, only the teacher can say. */
function takeAsMoved({ order, choices }: RolledLayers, locks: StepLayers['locks']): Choice {
  return { order, choices, locks, asks: choices.length > 1 };
}

/**
 * A step that is called a tuck or a lock means to hold something. Where one of the orders that are left holds more than
 * the one that stiff panels would bring about, that one is taken; where several hold as much, the teacher is asked.
 */
function takeLock(rolled: RolledLayers, locks: StepLayers['locks']): Choice {
  const { states, exact, order, choices, motionTells } = rolled;
  const strengths = locks.map(strengthOf);
  const most = Math.max(0, ...strengths) - SAME_AREA;
  if (strengths.length < 2 || strengths[0]! > most)
    return { order, choices, locks, asks: choices.length > 1 && !motionTells };
  const best = strengths.findIndex((strength) => strength > most);
  const several = strengths.filter((strength) => strength > most).length > 1;
  if (several || !exact || states > BigInt(choices.length)) return { order, choices, locks, asks: true };
  const first = <T>(list: readonly T[]): T[] => [list[best]!, ...list.filter((_, k) => k !== best)];
  return { order: choices[best]!, choices: first(choices), locks: first(locks), asks: false };
}

function noOrder(
  { step, title, assumed, sheet }: StepMotion,
  placement: Placement,
  conflict: NonNullable<StepLayers['conflict']>,
): Finding {
  const { panels, creases, why } = conflict;
  const stuck = cornersThrough(sheet, placement, panels);
  const past = stuck.length > 0 ? [] : cornersPast(sheet, placement, panels);
  const vertices = [...stuck, ...past];
  const stick = { how: stuck.length > 0 ? 'through' : 'past', corners: vertices } as const;
  const after = assumed ? null : { number: step, title };
  const values = { how: 'none', after, why, stick: vertices.length > 0 ? stick : null } as const;
  return finding('layer-none', 'error', values, { panels, creases, vertices });
}

function gaveUp({ step, title }: StepMotion): Finding {
  return finding('layer-none', 'warning', { how: 'gave-up', after: { number: step, title } });
}

const nothing: LayerOrder = [];

/** A pose that does not close has no layers to speak of. */
export const noLayers: StepLayers = {
  answer: 'not-looked',
  states: '0',
  exact: false,
  order: nothing,
  known: nothing,
  choices: [],
  differences: [],
  locks: [],
  asks: false,
  deepest: 0,
  lid: null,
  watched: 1,
  conflict: null,
  findings: [],
};
