/** Panels that hang together by creases which no pose of a track turns: they never move against each other. */
import { Groups } from '../numeric/plane.ts';
import type { TrackPose } from '../pose/track.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';

/** Per panel a number that all panels of its body have in common. */
export function bodiesOf(
  { creaseKind, halfEdgePanel, panelRings }: Sheet,
  poses: readonly TrackPose[],
): Int32Array {
  const bodies = new Groups(panelRings.length);
  const start = poses[0]!.angle;
  for (let e = 0; e < creaseKind.length; e++) {
    const [p, q] = [halfEdgePanel[2 * e]!, halfEdgePanel[2 * e + 1]!];
    if (p === NONE || q === NONE || !kindJoinsPanels(creaseKind[e]!)) continue;
    if (poses.every(({ angle }) => angle[e] === start[e])) bodies.join(p, q);
  }
  return Int32Array.from(panelRings, (_, panel) => bodies.find(panel));
}
