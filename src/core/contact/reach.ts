/** Panels that a step moves although no hand can get at them. */

import type { LayerOrder } from '../layer/problem.ts';
import { Groups } from '../numeric/plane.ts';
import { MISS, TOUCH } from '../numeric/tolerance.ts';
import type { Space } from '../numeric/vector.ts';
import { placePanels, walkPanels } from '../pose/place.ts';
import type { TrackPose } from '../pose/track.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { isInside, relativeMotion } from './pair.ts';
import { type PanelShapes, type PosedPanels, placeOver, posePanels, seenFrom, shapesOf } from './shapes.ts';

interface ReachTask {
  readonly sheet: Sheet;
  readonly poses: readonly TrackPose[];
  readonly still: number;
  /** Targets of driven creases, NaN for those that follow. */
  readonly target: Float64Array;
  /** Known orders of panels that lie on each other: the one on top is in the way, the one below is not. */
  readonly order: LayerOrder;
  /** Once it says so nothing more is looked at, and nothing is said to be out of reach. */
  readonly timeIsUp?: () => boolean;
}

/** Moments of a step at which a hand may take hold, 0..1; its ends first, where most lies open. */
const MOMENTS = [0, 1, 0.5, 0.25, 0.75];
const DIRECTIONS = 128;

/**
 * Panels are moved together where no crease between them changes, and where they lie on each other and go alike: a hand
 * that turns a stack carries what lies within. Such a body is out of reach when it is turned by a
 * driven crease, and from none of its panels, on either side, at none of the moments looked at, does any of an even
 * set of straight lines lead out past all other panels.
 * @returns the panels of each body that is out of reach
 */
export function panelsOutOfReach(task: ReachTask): number[][] {
  const { sheet, poses, still, order } = task;
  const shapes = shapesOf(sheet);
  const walk = walkPanels(sheet, still);
  const posedAt = (moment: number) => {
    const { angle } = poses[Math.round(moment * (poses.length - 1))]!;
    return posePanels(shapes, placePanels(sheet, angle, still, walk));
  };
  const waiting = movedBodies(task, [0, 0.5, 1].map(posedAt));
  const covers = coversOf(order);
  for (const moment of MOMENTS) {
    if (waiting.length === 0) break;
    const posed = posedAt(moment);
    for (let k = waiting.length - 1; k >= 0; k--)
      if (task.timeIsUp?.()) return [];
      else if (waiting[k]!.some((panel) => canReach(posed, panel, covers))) waiting.splice(k, 1);
  }
  return waiting;
}

/** Bodies of panels, the still one left out, that a driven crease turns. @param along the panels on their way */
function movedBodies(
  { sheet, poses, still, target, order }: ReachTask,
  along: readonly PosedPanels[],
): number[][] {
  const [from, to] = [poses[0]!.angle, poses.at(-1)!.angle];
  const bodies = new Groups(sheet.panelRings.length);
  const driven: number[] = [];
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const [p, q] = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
    if (p === NONE || q === NONE || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;
    const most = poses.reduce((way, { angle }) => Math.max(way, Math.abs(angle[e]! - from[e]!)), 0);
    if (most < MISS) bodies.join(p, q);
    else if (!Number.isNaN(target[e]!) && Math.abs(to[e]! - from[e]!) >= MISS) driven.push(p, q);
  }
  for (const [f, g] of order) if (goAlike(along, f, g)) bodies.join(f, g);
  const moved = new Map<number, number[]>();
  for (const panel of driven) moved.set(bodies.find(panel), []);
  moved.delete(bodies.find(still));
  for (let panel = 0; panel < sheet.panelRings.length; panel++) moved.get(bodies.find(panel))?.push(panel);
  return [...moved.values()];
}

/** Do two panels stay where the other sees them? */
const goAlike = ([start, ...later]: readonly PosedPanels[], a: number, b: number): boolean =>
  later.every((posed) => relativeMotion(start!, posed, a, b) < TOUCH);

/** What lies on each panel: the other panel, and the side on which the first of the two lies as the second sees it. */
interface Lying {
  readonly other: number;
  readonly side: 1 | -1;
  readonly seenByOther: boolean;
}
type Covers = ReadonlyMap<number, readonly Lying[]>;

function coversOf(order: LayerOrder): Covers {
  const covers = new Map<number, Lying[]>();
  const add = (panel: number, lying: Lying) => {
    const list = covers.get(panel);
    if (list) list.push(lying);
    else covers.set(panel, [lying]);
  };
  for (const [f, g, side] of order) {
    add(g, { other: f, side, seenByOther: false });
    add(f, { other: g, side, seenByOther: true });
  }
  return covers;
}

/** On which side of a panel the other lies in this pose: seen by the other it depends on which ways the two face. */
function sideOn({ normal: n }: PosedPanels, panel: number, { other, side, seenByOther }: Lying): 1 | -1 {
  let cosine = 0;
  for (let k = 0; k < 3; k++) cosine += n[3 * panel + k]! * n[3 * other + k]!;
  return seenByOther && cosine > 0 ? (-side as 1 | -1) : side;
}

function canReach(posed: PosedPanels, panel: number, covers: Covers): boolean {
  const lying = covers.get(panel) ?? [];
  for (const side of [1, -1] as const) {
    const over = lying.filter((one) => sideOn(posed, panel, one) === side);
    for (const [x, y] of samplesOf(posed.shapes, panel)) {
      const start = placeOver(posed, panel, x, y, side * 2 * TOUCH);
      if (over.some(({ other }) => liesAt(posed, other, start))) continue;
      for (const [dx, dy, dz] of evenDirections) {
        const n = posed.normal;
        const up = dx * n[3 * panel]! + dy * n[3 * panel + 1]! + dz * n[3 * panel + 2]!;
        if (up * side > 0.05 && !isBlocked(posed, panel, start, [dx, dy, dz])) return true;
      }
    }
  }
  return false;
}

/** Middle points of each triangle and of its quarters. */
function samplesOf({ triangles, flat }: PanelShapes, panel: number): [number, number][] {
  const samples: [number, number][] = [];
  const own = triangles[panel]!;
  for (let i = 0; i < own.length; i += 3)
    for (const weights of [
      [1, 1, 1],
      [4, 1, 1],
      [1, 4, 1],
      [1, 1, 4],
    ]) {
      const sum = weights[0]! + weights[1]! + weights[2]!;
      const along = (axis: number) =>
        weights.reduce((total, w, k) => total + (w / sum) * flat[2 * own[i + k]! + axis]!, 0);
      samples.push([along(0), along(1)]);
    }
  return samples;
}

/** Does a panel lie right at a place? */
function liesAt(posed: PosedPanels, panel: number, [px, py, pz]: Space): boolean {
  const [x, y, height] = seenFrom(posed, panel, px, py, pz);
  return Math.abs(height) < 4 * TOUCH && isInside(posed, panel, x, y);
}

function isBlocked(posed: PosedPanels, own: number, [px, py, pz]: Space, [dx, dy, dz]: Space): boolean {
  const { shapes, normal: n, offset } = posed;
  for (let panel = 0; panel < shapes.panels; panel++) {
    if (panel === own) continue;
    const height = n[3 * panel]! * px + n[3 * panel + 1]! * py + n[3 * panel + 2]! * pz - offset[panel]!;
    const rise = n[3 * panel]! * dx + n[3 * panel + 1]! * dy + n[3 * panel + 2]! * dz;
    const way = -height / rise;
    if (!(way > TOUCH) || way === Number.POSITIVE_INFINITY) continue;
    const [x, y] = seenFrom(posed, panel, px + way * dx, py + way * dy, pz + way * dz);
    if (isInside(posed, panel, x, y)) return true;
  }
  return false;
}

/** Evenly spread over the sphere along a spiral that turns by the golden angle (common practice, no source). */
const evenDirections: readonly Space[] = Array.from({ length: DIRECTIONS }, (_, k) => {
  const z = 1 - (2 * k + 1) / DIRECTIONS;
  const turn = k * Math.PI * (3 - Math.sqrt(5));
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(turn), r * Math.sin(turn), z];
});
