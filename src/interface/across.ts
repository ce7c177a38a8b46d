/** Folding on the model: two points make a line, and the layers chosen fold over it. */
import { create } from 'zustand';
import { cross, dot, type Space } from '../core/layer/planes.ts';
import { layersAt } from '../core/layer/stacks.ts';
import { withFoldAcross } from '../core/lesson/edit-steps.ts';
import { type Folded, foldAcross } from '../core/lesson/fold-across.ts';
import { halfEdgeOrigin, panelRing } from '../core/sheet/walk.ts';
import { placed } from '../scene/stack.ts';
import type { ModelStage } from '../scene/stage.ts';
import { editLesson } from './edits.ts';
import { layersNow } from './layers-now.ts';
import { playhead } from './playhead.ts';
import { get, set } from './store.ts';
import { standAt } from './tracks.ts';
import { words } from './words.ts';

/** A point that was picked on the paper. */
export interface AcrossPoint {
  readonly panel: number;
  readonly flat: readonly [number, number];
  readonly at: Space;
}

interface Across {
  readonly on: boolean;
  readonly points: readonly AcrossPoint[];
  readonly layers: 'one' | 'all';
  /** Folds toward the eye, or behind. */
  readonly toEye: boolean;
  /** The other side of the line moves. */
  readonly otherSide: boolean;
  /** The eye's side of the plane when the second point was picked. */
  readonly eyeSide: 1 | -1;
}

const rest: Across = { on: false, points: [], layers: 'all', toEye: true, otherSide: false, eyeSide: 1 };
export const useAcross = create<Across>()(() => rest);
export const across = useAcross.getState;
const put = useAcross.setState;

/** Only at the end of a step (or on the flat sheet) can the next one begin. */
const SAME_PLACE = 1e-6;

export const acrossActions = {
  toggle: () => {
    if (across().on) {
      acrossActions.close();
      return;
    }
    const place = Math.round(playhead.place);
    if (Math.abs(playhead.place - place) > SAME_PLACE) playhead.moveTo(Math.ceil(playhead.place));
    set({ byHand: false, selection: null, picked: [], marks: null });
    put({ ...rest, on: true });
  },
  close: (): boolean => {
    if (!across().on) return false;
    put(rest);
    set({ marks: null });
    return true;
  },
  /** Takes back the last point; with none the tool is put away. */
  back: (): boolean => {
    const { on, points } = across();
    if (!on) return false;
    if (points.length === 0) return acrossActions.close();
    put({ points: points.slice(0, -1) });
    set({ marks: null });
    return true;
  },
  addPoint: (point: AcrossPoint, stage: ModelStage) => {
    const { points } = across();
    const kept = points.length >= 2 ? [] : points;
    put({ points: [...kept, point], eyeSide: eyeSideOf(point, stage) });
  },
  choose: (change: Partial<Pick<Across, 'layers' | 'toEye' | 'otherSide'>>) => {
    put(change);
  },
  fold: () => {
    const folded = foldedNow();
    const { lesson, sheet } = get();
    if (!folded || 'refused' in folded || !lesson || !sheet) return;
    const step = Math.round(playhead.place) - 1;
    const title = across().toEye ? words.foldOver : words.foldBehind;
    acrossActions.close();
    editLesson('fold across', (one) => withFoldAcross(one, step, sheet, folded, title));
    standAt(step + 2);
  },
};

/** Which way the group's normal looks from the eye: 1 toward it. */
function eyeSideOf({ panel, at }: AcrossPoint, stage: ModelStage): 1 | -1 {
  const { stacks } = layersNow;
  if (!stacks) return 1;
  const { normal } = stacks.planes.groups[stacks.planes.groupOf[panel]!]!;
  const eye = stage.eye;
  return dot(normal, [eye[0] - at[0], eye[1] - at[1], eye[2] - at[2]]) > 0 ? 1 : -1;
}

/** What the fold that is set up would do; null before there is a line, or while the layers are not known. */
export function foldedNow(): Folded | null {
  const { points, layers, eyeSide } = across();
  const { pose } = playhead;
  const { stacks } = layersNow;
  const [first, second] = points;
  if (!pose || !first || !second || !stacks || layersNow.pose?.sheet !== pose.sheet) return null;
  if (pose.sheet !== get().sheet) return { refused: words.notOnBentPaper, panels: [] };
  const group = stacks.planes.groupOf[first.panel]!;
  if (stacks.planes.groupOf[second.panel] !== group)
    return { refused: words.notOnePlane, panels: [first.panel, second.panel] };
  const { from, to, toward } = lineNow()!;
  const here = layersAt(stacks, pose.placement, first.panel, first.flat);
  const top = eyeSide > 0 ? here.panels.at(-1)! : here.panels[0]!;
  return foldAcross({
    ...{ sheet: pose.sheet, angle: pose.angle, placement: pose.placement, stacks, group, toward },
    ...{ from, to },
    panels: layers === 'all' ? stacks.planes.groups[group]!.panels : [top],
    whole: layers === 'one',
  });
}

/** The line with what moves on its left, seen against `toward`; and that left. */
function lineNow(): { from: Space; to: Space; left: Space; toward: 1 | -1 } | null {
  const { points, toEye, otherSide, eyeSide } = across();
  const [first, second] = points;
  const { stacks } = layersNow;
  if (!first || !second || !stacks) return null;
  const toward = (toEye ? eyeSide : -eyeSide) as 1 | -1;
  const group = stacks.planes.groupOf[first.panel]!;
  const swapped = otherSide !== smallerSideIsRight(group, first.at, second.at, toward);
  const [from, to] = swapped ? [second.at, first.at] : [first.at, second.at];
  const raw = cross(stacks.planes.groups[group]!.normal, [to[0] - from[0], to[1] - from[1], to[2] - from[2]]);
  return { from, to, left: [toward * raw[0], toward * raw[1], toward * raw[2]], toward };
}

/** The smaller part of the paper is the one that a hand would move. */
function smallerSideIsRight(group: number, from: Space, to: Space, toward: 1 | -1): boolean {
  const plane = layersNow.stacks!.planes.groups[group]!;
  const way: Space = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const left = cross(plane.normal, way);
  let [most, least] = [0, 0];
  for (let v = 0; v < plane.net.x.length; v++) {
    const at = (k: 0 | 1 | 2) =>
      plane.offset * plane.normal[k] + plane.net.x[v]! * plane.across[k] + plane.net.y[v]! * plane.along[k];
    const off = toward * dot(left, [at(0) - from[0], at(1) - from[1], at(2) - from[2]]);
    most = Math.max(most, off);
    least = Math.min(least, off);
  }
  return most > -least;
}

/** The paper that would move, as polygons in the frame of the pose. */
export function movingPaper(): Space[][] {
  const line = lineNow();
  const folded = foldedNow();
  const { pose } = playhead;
  if (!line || !folded || 'refused' in folded || !pose) return [];
  const { from, left } = line;
  const off = (p: Space) => dot(left, [p[0] - from[0], p[1] - from[1], p[2] - from[2]]);
  return folded.panels.map((panel) => {
    const corners = panelRing(pose.sheet, pose.sheet.panelRings[panel]![0]!).map((h) => {
      const v = halfEdgeOrigin(pose.sheet, h);
      return placed(pose.placement, panel, pose.sheet.vertexX[v]!, pose.sheet.vertexY[v]!);
    });
    return corners.flatMap((corner, k) => {
      const next = corners[(k + 1) % corners.length]!;
      const [p, q] = [off(corner), off(next)];
      const own = p >= 0 ? [corner] : [];
      if (p >= 0 === q >= 0) return own;
      const t = p / (p - q);
      const cut = (c: 0 | 1 | 2) => corner[c] + t * (next[c] - corner[c]);
      return [...own, [cut(0), cut(1), cut(2)] as const];
    });
  });
}

/**
 * The point of the paper that a pick means: a corner within reach, else the middle or a third of a crease within reach,
 * else the place itself.
 */
export function acrossPointOf(pick: {
  readonly panel: number;
  readonly flat: readonly [number, number];
  readonly vertex: number | null;
  readonly crease: number | null;
}): AcrossPoint | null {
  const { pose } = playhead;
  if (!pose) return null;
  const { sheet, placement } = pose;
  let flat = pick.flat;
  if (pick.vertex !== null) flat = [sheet.vertexX[pick.vertex]!, sheet.vertexY[pick.vertex]!];
  else if (pick.crease !== null) flat = nearestShare(pick.crease, pick.flat);
  return { panel: pick.panel, flat, at: placed(placement, pick.panel, flat[0], flat[1]) };
}

/** Shares of a crease that a point snaps to, where it is that near (in shares of the crease). */
const SHARES = [1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4];
const SNAP_SHARE = 0.04;

function nearestShare(crease: number, [x, y]: readonly [number, number]): readonly [number, number] {
  const { sheet } = playhead.pose!;
  const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  const [ax, ay] = [sheet.vertexX[a]!, sheet.vertexY[a]!];
  const [dx, dy] = [sheet.vertexX[b]! - ax, sheet.vertexY[b]! - ay];
  const share = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
  const snapped = SHARES.find((one) => Math.abs(one - share) < SNAP_SHARE) ?? share;
  return [ax + snapped * dx, ay + snapped * dy];
}
