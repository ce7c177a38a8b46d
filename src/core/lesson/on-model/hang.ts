/** The layers that a fold takes along: those chosen and what hangs together with them where paper moves. */
import { type Refusal, refuse } from './folded.ts';
import { jointsInside, type LyingPaper, type Region } from './in-plane.ts';

/**
 * @param regions where paper moves; any one of them
 * @param whole take along what hangs on the panels given; otherwise it is a reason to refuse
 */
export function hangingTogether(
  paper: LyingPaper,
  regions: readonly Region[],
  start: readonly number[],
  whole: boolean,
): Refusal | ReadonlySet<number> {
  const { groupOf } = paper.stacks.planes;
  const taken = new Set(start);
  for (const panel of taken) {
    if (groupOf[panel] !== paper.group) return refuse({ how: 'off-plane', panel }, panel);
    for (const { beyond } of regions.flatMap((region) => jointsInside(paper, panel, region))) {
      if (taken.has(beyond)) continue;
      if (!whole) return refuse({ how: 'hangs-on', panel, beyond }, panel, beyond);
      taken.add(beyond);
    }
  }
  return taken;
}
