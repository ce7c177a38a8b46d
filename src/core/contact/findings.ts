/** What contact along a step has to say: which step, when, which panels, where, how deep. */
import { type Finding, finding } from '../finding/finding.ts';
import type { Along } from '../finding/values/contact.ts';
import { Groups } from '../numeric/plane.ts';
import { TIGHT, USUAL_SHEET } from '../numeric/tolerance.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { panelArea } from '../sheet/walk.ts';
import { giveOf, type PaperFacts } from './give.ts';
import { shapesOf } from './shapes.ts';
import type { Contact } from './track.ts';

export interface StepFacts extends PaperFacts {
  /** The lesson's sheet; panels and places are its own. */
  readonly sheet: Sheet;
  /** The step, or the single pose, that is spoken of. */
  readonly along: Along;
  /** Paper is slipped between layers in this step. */
  readonly tucks: boolean;
  /** Nobody asked for this way: paper that crosses on it is worth a warning. */
  readonly assumed?: boolean;
  /** Creases that no step folds and with which folded two panels would not be in each other's way. */
  readonly foldsMissing?: (contact: Contact) => readonly number[];
}

/** Depths that differ by less are told as equal: half a hundredth of what is told. */
const EQUAL = TIGHT / 20;

/** One finding for each set of panels that are in each other's way, the deepest first. */
export function describeContacts(contacts: readonly Contact[], facts: StepFacts): Finding[] {
  const give = giveOf(shapesOf(facts.sheet), facts);
  const told = contacts.filter(({ depth }) => depth > TIGHT);
  const blocked = told.filter(({ depth, panels }) => depth > give(...panels));
  const tight = told.filter(({ depth, panels }) => depth <= give(...panels));
  const through = blocked.filter(({ kind }) => kind === 'through');
  const aside = blocked.filter(({ kind }) => kind === 'side');
  return [
    ...together(through, facts.sheet).map((set) => crossing(set, facts)),
    ...together(aside, facts.sheet).map((set) => wrongSide(set, facts)),
    ...together(tight, facts.sheet).map((set) => tightness(set, facts)),
  ];
}

/** Contacts that hang together by a common panel: the deepest first, of equals those of the largest panels. */
function together(contacts: readonly Contact[], sheet: Sheet): Contact[][] {
  const area = ({ panels: [a, b] }: Contact) => panelArea(sheet, a) + panelArea(sheet, b);
  const depth = (contact: Contact) => Math.round(contact.depth / EQUAL);
  const ordered = contacts.toSorted((p, q) => depth(q) - depth(p) || area(q) - area(p));
  const groups = new Groups(sheet.panelRings.length);
  for (const { panels } of contacts) groups.join(...panels);
  const sets = new Map<number, Contact[]>();
  for (const contact of ordered) {
    const root = groups.find(contact.panels[0]);
    sets.set(root, [...(sets.get(root) ?? []), contact]);
  }
  return [...sets.values()];
}

function crossing(set: readonly Contact[], facts: StepFacts): Finding {
  const creases = facts.foldsMissing?.(set[0]!) ?? [];
  const severity = facts.assumed ? 'warning' : 'error';
  const code = facts.tucks ? 'tuck-blocked' : 'panels-cross';
  return finding(
    code,
    severity,
    { how: 'through', ...met(set, facts) },
    { ...measured(set, facts), creases },
  );
}

function wrongSide(set: readonly Contact[], facts: StepFacts): Finding {
  const values = { how: 'side', ...met(set, facts) } as const;
  // stiff panels do not get there; whether bent ones do, a hand has to try
  return facts.tucks
    ? finding('tuck-blocked', 'warning', values, measured(set, facts))
    : finding('panels-cross', 'error', values, measured(set, facts));
}

function tightness(set: readonly Contact[], facts: StepFacts): Finding {
  return finding('panels-tight', 'warning', met(set, facts), measured(set, facts));
}

/** When and where the panels of a set meet. */
function met(set: readonly Contact[], { along, sheet: { frame }, sheetSize }: StepFacts) {
  const worst = set[0]!;
  // the place on the panel that moves
  const [x, y] = placesOf(worst)[0] ?? [0, 0];
  return {
    along,
    first: Math.min(...set.map((contact) => contact.first)),
    deepest: worst.deepest,
    place: { at: [frame.x + frame.scale * x, frame.y + frame.scale * y], size: frame.scale },
    depth: worst.depth * (sheetSize ?? USUAL_SHEET),
    judgedAs: sheetSize === undefined ? USUAL_SHEET : null,
  } as const;
}

/** Value and limit in mm: how deep, and how far paper gives there. */
function measured(set: readonly Contact[], facts: StepFacts) {
  const { sheet, sheetSize = USUAL_SHEET } = facts;
  return {
    value: set[0]!.depth * sheetSize,
    limit: giveOf(shapesOf(sheet), facts)(...set[0]!.panels) * sheetSize,
    panels: panelsOf(set),
    at: placesOf(set[0]!),
  };
}

/** The panel that moves, then the one it meets. */
const moverFirst = ({ panels: [a, b], mover }: Contact) =>
  mover === b ? ([b, a] as const) : ([a, b] as const);
const placesOf = ({ panels, mover, at }: Contact) => (mover === panels[0] ? at : [...at].reverse());

/** Panels of the worst pair first, then the others, ascending. */
function panelsOf(set: readonly Contact[]): number[] {
  const rest = set.flatMap(({ panels }) => panels).sort((a, b) => a - b);
  return [...new Set([...moverFirst(set[0]!), ...rest])];
}

/** The way was watched up to this moment only, since time was up. */
export function describeUnwatched(watched: number, { along }: StepFacts): Finding[] {
  if (watched >= 1) return [];
  return [finding('contact-unwatched', 'warning', { along, watched }, { value: watched, limit: 1 })];
}

/** Panels that the step moves although no hand can get at them, one finding for each body of panels. */
export function describeOutOfReach(bodies: readonly (readonly number[])[], { along }: StepFacts): Finding[] {
  return bodies.map((panels) => finding('panel-out-of-reach', 'warning', { along }, { panels: [...panels] }));
}
