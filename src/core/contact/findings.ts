/** What contact along a step has to say, in words: which step, when, which panels, where, how deep, what to do. */
import { type Finding, finding } from '../finding/finding.ts';
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
  /** How the step is called at the start of a sentence: `Step 4 ("Flap under")`; null where a single pose is spoken of. */
  readonly name: string | null;
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
  const worst = set[0]!;
  const [a, b] = moverFirst(worst);
  const missing = facts.foldsMissing?.(worst) ?? [];
  const message =
    `${opening(facts)}${began(set, facts)}panel ${a} passes through panel ${b}, by up to ${amount(worst.depth, facts)}` +
    `${at(worst.deepest, facts)}, near ${place(worst, facts)}${others(set)}: move one of them out of the way first, or fold in another order.${missingInWords(missing)}`;
  const severity = facts.assumed ? 'warning' : 'error';
  const code = facts.tucks ? 'tuck-blocked' : 'panels-cross';
  return { ...asFinding(code, severity, message, set, facts), creases: missing };
}

function missingInWords(creases: readonly number[]): string {
  if (creases.length === 0) return '';
  const [noun, are] = creases.length > 1 ? ['creases', 'are'] : ['crease', 'is'];
  return ` It would not with ${noun} ${creases.join(', ')} folded, which ${are} left flat by every step.`;
}

function wrongSide(set: readonly Contact[], facts: StepFacts): Finding {
  const worst = set[0]!;
  const [a, b] = moverFirst(worst);
  const message =
    `${opening(facts)}${began(set, facts)}panel ${a} comes to lie on the side of panel ${b} where the layers do not have it, near ` +
    `${place(worst, facts)}${others(set)}: lift panel ${b} out of the way first so that panel ${a} gets behind it, or fold in another order.`;
  // stiff panels do not get there; whether bent ones do, a hand has to try
  return facts.tucks
    ? asFinding('tuck-blocked', 'warning', message, set, facts)
    : asFinding('panels-cross', 'error', message, set, facts);
}

function tightness(set: readonly Contact[], facts: StepFacts): Finding {
  const worst = set[0]!;
  const [a, b] = moverFirst(worst);
  const message =
    `${opening(facts)}panel ${a} is tight against panel ${b}${at(worst.deepest, facts)}, near ${place(worst, facts)}: paper must flex by about ` +
    `${amount(worst.depth, facts)}${others(set)}; swing one of them open first, or give it more room.`;
  return asFinding('panels-tight', 'warning', message, set, facts);
}

/** Value and limit in mm: how deep, and how far paper gives there. */
function asFinding(
  code: 'panels-cross' | 'panels-tight' | 'tuck-blocked',
  severity: 'error' | 'warning',
  message: string,
  set: readonly Contact[],
  facts: StepFacts,
): Finding {
  const { sheet, sheetSize = USUAL_SHEET } = facts;
  return finding(code, severity, message, {
    value: set[0]!.depth * sheetSize,
    limit: giveOf(shapesOf(sheet), facts)(...set[0]!.panels) * sheetSize,
    panels: panelsOf(set),
    at: placesOf(set[0]!),
  });
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

const percent = (moment: number) => `${Math.round(100 * moment)} %`;
const opening = ({ name }: StepFacts) => (name === null ? 'In the finished pose ' : `${name}: `);
const at = (moment: number, { name }: StepFacts) =>
  name === null ? '' : ` at ${percent(moment)} of the step`;

function began(set: readonly Contact[], { name }: StepFacts): string {
  const first = Math.min(...set.map((contact) => contact.first));
  if (name === null) return '';
  return first < 0.005 ? 'from its start ' : `from ${percent(first)} of it `;
}

function others(set: readonly Contact[]): string {
  const more = panelsOf(set).slice(2);
  return more.length === 0 ? '' : ` (and likewise panel${more.length > 1 ? 's' : ''} ${more.join(', ')})`;
}

/** A length in mm; of a file without a size with a word on what it was judged as. */
function amount(depth: number, { sheetSize }: StepFacts): string {
  const length = (size: number) => `${(depth * size).toFixed(1)} mm`;
  return sheetSize === undefined
    ? `${length(USUAL_SHEET)} (the file gives no size: judged as a sheet of ${USUAL_SHEET} mm)`
    : length(sheetSize);
}

/** The place on the panel that moves, in the pattern's own units, to about a thousandth of the sheet. */
function place(contact: Contact, { sheet: { frame } }: StepFacts): string {
  const [x, y] = placesOf(contact)[0] ?? [0, 0];
  const grain = 10 ** (Math.floor(Math.log10(frame.scale)) - 2);
  const tidy = (value: number) => Number((Math.round(value / grain) * grain).toPrecision(12));
  return `(${tidy(frame.x + frame.scale * x)}, ${tidy(frame.y + frame.scale * y)})`;
}

/** The way was watched up to this moment only, since time was up. */
export function describeUnwatched(watched: number, facts: StepFacts): Finding[] {
  if (watched >= 1) return [];
  const message = `${opening(facts)}what paper meets on its way was watched up to ${percent(watched)} of it in the time given, and beyond that nothing is known: give it more time.`;
  return [finding('contact-unwatched', 'warning', message, { value: watched, limit: 1 })];
}

/** Panels that the step moves although no hand can get at them, one finding for each body of panels. */
export function describeOutOfReach(bodies: readonly (readonly number[])[], { name }: StepFacts): Finding[] {
  return bodies.map((panels) => {
    const one = panels.length === 1;
    const it = one ? 'it' : 'them';
    const message = `${name ?? 'Here'}: panel${one ? '' : 's'} ${panels.join(', ')} ${one ? 'is' : 'are'} moved where no hand can reach ${it}, other panels lie all round: fold ${it} earlier, while the model is open.`;
    return finding('panel-out-of-reach', 'warning', message, { panels: [...panels] });
  });
}
