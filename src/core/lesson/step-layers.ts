/** The layers at the end of a step of a lesson, with what holds them; and whether its motion lets paper past paper. */
import { describeContacts, describeOutOfReach, type StepFacts } from '../contact/findings.ts';
import { panelsOutOfReach } from '../contact/reach.ts';
import { type Contact, contactsOfTrack } from '../contact/track.ts';
import { type Finding, finding } from '../finding/finding.ts';
import { type LidFit, lidFit } from '../layer/lock/lid.ts';
import { type Lock, locksOf, strengthOf } from '../layer/lock/locks.ts';
import { groupByPlane } from '../layer/planes.ts';
import type { LayerConflict, LayerOrder } from '../layer/problem.ts';
import { type RolledLayers, rollForward } from '../layer/roll.ts';
import { stacksOf } from '../layer/stacks.ts';
import { CLOSED } from '../numeric/tolerance.ts';
import { closureOfPose } from '../pose/closure.ts';
import { type Placement, placePanels } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { StepKind } from './lesson.ts';

/** A step whose motion is known; its layers are asked for. Angles per crease of the lesson's sheet. */
export interface StepMotion {
  /** Counted from 0. */
  readonly step: number;
  readonly title: string;
  readonly stepKind: StepKind;
  readonly sheet: Sheet;
  /** Length of the longer side, mm. */
  readonly sheetSize: number;
  readonly still: number;
  readonly poses: readonly { readonly at: number; readonly angle: Float64Array }[];
  /** What its creases are driven to, radians, NaN for those that follow: a hand has to reach what they turn. */
  readonly target?: Float64Array;
  /** Layer order at the start of the step. */
  readonly before: LayerOrder;
  /** A lid from the same pattern that goes over the model at the end of this step: its sheet and its paper, mm. */
  readonly lid?: { readonly size: number; readonly thickness: number };
  /** Orders that the teacher asks for at its end. */
  readonly asked: LayerOrder;
}

/** The layers at the end of a step. */
export interface StepLayers {
  /** How many orders are possible, in decimals; "at least" when not `exact`. */
  readonly states: string;
  readonly exact: boolean;
  /** The order taken. Empty where there is none. */
  readonly order: LayerOrder;
  /** Orders to choose from, the one taken first. */
  readonly choices: readonly LayerOrder[];
  /** Per choice: its locks. */
  readonly locks: readonly (readonly Lock[])[];
  /** The teacher has to say which stacking is meant. */
  readonly asks: boolean;
  readonly deepest: number;
  readonly lid: LidFit | null;
  readonly conflict: LayerConflict | null;
  readonly findings: readonly Finding[];
}

/** The layers at the end of a step, rolled forward from its start, and what its motion does to the paper. */
export function layersOfStep(motion: StepMotion, outOfTime: () => boolean): StepLayers {
  const { sheet, still, poses, before, asked } = motion;
  const end = poses.at(-1)!.angle;
  if (closureOfPose(sheet, end).largest > CLOSED) return noLayers;
  const placement = placePanels(sheet, end, still);
  let taken: Taken | null = null;
  const { contacts } = contactsOfTrack({
    sheet,
    poses,
    still,
    startOrder: before,
    endOrder: ({ pairs, kept }) => {
      const rolled = rollForward(sheet, end, {
        ...{ before, placement, asked, motion: pairs, stayed: kept },
        motionBinds: !slips(motion),
        outOfTime,
      });
      const planes = groupByPlane(sheet, placement);
      const locks = rolled.choices.map((choice) =>
        locksOf(sheet, end, placement, stacksOf(planes, choice), motion.sheetSize),
      );
      taken = slips(motion) ? takeLock(rolled, locks) : { ...rolled, locks, asks: asksOfFold(rolled) };
      return taken.order;
    },
  });
  const { states, exact, order, choices, locks, asks, deepest, conflict } = taken! as Taken;
  return {
    ...{ states: String(states), exact, order, choices, locks, asks, deepest, conflict },
    lid: lidOf(motion, placement, order),
    findings: [
      ...contactFindings(motion, contacts, order),
      ...(conflict && !isTold(conflict, contacts) ? [noOrder(motion, conflict)] : []),
    ],
  };
}

function lidOf(motion: StepMotion, placement: Placement, order: LayerOrder): LidFit | null {
  const { sheet, sheetSize, still, lid } = motion;
  if (!lid || order.length === 0) return null;
  const stacks = stacksOf(groupByPlane(sheet, placement), order);
  return lidFit({ sheet, placement, stacks }, still, sheetSize, lid.size, lid.thickness);
}

/** What paper meets on its way, and what no hand can reach. */
function contactFindings(motion: StepMotion, contacts: readonly Contact[], after: LayerOrder): Finding[] {
  const { sheet, poses, still, target, before } = motion;
  const facts: StepFacts = {
    sheet,
    sheetSize: motion.sheetSize,
    name: `Step ${motion.step + 1} ("${motion.title}")`,
    tucks: slips(motion),
  };
  const unreached = target
    ? panelsOutOfReach({ sheet, poses, still, target, order: [...before, ...after] })
    : [];
  return [...describeContacts(contacts, facts), ...describeOutOfReach(unreached, facts)];
}

/** Panels that are known to cross have no layers; that is told once. */
const isTold = (conflict: LayerConflict, contacts: readonly Contact[]) =>
  contacts.some(({ panels }) => panels.every((panel) => conflict.panels.includes(panel)));

/** In a tuck or a lock, a hand may slip one layer under another where stiff panels cannot. */
const slips = ({ stepKind }: StepMotion) => stepKind === 'tuck' || stepKind === 'lock';

type Taken = Pick<RolledLayers, 'states' | 'exact' | 'order' | 'choices' | 'deepest' | 'conflict'> &
  Pick<StepLayers, 'locks' | 'asks'>;

/** A fold lays its layers as it moves them; where that does not settle it, only the teacher can say. */
const asksOfFold = ({ states, motionTells }: RolledLayers) => states > 1n && !motionTells;

/**
 * A step that is called a tuck or a lock means to hold something. Where one of the orders that are left holds more than
 * the one that stiff panels would bring about, that one is taken; where several hold as much, the teacher is asked.
 */
function takeLock(rolled: RolledLayers, locks: readonly (readonly Lock[])[]): Taken {
  const { states, exact, choices, motionTells } = rolled;
  const strengths = locks.map(strengthOf);
  const most = Math.max(0, ...strengths) - SAME_STRENGTH;
  if (strengths.length < 2 || strengths[0]! > most)
    return { ...rolled, locks, asks: states > 1n && !motionTells };
  const best = strengths.findIndex((strength) => strength > most);
  const several = strengths.filter((strength) => strength > most).length > 1;
  if (several || !exact || states > BigInt(choices.length)) return { ...rolled, locks, asks: true };
  const first = <T>(list: readonly T[]): T[] => [list[best]!, ...list.filter((_, k) => k !== best)];
  return { ...rolled, order: choices[best]!, choices: first(choices), locks: first(locks), asks: false };
}

/** Areas (sheet units) that differ by less are the same. */
const SAME_STRENGTH = 1e-9;

function noOrder({ step, title }: StepMotion, conflict: NonNullable<StepLayers['conflict']>): Finding {
  const { panels, creases, message } = conflict;
  return finding('layer-none', 'error', `After step ${step + 1} ("${title}"): ${message}`, {
    panels,
    creases,
  });
}

const nothing: LayerOrder = [];

/** Bent paper has no flat layers to speak of. */
const noLayers: StepLayers = {
  states: '0',
  exact: false,
  order: nothing,
  choices: [],
  locks: [],
  asks: false,
  deepest: 0,
  lid: null,
  conflict: null,
  findings: [],
};
