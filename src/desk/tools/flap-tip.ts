/** The tip of the flap that a tuck moves: the place whose section tells most. */

import type { SectionPlane } from '../../core/layer/section.ts';
import { cross, type Space, unit } from '../../core/numeric/vector.ts';
import { panelNormal, placeOf } from '../../core/pose/place.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { halfEdgeOrigin, panelArea, panelRing } from '../../core/sheet/walk.ts';
import type { PlacedPose, TrackBoard } from '../play/board.ts';
import { endsOf, movingParts, shiftOf } from './moving-parts.ts';

/** Corners moved this nearly as far as the furthest one count as tips. */
const NEARLY = 0.95;
/** The section stands so far in from the tip, as a share of the way to the panel's middle. */
const INSET = 0.3;

export class FlapTip {
  private constructor(
    private readonly board: TrackBoard,
    private readonly step: number,
    private readonly panel: number,
    /** On the flat sheet. */
    private readonly at: readonly [number, number],
    private readonly normal: Space,
  ) {}

  /** Null where the step moves nothing. */
  static find(board: TrackBoard, step: number): FlapTip | null {
    const { start, end } = endsOf(board, step);
    const { sheet } = end;
    const moved = [...movingParts(board, step)].map((panel) => ({
      panel,
      ...shiftOf(sheet, start.placement, end.placement, panel),
    }));
    const furthest = Math.max(0, ...moved.map(({ shift }) => shift));
    const [leader] = moved
      .filter(({ shift }) => shift >= NEARLY * furthest)
      .sort((a, b) => panelArea(sheet, a.panel) - panelArea(sheet, b.panel));
    if (!leader) return null;
    const { panel, vertex } = leader;
    const [tx, ty] = [sheet.vertexX[vertex]!, sheet.vertexY[vertex]!];
    const [mx, my] = middleOfPanel(sheet, panel);
    const at = [tx + INSET * (mx - tx), ty + INSET * (my - ty)] as const;
    return new FlapTip(board, step, panel, at, axisOfTurn(start, end, panel, at));
  }

  isOf(board: TrackBoard, step: number): boolean {
    return this.board === board && this.step === step;
  }

  /** The plane in which the tip turns, where the tip is in a pose. */
  planeAt(pose: PlacedPose): SectionPlane {
    const { normal } = this;
    const at = placeOf(pose.placement, this.panel, this.at[0], this.at[1]);
    return { normal, offset: at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2] };
  }
}

/** Mean of a panel's corners, on the flat sheet. */
export function middleOfPanel(sheet: Sheet, panel: number): readonly [number, number] {
  const corners = panelRing(sheet, sheet.panelRings[panel]![0]!).map((h) => halfEdgeOrigin(sheet, h));
  const mean = (at: Float64Array) => corners.reduce((sum, v) => sum + at[v]!, 0) / corners.length;
  return [mean(sheet.vertexX), mean(sheet.vertexY)];
}

/** The line about which a panel turns in a step; of one that only slides, the line across its way and its face. */
function axisOfTurn(
  start: PlacedPose,
  end: PlacedPose,
  panel: number,
  [x, y]: readonly [number, number],
): Space {
  const turnOf = ({ placement }: PlacedPose) =>
    [0, 1, 2, 3].map((i) => placement.rotation[4 * panel + i]!) as [number, number, number, number];
  const [ax, ay, az, aw] = turnOf(start);
  const [bx, by, bz, bw] = turnOf(end);
  // end * inverse of start
  const turn: Space = [
    -bw * ax + bx * aw - by * az + bz * ay,
    -bw * ay + by * aw - bz * ax + bx * az,
    -bw * az + bz * aw - bx * ay + by * ax,
  ];
  if (Math.hypot(...turn) > 0.02) return unit(turn);
  const [p, q] = [placeOf(start.placement, panel, x, y), placeOf(end.placement, panel, x, y)];
  const n = panelNormal(end.placement, panel);
  const way: Space = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  return unit(cross(way, n));
}
