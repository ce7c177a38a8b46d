/** What a step's end and its way there say of layers and contact: one look, for stiff paper and for bent. */
import { contactsAtRest } from '../contact/at-rest.ts';
import { crossingsOfPose } from '../contact/crossings.ts';
import { describeContacts, describeUnwatched, type StepFacts } from '../contact/findings.ts';
import { type Contact, contactsOfTrack } from '../contact/track.ts';
import type { Finding } from '../finding/finding.ts';
import type { LayerOrder } from '../layer/problem.ts';
import type { StartClock } from '../layer/roll.ts';
import { ARRIVED, CLOSED, MISS } from '../numeric/tolerance.ts';
import { correctPose } from '../pose/correct.ts';
import { placePanels } from '../pose/place.ts';
import type { StepTrack } from '../pose/track.ts';
import type { Plan, PlannedStep } from './plan.ts';
import { layersOfStep, type StepLayers, type StepMotion } from './step-layers.ts';
import type { Reply, Verdict } from './verdict.ts';

/** A step whose motion is known. Plain data, so that a worker can be asked. */
export interface LookTask {
  readonly plan: Pick<Plan, 'sheet' | 'sheetSize' | 'thickness' | 'still' | 'never'>;
  readonly step: PlannedStep;
  /** Counted from 0. */
  readonly number: number;
  readonly track: Pick<StepTrack, 'sheet' | 'panelOf' | 'poses'>;
  /**
   * The state whose layers are asked for, where it is not the end of the track: what a motion was to reach and did not.
   * Angles per crease of the lesson's sheet.
   */
  readonly state: Float64Array | null;
  /** Unassigned creases of that state fold either way; left out: as its angles say. */
  readonly eitherWay?: boolean;
  /** Layer order at the start of the step. */
  readonly before: LayerOrder;
}

/** The layers at the end of a step and what was met on the way, with an answer to each of the two questions. */
export interface StepLook extends StepLayers {
  readonly replies: Pick<Verdict, 'layers' | 'contact'>;
}

export function lookAtStep(task: LookTask, startClock: StartClock): StepLook {
  const { track, plan, state } = task;
  if (state) return answered(standingAlone(task, state, startClock), wayThere(task, startClock));
  if (track.sheet !== plan.sheet) return answered(...bentPaper(task, startClock));
  const motion = motionOf(task, track.poses);
  const layers = layersOfStep(motion, startClock);
  const rest = task.step.assumed ? atRest(task, track.poses.at(-1)!.angle) : [];
  return answered(layers, rest);
}

function motionOf({ plan, step, number, before }: LookTask, poses: StepMotion['poses']): StepMotion {
  return {
    step: number,
    title: step.title,
    stepKind: step.kind,
    assumed: step.assumed,
    sheet: plan.sheet,
    sheetSize: plan.sheetSize ?? undefined,
    thickness: plan.thickness,
    still: plan.still,
    never: plan.never,
    poses,
    target: step.stage.target,
    before,
    asked: step.asked,
    ...(step.lid ? { lid: step.lid } : {}),
  };
}

/** A state that no motion leads to here: its layers by themselves, and whether its panels pass through each other. */
function standingAlone(task: LookTask, state: Float64Array, startClock: StartClock): StepLayers {
  const alone = layersOfStep(
    {
      ...motionOf(task, [{ at: 1, angle: state }]),
      ...{ before: [], target: undefined, eitherWay: task.eitherWay === true },
      // contact is looked at apart
      never: [],
    },
    startClock,
  );
  const ofLayers = alone.findings.filter(({ code }) => !ofContact.has(code));
  return { ...alone, findings: [...atRest(task, state), ...ofLayers] };
}

/**
 * Bent panels are held against each other along the whole way. Their layers are asked for where each lies in its own
 * plane again at the end; paper that stays bent is asked panel part by panel part.
 */
function bentPaper(task: LookTask, startClock: StartClock): [StepLayers, readonly Finding[]] {
  const { sheet } = task.plan;
  const own = task.track.poses.at(-1)!.angle.slice(0, sheet.creaseKind.length);
  const { angle, closure } = correctPose(sheet, own);
  const bends = task.track.poses.at(-1)!.angle.slice(own.length);
  const flattened =
    closure < CLOSED &&
    bends.every((bend) => Math.abs(bend) < MISS) &&
    angle.every((one, crease) => Math.abs(one - own[crease]!) < ARRIVED);
  if (!flattened) return [layersOfParts(task, startClock), wayThere(task, startClock)];
  const motion = { ...motionOf(task, [{ at: 1, angle }]), target: undefined };
  return [layersOfStep(motion, startClock), [...wayThere(task, startClock), ...atRest(task, angle)]];
}

/** The layers of paper that stays bent, told of the panels that its parts are parts of. */
function layersOfParts(task: LookTask, startClock: StartClock): StepLayers {
  const { sheet, panelOf, poses } = task.track;
  const parts: number[][] = task.plan.sheet.panelRings.map(() => []);
  panelOf.forEach((own, part) => parts[own]!.push(part));
  const toParts = (order: LayerOrder): LayerOrder =>
    order.flatMap(([f, g, side]) => parts[f]!.flatMap((p) => parts[g]!.map((q) => [p, q, side] as const)));
  const asked = task.step.asked.flatMap((one) =>
    'order' in one ? toParts([one.order]).map((order) => ({ ...one, order })) : [],
  );
  const toOwn = (order: LayerOrder): LayerOrder =>
    order.flatMap(([p, q, side]) =>
      panelOf[p] === panelOf[q] ? [] : [[panelOf[p]!, panelOf[q]!, side] as const],
    );
  const { lid: _none, ...motion } = motionOf(task, [poses.at(-1)!]);
  const layers = layersOfStep(
    {
      ...{ ...motion, sheet, target: undefined, still: Math.max(0, panelOf.indexOf(task.plan.still)) },
      ...{ before: toParts(task.before), asked, never: [] },
    },
    startClock,
  );
  return {
    ...layers,
    ...{ order: toOwn(layers.order), known: toOwn(layers.known), choices: layers.choices.map(toOwn) },
    ...{ locks: [], differences: [] },
    findings: layers.findings.flatMap((one) => onOwnNumbers(one, panelOf)),
  };
}

/** Of bent parts only the missing order is told here, by the panels that they are parts of; contact is told of the way. */
function onOwnNumbers(found: Finding, panelOf: Int32Array): Finding[] {
  if (found.code !== 'layer-none') return [];
  if (found.severity !== 'error') return [found];
  const panels = [...new Set(found.panels.map((part) => panelOf[part]!))].sort((a, b) => a - b);
  return [{ ...found, values: { how: 'bent' }, panels, creases: [] }];
}

/** What passes through what on the way, whatever the layers. */
function wayThere(task: LookTask, startClock: StartClock): Finding[] {
  const { sheet, panelOf, poses } = task.track;
  if (poses.length < 2) return [];
  const still = sheet === task.plan.sheet ? task.plan.still : Math.max(0, panelOf.indexOf(task.plan.still));
  const facts = factsOf(task);
  const timeIsUp = startClock('contact');
  const { contacts, watched } = contactsOfTrack({ sheet, poses, still, paper: facts, timeIsUp });
  const own = contacts.flatMap(onOwnPanels(sheet === task.plan.sheet ? null : panelOf));
  return [...describeContacts(own, facts), ...describeUnwatched(watched, facts)];
}

/** A contact of bent parts as one of the panels that they are parts of; parts of one panel are no contact. */
function onOwnPanels(panelOf: Int32Array | null): (contact: Contact) => Contact[] {
  return (contact) => {
    if (!panelOf) return [contact];
    const [a, b] = [panelOf[contact.panels[0]]!, panelOf[contact.panels[1]]!];
    return a === b ? [] : [{ ...contact, panels: [a, b], mover: panelOf[contact.mover]! }];
  };
}

function atRest(task: LookTask, angle: Float64Array): Finding[] {
  const { sheet, still } = task.plan;
  const crossings = crossingsOfPose(sheet, placePanels(sheet, angle, still));
  return describeContacts(contactsAtRest(crossings), {
    ...factsOf(task),
    along: { how: 'rest' },
    assumed: false,
  });
}

function factsOf({ plan, step, number }: LookTask): StepFacts {
  return {
    sheet: plan.sheet,
    sheetSize: plan.sheetSize ?? undefined,
    thickness: plan.thickness,
    along: step.assumed ? { how: 'way' } : { how: 'step', number, title: step.title },
    tucks: step.kind === 'tuck' || step.kind === 'lock',
    assumed: step.assumed,
  };
}

/** The layers and what else was found, with the two answers that follow from them. */
function answered(layers: StepLayers, more: readonly Finding[]): StepLook {
  const { findings, ...rest } = layers;
  const all = toldOnce([...more, ...findings]);
  return {
    ...rest,
    findings: all,
    replies: { layers: layers.answer, contact: contactReply(all) },
  };
}

/** Panels that run through each other have no layers: that is told once. */
function toldOnce(findings: readonly Finding[]): Finding[] {
  const crossing = findings.filter(({ code, severity }) => code === 'panels-cross' && severity === 'error');
  return findings.filter(
    ({ code, panels }) =>
      code !== 'layer-none' ||
      !crossing.some((cross) => panels.every((panel) => cross.panels.includes(panel))),
  );
}

const ofContact: ReadonlySet<string> = new Set(['panels-cross', 'panels-tight', 'tuck-blocked']);

function contactReply(findings: readonly Finding[]): Reply {
  const told = findings.filter(({ code }) => ofContact.has(code));
  if (told.some(({ severity }) => severity === 'error')) return 'no';
  if (findings.some(({ code }) => code === 'contact-unwatched')) return 'gave-up';
  return told.length === 0 ? 'yes' : 'tight';
}
