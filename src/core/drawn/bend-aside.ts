/**
 * Paper drawn on its own side: stiff panels that graze pass through each other by a little, where paper gives. The
 * corners of the sheet are shifted by as little as brings every panel to the side of the others that the layer order
 * tells: one condition for each corner of a part that lies over another panel. Corners are shifted with all panels that
 * meet there, so that the paper stays in one piece.
 */

import type { Give } from '../contact/give.ts';
import { eachPartOver } from '../contact/overlap.ts';
import { type PosedPanels, placeOver, posePanels, seeFrom, seenFrom } from '../contact/shapes.ts';
import { type Aside, type BentPanel, sharesOf } from '../layer/aside.ts';
import { HalfSpaces, LeastShift } from '../numeric/least-shift.ts';
import { ROUNDING, SAME_SHARE, TOUCH } from '../numeric/tolerance.ts';
import { type FineShapes, fineShapes } from './fine-shapes.ts';
import type { ToldLap } from './told-sides.ts';

/** Grazing paper is not shifted by more than this, sheet units: 4 mm on 200. */
const OUT_OF_REACH = 0.02;
/** Places along an edge of the sheet that are told apart: no fewer than 1 / TOUCH. */
const PLACES = 2 ** 20;
/** Conditions are met to this, sheet units: near enough that it does not show from which pose the paper comes. */
const MET = TOUCH / 20;
/** Corners of a part are fewer than this. */
const MOST_CORNERS = 8;

/** A corner of a part in which one panel lies over another. */
interface LapCorner {
  /** By this number it is known again in the next pose. */
  readonly name: number;
  readonly height: number;
  /** How much the shift of each of some points of the paper tells on how far the two panels come apart there. */
  readonly points: readonly number[];
  readonly shares: readonly number[];
}

/** The corners of a pair, which stay the same while neither panel moves as the other sees it. */
interface KnownPair {
  readonly stand: Float64Array;
  readonly corners: readonly LapCorner[];
}

/**
 * Bends the paper of one sheet aside, pose after pose. What held it apart in the last pose is tried first in the next:
 * that makes it quick, and moves no corner by more than conditions are met to.
 */
export class PaperBender {
  private readonly conditions = new HalfSpaces();
  private readonly shifts = new LeastShift();
  private readonly known = new Map<number, KnownPair>();

  /** @param give how far paper gives: what passes deeper is drawn as it is */
  constructor(readonly give: Give) {}

  /** Shifts that bring the panels of a pose to the sides told; null where they are there already. */
  asideOf(posed: PosedPanels, told: readonly ToldLap[]): Aside | null {
    const within = told.filter((one) => wrongBy(one) <= this.give(one.f, one.g));
    if (within.every((one) => wrongBy(one) <= TOUCH)) return null;
    const fine = fineShapes(posed.shapes);
    const finePosed = posePanels(fine.shapes, posed.placement);
    this.conditions.clear();
    for (const one of within) this.ask(finePosed, one);
    return asideOf(fine, this.shifts.find(this.conditions, 3 * fine.points, MET));
  }

  /** Panel f on its side of panel g, at each corner of the parts in which they lie over each other. */
  private ask(posed: PosedPanels, { f, g, side }: ToldLap): void {
    const { conditions } = this;
    const [nx, ny, nz] = [0, 1, 2].map((k) => side * posed.normal[3 * g + k]!) as [number, number, number];
    for (const { name, height, points, shares } of this.cornersOf(posed, f, g)) {
      conditions.begin();
      for (let k = 0; k < points.length; k++) {
        conditions.entry(3 * points[k]!, shares[k]! * nx);
        conditions.entry(3 * points[k]! + 1, shares[k]! * ny);
        conditions.entry(3 * points[k]! + 2, shares[k]! * nz);
      }
      conditions.end(name, -side * height);
    }
  }

  private cornersOf(posed: PosedPanels, f: number, g: number): readonly LapCorner[] {
    const key = f * posed.shapes.panels + g;
    const stand = standOf(posed, f, g);
    let known = this.known.get(key);
    if (!known || stand.some((value, k) => Math.abs(value - known!.stand[k]!) > ROUNDING)) {
      known = { stand, corners: lapCorners(posed, f, g) };
      this.known.set(key, known);
    }
    return known.corners;
  }
}

/** How panel g sees panel f: where three of its corners stand. */
function standOf(posed: PosedPanels, f: number, g: number): Float64Array {
  const { shapes, corner } = posed;
  const stand = new Float64Array(9);
  const [a, b, c] = shapes.triangles[f]!;
  [a!, b!, c!].forEach((at, k) => {
    seeFrom(stand, 3 * k, posed, g, corner[3 * at]!, corner[3 * at + 1]!, corner[3 * at + 2]!);
  });
  return stand;
}

/** How far a panel stands on the side where it is not to be, sheet units. */
export function wrongBy({ lap, side }: Pick<ToldLap, 'lap' | 'side'>): number {
  return Math.max(0, side > 0 ? -lap.low : lap.high);
}

function lapCorners(posed: PosedPanels, f: number, g: number): LapCorner[] {
  const [own, other] = [posed.shapes.triangles[f]!, posed.shapes.triangles[g]!];
  const pair = (f * posed.shapes.panels + g) * own.length * other.length;
  const met: number[] = [];
  const corners: LapCorner[] = [];
  eachPartOver(posed, f, g, (part, i, j) => {
    for (let k = 0; k < part.count; k++) {
      const [x, y, height] = [part.x[k]!, part.y[k]!, part.height[k]!];
      // parts beside each other have corners in common
      const place = Math.round(x / TOUCH) * PLACES + Math.round(y / TOUCH);
      // nor does what is clear by more than paper is ever shifted ask for anything
      if (met.includes(place) || Math.abs(height) > OUT_OF_REACH) continue;
      met.push(place);
      const [u, v] = seenFrom(posed, f, ...placeOver(posed, g, x, y, height));
      const weights = { points: [], shares: [] };
      weigh(weights, posed, own, i, u, v, 1);
      weigh(weights, posed, other, j, x, y, -1);
      // what is one point of the paper cannot be parted
      if (weights.shares.every((share) => Math.abs(share) < SAME_SHARE)) continue;
      corners.push({ name: (pair + i * other.length + j) * MOST_CORNERS + k, height, ...weights });
    }
  });
  return corners;
}

/** Takes in a flat point of a triangle: the shares of its corners. */
function weigh(
  { points, shares }: { points: number[]; shares: number[] },
  { shapes }: PosedPanels,
  triangles: Int32Array,
  at: number,
  x: number,
  y: number,
  sign: 1 | -1,
): void {
  const own = sharesOf(shapes.flat, triangles[at]!, triangles[at + 1]!, triangles[at + 2]!, x, y);
  for (let k = 0; k < 3; k++) {
    const point = shapes.point[triangles[at + k]!]!;
    const place = points.indexOf(point);
    if (place >= 0) shares[place]! += sign * own[k]!;
    else {
      points.push(point);
      shares.push(sign * own[k]!);
    }
  }
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
