import type { Grade, Lock } from './locks.ts';

/** The grade in plain words. */
export const gradeWords: Record<Grade, string> = {
  fold: 'held by a fold',
  friction: 'held by friction',
  gravity: 'held by its weight',
  none: 'not held',
};

/** What a lock is and how it opens, in one or two sentences. @param sheetSize length of the longer side, mm */
export function lockSentence(lock: Lock, sheetSize: number): string {
  const { grade, tab, pocket, first } = lock;
  // a hair up, so that 18.75 reads the same whichever way it was rounded before
  const mm = (length: number) => `${(length * sheetSize + 1e-7).toFixed(1)} mm`;
  switch (grade) {
    case 'friction':
      return `${panels(tab)} ${reach(tab)} ${mm(lock.depth)} into a pocket ${mm(lock.pocketDepth)} deep between ${panels(pocket, true)}, closed on ${sides(lock.closedSides)}: held by friction. To open, slide ${it(tab)} out ${wayWord(lock)}; ${panels(first.panels, true)} ${gives(first.panels)} way with ${it(tab)}.`;
    case 'fold':
      return `${panels(tab)} ${is(tab)} held by a fold: ${panels(first.panels, true)} ${reach(first.panels)} ${mm(lock.depth)} round the edge. To open, first swing ${it(first.panels)} away.`;
    case 'gravity':
      return `${panels(first.panels)} ${lie(first.panels)} over ${panels(tab, true)} by ${its(first.panels)} weight only: swing ${it(first.panels)} up to open.`;
    case 'none':
      return `Nothing holds ${panels(tab, true)}: ${panels(first.panels, true)} only ${lie(first.panels)} over ${it(tab)} and can swing away.`;
  }
}

/** Sentences for all locks of a pose; those alike in all but their panels are told once. */
export function lockSentences(locks: readonly Lock[], sheetSize: number): string[] {
  const alike = new Map<string, Lock[]>();
  for (const lock of locks) {
    const { grade, depth, pocketDepth, closedSides, tab, pocket } = lock;
    const lengths = [depth, pocketDepth].map((length) => (length * sheetSize).toFixed(2));
    const key = [grade, ...lengths, closedSides, wayWord(lock), tab.length, pocket.length].join();
    alike.set(key, [...(alike.get(key) ?? []), lock]);
  }
  return [...alike.values()].map(([first, ...others]) => {
    const sentence = lockSentence(first!, sheetSize);
    if (others.length === 0) return sentence;
    const places = others.length === 1 ? 'in one more place' : `in ${others.length} more places`;
    // of a fold the cuffs differ, of the rest the tabs
    const which = others
      .map(({ grade, tab, first: cuff }) => panels(grade === 'fold' ? cuff.panels : tab, true))
      .join('; ');
    return `${sentence} The same ${places} (${which}).`;
  });
}

const many = (list: readonly number[]) => list.length > 1;
const panels = (list: readonly number[], inside = false) =>
  `${inside ? 'p' : 'P'}anel${many(list) ? 's' : ''} ${list.join(', ')}`;
const reach = (list: readonly number[]) => (many(list) ? 'reach' : 'reaches');
const gives = (list: readonly number[]) => (many(list) ? 'give' : 'gives');
const lie = (list: readonly number[]) => (many(list) ? 'lie' : 'lies');
const is = (list: readonly number[]) => (many(list) ? 'are' : 'is');
const it = (list: readonly number[]) => (many(list) ? 'them' : 'it');
const its = (list: readonly number[]) => (many(list) ? 'their' : 'its');
const sides = (count: number) => (count === 1 ? '1 side' : `${count} sides`);

/** The way out, as it looks on the table. */
export function wayWord({ opens }: Lock): string {
  if (!opens || Math.abs(opens[2]) < STEEP) return 'sideways';
  return opens[2] > 0 ? 'upward' : 'downward';
}

/** Ways that rise by more than about 45 degrees are called up or down. */
const STEEP = 0.7;
