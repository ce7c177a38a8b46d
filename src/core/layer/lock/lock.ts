/** What a lock is; how grades follow from its figures. */

import type { Space } from '../../numeric/vector.ts';
import type { PlaneGroup } from '../planes.ts';
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

/** A cover that reaches this far from its fold, mm, is stiff enough to be a cuff (common practice, no source). */
export const CUFF_REACHES = 35;

/** A tab of which no more than this is bare, mm, is rolled in: it cannot stir before its cover does. */
export const ROLLED_IN = 2;

/** The grade that figures (sheet units) allow. @param sheetSize length of the longer side, mm */
export const gradeOf = (
  grade: Grade,
  { depth, frictionLength }: Pick<Lock, 'depth' | 'frictionLength'>,
  sheetSize: number,
): Grade => (Math.min(depth, frictionLength) * sheetSize < HOLDS_FROM ? 'none' : grade);

/** Planes tilted by less than 45 degrees hold a cover down. */
const LEVEL = Math.SQRT1_2;

/** Does a cover lie on top of what it covers, in a level plane? @param above as the plane's normal looks */
export const liesOnTop = ({ normal }: PlaneGroup, above: boolean): boolean =>
  normal[2] * (above ? 1 : -1) > LEVEL;

/** Is a tab held by more than a weight? */
export const holds = ({ grade }: Lock) => grade === 'fold' || grade === 'ring' || grade === 'friction';

/** What is larger than this share of the sheet is no cuff but a flap that lies over (common practice, no source). */
const CUFF_UP_TO = 0.25;

/** A wall alone counts only where no two layers hold: by this share. */
const WALL_ALONE = 1e-3;

/** Beside a tab, one less than this share of its area is no lock that a step would be folded for (common practice, no source). */
const COUNTS_BESIDE = 0.5;

/**
 * How much holds: the areas of the tabs that are held, in sheet units; to compare stackings by. What is tucked in beside
 * the lock, as the end of a hem, is left to the teacher.
 */
export function strengthOf(locks: readonly Lock[]): number {
  const areas = locks
    .filter((lock) => holds(lock) && !(lock.grade === 'fold' && lock.firstShare > CUFF_UP_TO))
    .map(({ by, depth, frictionLength }) => depth * frictionLength * (by === 'wall' ? WALL_ALONE : 1));
  const least = COUNTS_BESIDE * Math.max(0, ...areas);
  return areas.reduce((sum, area) => (area < least ? sum : sum + area), 0);
}
