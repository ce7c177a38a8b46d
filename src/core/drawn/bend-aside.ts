/**
 * Paper drawn on its own side: stiff panels that graze pass through each other by a little, where paper gives. The
 * corners of the sheet are shifted by as little as brings every panel to the side of the others that the layer order
 * tells: one condition for each corner of a part that lies over another panel. Corners are shifted with all panels that
 * meet there, so that the paper stays in one piece.
 */

import type { Give } from '../contact/give.ts';
import { eachPartOver } from '../contact/overlap.ts';
import { type PosedPanels, placeOver, posePanels, seenFrom } from '../contact/shapes.ts';
import { type Aside, type BentPanel, sharesOf } from '../layer/aside.ts';
import { HalfSpaces, LeastShift } from '../numeric/least-shift.ts';
import { TOUCH } from '../numeric/tolerance.ts';
import { type FineShapes, fineShapes } from './fine-shapes.ts';
import type { ToldLap } from './told-sides.ts';

/** Grazing paper is not shifted by more than this, sheet units: 4 mm on 200. */
const OUT_OF_REACH = 0.02;
/** Places along an edge of the sheet that are told apart: no fewer than 1 / TOUCH. */
const PLACES = 2 ** 20;
/** Shares of corners that differ by less are alike. */
const SAME_POINT = 1e-6;
/** Corners of a part are fewer than this. */
const MOST_CORNERS = 8;

/**
 * Bends the paper of one sheet aside, pose after pose. What held it apart in the last pose is tried first in the next:
 * that makes it quick, and moves no corner by more than conditions are met to.
 */
export class PaperBender {
  private readonly conditions = new HalfSpaces();
  private readonly shifts = new LeastShift();

  /** @param give how far paper gives: what passes deeper is drawn as it is */
  constructor(readonly give: Give) {}

  /** Shifts that bring the panels of a pose to the sides told; null where they are there already. */
  asideOf(posed: PosedPanels, told: readonly ToldLap[]): Aside | null {
    const within = told.filter((one) => wrongBy(one) <= this.give(one.f, one.g));
    if (within.every((one) => wrongBy(one) <= TOUCH)) return null;
    const fine = fineShapes(posed.shapes);
    const finePosed = posePanels(fine.shapes, posed.placement);
    this.conditions.clear();
    for (const one of within) addConditions(this.conditions, finePosed, one);
    return asideOf(fine, this.shifts.find(this.conditions, 3 * fine.points, TOUCH / 2));
  }
}

/** How far a panel stands on the side where it is not to be, sheet units. */
export function wrongBy({ lap, side }: Pick<ToldLap, 'lap' | 'side'>): number {
  return Math.max(0, side > 0 ? -lap.low : lap.high);
}

/** Panel f on its side of panel g, at each corner of the parts in which they lie over each other. */
function addConditions(conditions: HalfSpaces, posed: PosedPanels, { f, g, side }: ToldLap): void {
  const [own, other] = [posed.shapes.triangles[f]!, posed.shapes.triangles[g]!];
  const pair = (f * posed.shapes.panels + g) * own.length * other.length;
  const met: number[] = [];
  eachPartOver(posed, f, g, (part, i, j) => {
    for (let k = 0; k < part.count; k++) {
      const [x, y, height] = [part.x[k]!, part.y[k]!, part.height[k]!];
      // clear by more than paper is ever shifted
      if (side * height > OUT_OF_REACH) continue;
      // parts beside each other have corners in common
      const place = Math.round(x / TOUCH) * PLACES + Math.round(y / TOUCH);
      if (met.includes(place)) continue;
      met.push(place);
      const [u, v] = seenFrom(posed, f, ...placeOver(posed, g, x, y, height));
      weights.count = 0;
      weigh(posed, own, i, u, v, 1);
      weigh(posed, other, j, x, y, -1);
      const name = (pair + i * other.length + j) * MOST_CORNERS + k;
      addCondition(conditions, name, posed.normal, g, side, -side * height);
    }
  });
}

/** How much the shift of each point tells on how far apart two places come. At most three corners of either panel. */
const weights = { count: 0, point: new Int32Array(6), share: new Float64Array(6) };

/** Takes in a flat point of a triangle. */
function weigh(
  { shapes }: PosedPanels,
  triangles: Int32Array,
  at: number,
  x: number,
  y: number,
  sign: 1 | -1,
): void {
  const { point, share } = weights;
  const shares = sharesOf(shapes.flat, triangles[at]!, triangles[at + 1]!, triangles[at + 2]!, x, y);
  for (let k = 0; k < 3; k++) {
    const own = shapes.point[triangles[at + k]!]!;
    let place = 0;
    while (place < weights.count && point[place] !== own) place++;
    if (place === weights.count) {
      point[place] = own;
      share[place] = 0;
      weights.count++;
    }
    share[place]! += sign * shares[k]!;
  }
}

/** The shifts as weighed are to add up to so much along the normal of a panel. */
function addCondition(
  conditions: HalfSpaces,
  name: number,
  normal: Float64Array,
  g: number,
  side: 1 | -1,
  least: number,
): void {
  const { count, point, share } = weights;
  let parts = false;
  conditions.begin();
  for (let k = 0; k < count; k++) {
    if (Math.abs(share[k]!) >= SAME_POINT) parts = true;
    for (let axis = 0; axis < 3; axis++)
      conditions.entry(3 * point[k]! + axis, share[k]! * side * normal[3 * g + axis]!);
  }
  // what is one point of the paper cannot be parted
  if (parts) conditions.end(name, least);
}

/** The panels at whose corners something is shifted. */
function asideOf({ shapes: { panels, first, point }, meshes }: FineShapes, ofPoint: Float64Array): Aside {
  const aside = new Map<number, BentPanel>();
  for (let panel = 0; panel < panels; panel++) {
    const shift = new Float64Array(3 * (first[panel + 1]! - first[panel]!));
    let bent = false;
    for (let k = 0; k < shift.length; k++) {
      shift[k] = ofPoint[3 * point[first[panel]! + Math.floor(k / 3)]! + (k % 3)]!;
      if (shift[k] !== 0) bent = true;
    }
    if (bent) aside.set(panel, { mesh: meshes[panel]!, shift });
  }
  return aside;
}
