import type { Lock } from './lock.ts';

/** The way out of a lock, as it looks on the table. */
export type WayOut = 'sideways' | 'upward' | 'downward';

export function wayOut({ opens }: Pick<Lock, 'opens'>): WayOut {
  if (!opens || Math.abs(opens[2]) < STEEP) return 'sideways';
  return opens[2] > 0 ? 'upward' : 'downward';
}

/** Ways that rise by more than about 45 degrees are called up or down. */
const STEEP = 0.7;
