/** What a lock is; how grades follow from its figures. */
import type { Space } from '../planes.ts';
import type { Mover } from './movers.ts';

export type Grade = 'fold' | 'ring' | 'friction' | 'gravity' | 'none';

/** What keeps a tab: two layers, a wall alone, the edges of a slit, flaps in a ring, or a cover that lies over it. */
export type KeptBy = 'layers' | 'wall' | 'slit' | 'ring' | 'cover';

export interface Lock {
  readonly grade: Grade;
  readonly by: KeptBy;
  /** Panels that are tucked in, and the panels that make the pocket; no panel is both. */
  readonly tab: readonly number[];
  readonly pocket: readonly number[];
  /** How far the tab has to come until it is out, or, where it cannot slide, how far it is covered; sheet units. */
  readonly depth: number;
  /** How wide the tab is held, square to its depth: the length on which it rubs. Sheet units. */
  readonly frictionLength: number;
  /** How deep the pocket is, measured as the depth is, sheet units. */
  readonly pocketDepth: number;
  /** Sides on which paper closes the pocket. */
  readonly closedSides: number;
  /** The way the tab slides out, in the frame of the pose; null where it cannot slide. */
  readonly opens: Space | null;
  /** What has to move before, or with, the tab; of a fold never the tab itself. */
  readonly first: Mover;
  /** That part's share of the sheet's area, 0..1. */
  readonly firstShare: number;
}

/** A hold that is shorter or narrower than this holds nothing, mm (common practice, no source). */
export const HOLDS_FROM = 1;

/** Length of the longer side (mm) by which a sheet without a size is judged. */
export const JUDGED_AS = 200;

/** The grade that figures (sheet units) allow. @param sheetSize length of the longer side, mm */
export const gradeOf = (
  grade: Grade,
  { depth, frictionLength }: Pick<Lock, 'depth' | 'frictionLength'>,
  sheetSize: number,
): Grade => (Math.min(depth, frictionLength) * sheetSize < HOLDS_FROM ? 'none' : grade);

/** Is a tab held by more than a weight? */
export const holds = ({ grade }: Lock) => grade === 'fold' || grade === 'ring' || grade === 'friction';

/**
 * How much holds: the areas of all tabs that are held, in sheet units; to compare stackings by. A cuff of more than half
 * the sheet is no cuff: there the tab swings off it.
 */
export function strengthOf(locks: readonly Lock[]): number {
  return locks
    .filter((lock) => holds(lock) && !(lock.grade === 'fold' && lock.firstShare > 0.5))
    .reduce((sum, { depth, frictionLength, tab }) => sum + depth * frictionLength * tab.length, 0);
}
