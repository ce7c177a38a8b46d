/**
 * Locks: what is tucked into what, how deep, which way it comes out, what has to move first, and what holds it.
 *
 * The grade follows from what keeps the tab, and is `none` where depth or friction length is below `HOLDS_FROM`:
 * - `ring`: flaps each over the next; none comes out unless an edge is lifted.
 * - `fold`: the tab cannot slide: folds between the same layers tie it to the pocket, or every way is barred. It stays
 *   until the cuff is swung away.
 * - `friction`: the tab can slide out in its plane, past no paper that stands in the way.
 * - `gravity`: the tab is only covered, by a flap that lies on top of it in a level plane.
 * - `none`: the same, where the cover does not lie on top.
 */

import { USUAL_SHEET } from '../../numeric/tolerance.ts';
import type { Placement } from '../../pose/place.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Stacks } from '../stacks.ts';
import { coverLocks } from './covers.ts';
import { foldLocks } from './cuffs.ts';
import { keepersOf } from './keepers.ts';
import type { Lock } from './lock.ts';
import { partsOf } from './parts.ts';
import { tucksOf } from './pockets.ts';
import { ringLocks, ringsOf } from './rings.ts';
import type { Folded } from './sides.ts';
import { slidingLocks } from './sliding.ts';
import { slitLocks } from './slits.ts';

export { holds, type Lock, strengthOf } from './lock.ts';

/** @param sheetSize length of the longer side, mm */
export function locksOf(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  stacks: Stacks,
  sheetSize = USUAL_SHEET,
): Lock[] {
  const parts = partsOf(sheet, angle);
  const folded: Folded = { sheet, placement, stacks };
  const keepers = keepersOf(folded, parts);
  const rings = ringsOf(folded, parts, keepers);
  const inOneRing = (...members: readonly number[]) =>
    rings.some((ring) => members.every((part) => ring.parts.has(part)));
  const tucks = tucksOf(folded, parts).filter(
    ({ tab, below, above }) => !inOneRing(tab, below) && !inOneRing(tab, above),
  );
  const loose = tucks.filter(({ fixed }) => !fixed);
  const locks = [
    ...ringLocks(folded, parts, rings, sheetSize),
    ...slidingLocks(folded, parts, loose, sheetSize),
    ...slitLocks(folded, parts, sheetSize),
  ];
  // what a lock is made of is not spoken of again as merely covered
  const held = new Set(locks.flatMap(({ tab, pocket }) => [...tab, ...pocket]));
  const isTold = (part: number) => parts.partOf.some((own, panel) => own === part && held.has(panel));
  const fixed = tucks.filter((tuck) => tuck.fixed && !isTold(tuck.tab));
  const covered = keepers.filter(({ kept, keeper, inPlane }) => !inPlane && !inOneRing(kept, keeper));
  return [
    ...locks,
    ...foldLocks(folded, parts, fixed, sheetSize),
    ...coverLocks(
      folded,
      parts,
      covered.filter(({ flap }) => !flap.panels.some((panel) => held.has(panel))),
      sheetSize,
    ),
  ];
}
