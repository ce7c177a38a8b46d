/** Sets a folded model on the table: weighs it, lets it fall, and says how it came to rest. */
import type { Placement } from '../../core/pose/place.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { panelMesh } from '../panel-mesh.ts';
import { panelNormal, placed } from '../stack.ts';
import { fall, type Moment } from './fall.ts';
import { compose, type Quaternion, rotate, type Triangle, type WeighedSolid, weigh } from './solid.ts';
import { judge, type Point, type Verdict } from './verdict.ts';

export interface Fall {
  /** Places of the model's own frame, sixty a second. */
  readonly moments: readonly { readonly position: Point; readonly quaternion: Quaternion }[];
  readonly verdict: Verdict;
}

/** Corners this near to the lowest one carry the model, sheet units: half a millimetre on a 200 mm sheet. */
const TOUCH = 2.5e-3;

/** @param over the model was turned over in the hand, about an axis along the sheet */
export function setOnTable(sheet: Sheet, placement: Placement, over: boolean): Fall {
  const mesh = panelMesh(sheet);
  const triangles: Triangle[] = [];
  for (let t = 0; t < mesh.panelOfTriangle.length; t++) {
    const corner = (k: number): Point => {
      const at = mesh.triangles[3 * t + k]!;
      return placed(placement, mesh.panelOfTriangle[t]!, mesh.flat[2 * at]!, mesh.flat[2 * at + 1]!);
    };
    triangles.push([corner(0), corner(1), corner(2)]);
  }
  const solid = weigh(triangles);
  const hand: Quaternion = over ? [0, 1, 0, 0] : [0, 0, 0, 1];
  const rest = letFall(solid, hand);
  const last = rest.moments[rest.moments.length - 1]!;
  const turn = toModel(solid, last).quaternion;
  const base = baseOf(sheet, placement, mesh.firstTriangle, triangles, turn);
  return {
    // The eye looks at where the model was; it is dropped there and not at the origin.
    moments: rest.moments.map((moment) => {
      const { position, quaternion } = toModel(solid, moment);
      return {
        position: [position[0] + solid.centre[0], position[1] + solid.centre[1], position[2]],
        quaternion,
      };
    }),
    verdict: judge(rest.points, last.position, rest.turnDegrees, TOUCH, base),
  };
}

/** Lets a solid fall from the given hand. Points are its corners at rest. */
export function letFall(
  solid: WeighedSolid,
  hand: Quaternion,
): { moments: Moment[]; points: Point[]; turnDegrees: number } {
  const start = compose(hand, solid.axes);
  const moments = fall(solid, start);
  const last = moments[moments.length - 1]!;
  const points = solid.corners.map((corner): Point => {
    const p = rotate(last.quaternion, corner);
    return [p[0] + last.position[0], p[1] + last.position[1], p[2] + last.position[2]];
  });
  // The turn about the upright does not matter: it may slide and swivel.
  const inverse: Quaternion = [-start[0], -start[1], -start[2], start[3]];
  const up = rotate(compose(last.quaternion, inverse), [0, 0, 1]);
  const turnDegrees = (Math.acos(Math.min(1, Math.max(-1, up[2]))) * 180) / Math.PI;
  return { moments, points, turnDegrees };
}

/** From the body (its centre, its principal axes) to the model's own frame. */
function toModel(solid: WeighedSolid, moment: Moment): { position: Point; quaternion: Quaternion } {
  const back: Quaternion = [-solid.axes[0], -solid.axes[1], -solid.axes[2], solid.axes[3]];
  const quaternion = compose(moment.quaternion, back);
  const centre = rotate(quaternion, solid.centre);
  const { position } = moment;
  return {
    position: [position[0] - centre[0], position[1] - centre[1], position[2] - centre[2]],
    quaternion,
  };
}

function baseOf(
  sheet: Sheet,
  placement: Placement,
  firstTriangle: Int32Array,
  triangles: readonly Triangle[],
  turn: Quaternion,
): Verdict['base'] {
  const height = (p: Point) => rotate(turn, p)[2];
  const low = Math.min(...triangles.flat().map(height));
  const panels: number[] = [];
  for (let panel = 0; panel < sheet.panelRings.length; panel++) {
    const own = triangles.slice(firstTriangle[panel]!, firstTriangle[panel + 1]!);
    if (own.every((t) => t.every((p) => height(p) <= low + TOUCH))) panels.push(panel);
  }
  // Of layers that lie on one another the table touches the lowest; the largest panel speaks for it.
  const largest = panels.reduce(
    (best, panel) =>
      firstTriangle[panel + 1]! - firstTriangle[panel]! > firstTriangle[best + 1]! - firstTriangle[best]!
        ? panel
        : best,
    panels[0] ?? 0,
  );
  const down = panels.length > 0 && rotate(turn, panelNormal(placement, largest))[2] < 0;
  return { panels, side: down ? 'up' : 'down' };
}
