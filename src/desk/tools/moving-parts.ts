/** What a step moves, and how far. */
import { SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import { type Placement, placeOf } from '../../core/pose/place.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../../core/sheet/walk.ts';
import type { TrackBoard } from '../play/board.ts';

/** A panel moves in a step when it turns or shifts by more than this, sheet units. */
const MOVES = 0.02;

/** Poses of a step's own sheet at its start and its end. */
export const endsOf = (board: TrackBoard, step: number) => ({
  start: board.poseAt(step + SAME_MOMENT),
  end: board.poseAt(step + 1),
});

/** Parts of the shown sheet that a step moves. */
export function movingParts(board: TrackBoard, step: number): Set<number> {
  const moving = new Set<number>();
  const record = board.steps[step];
  if (!record || record.poses.length === 0) return moving;
  const { start, end } = endsOf(board, step);
  for (let panel = 0; panel < end.sheet.panelRings.length; panel++)
    if (shiftOf(end.sheet, start.placement, end.placement, panel).shift > MOVES) moving.add(panel);
  return moving;
}

/** The corner of a panel that a step carries furthest, and how far. */
export function shiftOf(
  sheet: Sheet,
  from: Placement,
  to: Placement,
  panel: number,
): { shift: number; vertex: number } {
  let best = { shift: 0, vertex: -1 };
  for (const ring of sheet.panelRings[panel]!)
    for (const h of panelRing(sheet, ring)) {
      const vertex = halfEdgeOrigin(sheet, h);
      const at = (one: Placement) => placeOf(one, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
      const [p, q] = [at(from), at(to)];
      const shift = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
      if (shift > best.shift) best = { shift, vertex };
    }
  return best;
}
