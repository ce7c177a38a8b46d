/** What holds the model together, and what opens it. */
import type { LidFit } from '../../core/layer/lock/lid.ts';
import type { Grade, KeptBy, Lock } from '../../core/layer/lock/lock.ts';
import { figuresText, fixedText } from '../numbers.ts';
import { capital, panelsText } from './parts.ts';

/** The grade in plain words. */
export const grades: Record<Grade, string> = {
  fold: 'held by a fold',
  ring: 'held by a ring of flaps',
  friction: 'held by friction',
  gravity: 'held by its weight',
  none: 'not held',
};

/** `units`: of the file, where it says nothing of millimetres. */
export type Unit = 'mm' | 'units';

/** What a lock is and how it opens, in one or two sentences. @param sheetSize length of the longer side in the unit */
export function lockSentence(lock: Lock, sheetSize: number, unit: Unit = 'mm'): string {
  const { grade, by, tab, pocket, first } = lock;
  const depth = told(lock.depth * sheetSize, unit);
  if (grade === 'none' && by !== 'cover')
    return `${panels(tab)} ${reach(tab)} only ${depth} ${places[by]} ${panels(pocket, true)}, too little to hold.`;
  switch (grade) {
    case 'friction':
      return `${panels(tab)} ${reach(tab)} ${depth} ${intoWords(lock, told(lock.pocketDepth * sheetSize, unit))}: held by friction. To open, slide ${it(tab)} out ${waysOut[wayOut(lock)]}${carrierWords(lock)}.`;
    case 'fold': {
      const swung = swungPanels(lock);
      return `${panels(tab)} ${is(tab)} held by a fold: ${panels(swung, true)} ${reach(swung)} ${depth} over ${it(tab)}. To open, first swing ${panels(swung, true)} away.`;
    }
    case 'ring':
      return `${panels([...tab, ...pocket])} lie each over the next in a ring that holds itself, by ${depth} where it is least. To open, lift an edge and draw ${panels(first.panels, true)} out.`;
    case 'gravity':
      return `${panels(first.panels)} ${lie(first.panels)} over ${panels(tab, true)} by ${its(first.panels)} weight only: swing ${it(first.panels)} up to open.`;
    case 'none':
      return `Nothing holds ${panels(tab, true)}: ${panels(first.panels, true)} only ${lie(first.panels)} over ${it(tab)} and can swing away.`;
  }
}

/** Sentences for all locks of a pose; those alike in all but their panels are told once. */
export function lockSentences(locks: readonly Lock[], sheetSize: number, unit: Unit = 'mm'): string[] {
  const alike = new Map<string, Lock[]>();
  for (const lock of locks) {
    const { grade, by, depth, pocketDepth, closedSides, tab, pocket } = lock;
    const lengths = [depth, pocketDepth].map((length) => (length * sheetSize).toFixed(2));
    const key = [grade, by, ...lengths, closedSides, wayOut(lock), tab.length, pocket.length].join();
    alike.set(key, [...(alike.get(key) ?? []), lock]);
  }
  return [...alike.values()].map(([first, ...others]) => {
    const sentence = lockSentence(first!, sheetSize, unit);
    if (others.length === 0) return sentence;
    const places = others.length === 1 ? 'in one more place' : `in ${others.length} more places`;
    // of a fold the cuffs differ, of the rest the tabs
    const which = others
      .map((lock) => panels(lock.grade === 'fold' ? swungPanels(lock) : lock.tab, true))
      .join('; ');
    return `${sentence} The same ${places} (${which}).`;
  });
}

/** What has to swing: the cuff; where that is most of the model, only what lies over the tab is named. */
const swungPanels = ({ firstShare, first, pocket }: Lock) =>
  firstShare > 0.5 ? first.panels.filter((panel) => pocket.includes(panel)) : first.panels;

const places: Record<Exclude<KeptBy, 'cover'>, string> = {
  layers: 'between',
  wall: 'behind',
  slit: 'through the slit of',
  ring: 'under',
};

function intoWords({ by, pocket, closedSides }: Lock, pocketDepth: string): string {
  if (by === 'slit') return `through the slit of ${panels(pocket, true)}`;
  if (by === 'wall') return `behind ${panels(pocket, true)} alone`;
  return `into a pocket ${pocketDepth} deep between ${panels(pocket, true)}, closed on ${sides(closedSides)}`;
}

function carrierWords({ tab, first }: Lock): string {
  return first.panels.length === 0
    ? ''
    : `; ${panels(first.panels, true)} ${gives(first.panels)} way with ${it(tab)}`;
}

function told(length: number, unit: Unit): string {
  // a hair up, so that 18.75 reads the same whichever way it was rounded before
  return unit === 'mm'
    ? `${fixedText(length + 1e-7, 1)} mm`
    : `${figuresText(length, 4)} of the file's units`;
}

const many = (list: readonly number[]) => list.length > 1;
const panels = (list: readonly number[], inside = false) =>
  inside ? panelsText(list) : capital(panelsText(list));
const reach = (list: readonly number[]) => (many(list) ? 'reach' : 'reaches');
const gives = (list: readonly number[]) => (many(list) ? 'give' : 'gives');
const lie = (list: readonly number[]) => (many(list) ? 'lie' : 'lies');
const is = (list: readonly number[]) => (many(list) ? 'are' : 'is');
const it = (list: readonly number[]) => (many(list) ? 'them' : 'it');
const its = (list: readonly number[]) => (many(list) ? 'their' : 'its');
const sides = (count: number) => (count === 1 ? '1 side' : `${count} sides`);

type WayOut = 'sideways' | 'upward' | 'downward';

/** The way out, as it looks on the table. */
export function wayOut({ opens }: Pick<Lock, 'opens'>): WayOut {
  if (!opens || Math.abs(opens[2]) < STEEP) return 'sideways';
  return opens[2] > 0 ? 'upward' : 'downward';
}

/** Ways that rise by more than about 45 degrees are called up or down. */
const STEEP = 0.7;

const waysOut: Record<WayOut, string> = { sideways: 'sideways', upward: 'upward', downward: 'downward' };

/** What holds the lid. @param lid length of its sheet, mm */
export function lidSentence({ room, grade }: LidFit, lid: number): string {
  const tightest = `${fixedText(Math.abs(room[0]!), 2)} mm`;
  switch (grade) {
    case 'none':
      return `A lid from a sheet of ${lid} mm does not go on: ${tightest} are wanting on each side; take a larger sheet.`;
    case 'friction':
      return `A lid from a sheet of ${lid} mm has ${tightest} of room on each side: it rests by friction.`;
    case 'gravity':
      return `A lid from a sheet of ${lid} mm has ${tightest} of room on each side: it lies on loosely, by its weight.`;
  }
}
