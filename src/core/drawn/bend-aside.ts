/**
 * Paper drawn on its own side: stiff panels that graze pass through each other by a little, where paper gives. The
 * corners of the sheet are shifted by as little as brings every panel to the side of the others that the layer order
 * tells: one condition for each corner of a part that lies over another panel, met one after the other, again and
 * again (projections onto half-spaces, Agmon 1954 and Motzkin and Schoenberg 1954). Corners are shifted with all panels
 * that meet there, so that the paper stays in one piece.
 */

import type { Give } from '../contact/give.ts';
import { type PosedPanels, placeOver, seenFrom } from '../contact/shapes.ts';
import { type Aside, type BentPanel, sharesOf } from '../layer/aside.ts';
import { TOUCH } from '../numeric/tolerance.ts';
import type { ToldLap } from './told-sides.ts';

/** Rounds in which conditions are met; grazing panels of a model need a dozen. */
const MOST_ROUNDS = 100;
/** What is lacking is made up for by so much more than it takes: any factor below 2 leads there, some sooner. */
const BOLD = 1.3;
/** Grazing paper is not shifted by more than this, sheet units: 4 mm on 200. */
const OUT_OF_REACH = 0.02;

/** Shifts that bring the panels of a pose to the sides told; null where they are there already. */
export function bendAside(posed: PosedPanels, told: readonly ToldLap[], give: Give): Aside | null {
  const within = told.filter(({ f, g, ...one }) => wrongBy(one) <= give(f, g));
  if (within.every((one) => wrongBy(one) <= TOUCH)) return null;
  const conditions = new Conditions();
  for (const one of within) addConditions(conditions, posed, one);
  const shift = new Float64Array(3 * posed.shapes.point.length);
  for (let round = 0; round < MOST_ROUNDS; round++) if (conditions.meet(shift) < TOUCH) break;
  return asideOf(posed, shift);
}

/** How far a panel stands on the side where it is not to be, sheet units. */
export function wrongBy({ lap, side }: Pick<ToldLap, 'lap' | 'side'>): number {
  return Math.max(0, side > 0 ? -lap.low : lap.high);
}

/**
 * Conditions: the shifts of some points of the paper, each times its weight along a direction, must add up to at least
 * so much. Plain lists, for they are gone through many times a frame.
 */
class Conditions {
  private readonly first: number[] = [0];
  private readonly point: number[] = [];
  /** Three numbers per point: the weight along each axis. */
  private readonly weight: number[] = [];
  private readonly least: number[] = [];
  private readonly square: number[] = [];

  add(weights: ReadonlyMap<number, number>, way: readonly [number, number, number], least: number): void {
    let square = 0;
    for (const weight of weights.values()) square += weight * weight;
    // what is one point of the paper cannot be parted
    if (square < TOUCH) return;
    for (const [point, weight] of weights) {
      this.point.push(3 * point);
      this.weight.push(weight * way[0], weight * way[1], weight * way[2]);
    }
    this.first.push(this.point.length);
    this.least.push(least);
    this.square.push(square);
  }

  /** Meets each of them by as little as it takes. @returns by how much the worst was missed */
  meet(shift: Float64Array): number {
    const { first, point, weight, least, square } = this;
    let worst = 0;
    for (let c = 0; c < least.length; c++) {
      let lacking = least[c]!;
      for (let k = first[c]!; k < first[c + 1]!; k++) {
        const [at, w] = [point[k]!, 3 * k];
        lacking -=
          weight[w]! * shift[at]! + weight[w + 1]! * shift[at + 1]! + weight[w + 2]! * shift[at + 2]!;
      }
      if (lacking <= 0) continue;
      if (lacking > worst) worst = lacking;
      const by = (BOLD * lacking) / square[c]!;
      for (let k = first[c]!; k < first[c + 1]!; k++) {
        const [at, w] = [point[k]!, 3 * k];
        for (let axis = 0; axis < 3; axis++) shift[at + axis]! += by * weight[w + axis]!;
      }
    }
    return worst;
  }
}

/** Panel f on its side of panel g, at each corner of the parts in which they lie over each other. */
function addConditions(conditions: Conditions, posed: PosedPanels, { f, g, side, lap }: ToldLap): void {
  const { shapes, normal } = posed;
  const way = [0, 1, 2].map((k) => side * normal[3 * g + k]!) as [number, number, number];
  for (const { x, y, height, own, other } of lap.corners) {
    // clear by more than paper is ever shifted
    if (side * height > OUT_OF_REACH) continue;
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
    conditions.add(weights, way, -side * height);
  }
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
