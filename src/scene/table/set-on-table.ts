/** Sets a folded model on the table: weighs it, lets it fall, and says how it came to rest. */

import type { Space } from '../../core/numeric/vector.ts';
import { type Placement, panelNormal, placeOf } from '../../core/pose/place.ts';
import { type Base, judge, type RestVerdict } from '../../core/pose/stands.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { panelMesh } from '../panel-mesh.ts';
import { fall, type Moment } from './fall.ts';
import { compose, type Quaternion, rotate, type Triangle, type WeighedSolid, weigh } from './solid.ts';

interface Fall {
  /** Places of the model's own frame, sixty a second. */
  readonly moments: readonly { readonly position: Space; readonly quaternion: Quaternion }[];
  readonly verdict: RestVerdict;
}

/** Corners this near to the lowest one carry the model, sheet units: half a millimetre on a 200 mm sheet. */
const TOUCH = 2.5e-3;

/**
 * @param levels level of each panel along its own normal where panels share a plane, see core/drawn/levels.ts
 * @param over the model was turned over in the hand, about an axis along the sheet
 */
export function setOnTable(sheet: Sheet, placement: Placement, levels: Float32Array, over: boolean): Fall {
  const mesh = panelMesh(sheet);
  const triangles: Triangle[] = [];
  for (let t = 0; t < mesh.panelOfTriangle.length; t++) {
    const corner = (k: number): Space => {
      const at = mesh.triangles[3 * t + k]!;
      return placeOf(placement, mesh.panelOfTriangle[t]!, mesh.flat[2 * at]!, mesh.flat[2 * at + 1]!);
    };
    triangles.push([corner(0), corner(1), corner(2)]);
  }
  const solid = weigh(triangles);
  const hand: Quaternion = over ? [0, 1, 0, 0] : [0, 0, 0, 1];
  const rest = letFall(solid, hand);
  const last = rest.moments[rest.moments.length - 1]!;
  const turn = toModel(solid, last).quaternion;
  const base = baseOf(sheet, placement, levels, mesh.firstTriangle, triangles, turn);
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
): { moments: Moment[]; points: Space[]; turnDegrees: number } {
  const start = compose(hand, solid.axes);
  const moments = fall(solid, start);
  const last = moments[moments.length - 1]!;
  const points = solid.corners.map((corner): Space => {
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
function toModel(solid: WeighedSolid, moment: Moment): { position: Space; quaternion: Quaternion } {
  const back: Quaternion = [-solid.axes[0], -solid.axes[1], -solid.axes[2], solid.axes[3]];
  const quaternion = compose(moment.quaternion, back);
  const centre = rotate(quaternion, solid.centre);
  const { position } = moment;
  return {
    position: [position[0] - centre[0], position[1] - centre[1], position[2] - centre[2]],
    quaternion,
  };
}

/** Panels on the table that no other panel lies under, and the side that all of them turn down. */
function baseOf(
  sheet: Sheet,
  placement: Placement,
  levels: Float32Array,
  firstTriangle: Int32Array,
  triangles: readonly Triangle[],
  turn: Quaternion,
): Base {
  const turned = triangles.map((t) => t.map((p) => rotate(turn, p)) as unknown as Triangle);
  const heights = turned.flatMap((t) => t.map((p) => p[2]));
  const low = heights.reduce((least, z) => Math.min(least, z), Number.POSITIVE_INFINITY);
  const flat = heights.every((z) => z <= low + TOUCH);
  const own = (panel: number) => turned.slice(firstTriangle[panel]!, firstTriangle[panel + 1]!);
  const down = sheet.panelRings.map((_, panel) => rotate(turn, panelNormal(placement, panel))[2] < 0);
  const resting = sheet.panelRings.flatMap((_, panel) =>
    own(panel).every((t) => t.every((p) => p[2] <= low + TOUCH)) ? [panel] : [],
  );
  const level = (panel: number) => (down[panel] ? -levels[panel]! : levels[panel]!);
  const covered = (t: Triangle, panel: number) => {
    const [x, y] = [(t[0][0] + t[1][0] + t[2][0]) / 3, (t[0][1] + t[1][1] + t[2][1]) / 3];
    return resting.some(
      (other) => level(other) < level(panel) && own(other).some((under) => contains(under, x, y)),
    );
  };
  const panels = resting.filter((panel) => own(panel).some((t) => !covered(t, panel)));
  const first = panels[0];
  const alike = first !== undefined && panels.every((panel) => down[panel] === down[first]);
  return { panels, side: alike ? (down[first] ? 'up' : 'down') : null, flat };
}

/** Does a triangle, seen from above, cover a place? */
function contains([a, b, c]: Triangle, x: number, y: number): boolean {
  const left = (p: Space, q: Space) => (q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0]);
  const sides = [left(a, b), left(b, c), left(c, a)];
  return sides.every((s) => s >= 0) || sides.every((s) => s <= 0);
}
