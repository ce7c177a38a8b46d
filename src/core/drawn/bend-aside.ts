/**
 * Paper drawn on its own side: stiff panels that graze pass through each other by a little, where paper gives. The
 * corners of the sheet are shifted by as little as brings every panel to the side of the others that the layer order
 * tells: one condition for each corner of a part that lies over another panel. Corners are shifted with all panels that
 * meet there, so that the paper stays in one piece.
 */

import type { Give } from '../contact/give.ts';
import { type PosedPanels, placeOver, posePanels, seenFrom } from '../contact/shapes.ts';
import { type Aside, type BentPanel, sharesOf } from '../layer/aside.ts';
import { type HalfSpace, leastShift } from '../numeric/least-shift.ts';
import { TOUCH } from '../numeric/tolerance.ts';
import { fineShapes } from './fine-shapes.ts';
import { lapOf } from './lap.ts';
import type { ToldLap } from './told-sides.ts';

/** Grazing paper is not shifted by more than this, sheet units: 4 mm on 200. */
const OUT_OF_REACH = 0.02;
/** Places along an edge of the sheet that are told apart: no fewer than 1 / TOUCH. */
const PLACES = 2 ** 20;
/** Shares of corners that differ by less are alike. */
const SAME_POINT = 1e-6;

/** Shifts that bring the panels of a pose to the sides told; null where they are there already. */
export function bendAside(posed: PosedPanels, told: readonly ToldLap[], give: Give): Aside | null {
  const within = told.filter(({ f, g, ...one }) => wrongBy(one) <= give(f, g));
  if (within.every((one) => wrongBy(one) <= TOUCH)) return null;
  const fine = posePanels(fineShapes(posed.shapes), posed.placement);
  const conditions = within.flatMap(({ f, g, side }) => {
    const lap = lapOf(fine, f, g);
    return lap ? conditionsOf(fine, { f, g, side, lap }) : [];
  });
  const points = fine.shapes.point.reduce((most, point) => Math.max(most, point + 1), 0);
  const shift = leastShift(conditions, 3 * points, TOUCH / 2);
  return asideOf(fine, shift);
}

/** How far a panel stands on the side where it is not to be, sheet units. */
export function wrongBy({ lap, side }: Pick<ToldLap, 'lap' | 'side'>): number {
  return Math.max(0, side > 0 ? -lap.low : lap.high);
}

/** Panel f on its side of panel g, at each corner of the parts in which they lie over each other. */
function conditionsOf(posed: PosedPanels, { f, g, side, lap }: ToldLap): HalfSpace[] {
  const { shapes, normal } = posed;
  const way = [0, 1, 2].map((k) => side * normal[3 * g + k]!) as [number, number, number];
  const met = new Set<number>();
  return lap.corners.flatMap(({ x, y, height, own, other }): HalfSpace[] => {
    // parts beside each other have corners in common
    const place = Math.round(x / TOUCH) * PLACES + Math.round(y / TOUCH);
    // clear by more than paper is ever shifted
    if (side * height > OUT_OF_REACH || met.has(place)) return [];
    met.add(place);
    const weights = new Map<number, number>();
    const add = (triangles: Int32Array, at: number, u: number, v: number, sign: 1 | -1) => {
      const [a, b, c] = [triangles[at]!, triangles[at + 1]!, triangles[at + 2]!];
      const shares = sharesOf(shapes.flat, a, b, c, u, v);
      [a, b, c].forEach((corner, k) => {
        const point = shapes.point[corner]!;
        weights.set(point, (weights.get(point) ?? 0) + sign * shares[k]!);
      });
    };
    const [u, v] = seenFrom(posed, f, ...placeOver(posed, g, x, y, height));
    add(shapes.triangles[f]!, own, u, v, 1);
    add(shapes.triangles[g]!, other, x, y, -1);
    const [points, shares] = [[...weights.keys()], [...weights.values()]];
    // what is one point of the paper cannot be parted
    if (shares.every((share) => Math.abs(share) < SAME_POINT)) return [];
    return [
      {
        index: points.flatMap((point) => [3 * point, 3 * point + 1, 3 * point + 2]),
        value: shares.flatMap((share) => way.map((along) => share * along)),
        least: -side * height,
      },
    ];
  });
}

/** The panels at whose corners something is shifted. */
function asideOf({ shapes }: PosedPanels, ofPoint: Float64Array): Aside {
  const { panels, first, flat, triangles, point } = shapes;
  const aside = new Map<number, BentPanel>();
  for (let panel = 0; panel < panels; panel++) {
    const [from, to] = [first[panel]!, first[panel + 1]!];
    const shift = Float64Array.from({ length: 3 * (to - from) }, (_, k) => {
      return ofPoint[3 * point[from + Math.floor(k / 3)]! + (k % 3)]!;
    });
    if (shift.every((value) => value === 0)) continue;
    aside.set(panel, {
      flat: flat.slice(2 * from, 2 * to),
      triangles: triangles[panel]!.map((corner) => corner - from),
      shift,
    });
  }
  return aside;
}
