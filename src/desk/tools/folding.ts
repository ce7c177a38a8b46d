/** Folding on the model: two points make a line, and the layers chosen fold over it. */

import { create } from 'zustand';
import { dot, liftPoint, type Space } from '../../core/layer/planes.ts';
import { type DrawnLine, foldAcross, movingSide } from '../../core/lesson/on-model/fold-across.ts';
import { type Folded, type FoldPlan, isRefused, type Refusal } from '../../core/lesson/on-model/folded.ts';
import { type LyingPaper, offRim, outlineInside } from '../../core/lesson/on-model/in-plane.ts';
import { layersBeside, wholeLayers } from '../../core/lesson/on-model/layers-under.ts';
import { canLie } from '../../core/lesson/on-model/lies.ts';
import { reverseFolds } from '../../core/lesson/on-model/reverse-fold.ts';
import { spreadFolds } from '../../core/lesson/on-model/spread-fold.ts';
import { withStaying } from '../../core/lesson/on-model/what-stays.ts';
import { withFold } from '../../core/lesson/on-model/with-fold.ts';
import { placeOf } from '../../core/pose/place.ts';
import { mainPanel } from '../../core/sheet/walk.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { editLesson } from '../document/edits.ts';
import { layersNow } from '../run/layers-now.ts';
import { playhead } from '../play/playhead.ts';
import { get, set } from '../store.ts';
import { standAt } from '../run/tracks.ts';
import { foldWords, words } from '../../words/words.ts';

/** A point that was picked on the paper. */
export interface AcrossPoint {
  readonly panel: number;
  readonly flat: readonly [number, number];
  readonly at: Space;
}

/** Folds toward the eye or behind, and those that open a flap. */
export const foldWays = ['over', 'behind', 'inside', 'outside', 'squash', 'petal'] as const;
export type FoldWay = (typeof foldWays)[number];

interface Across {
  readonly on: boolean;
  readonly points: readonly AcrossPoint[];
  /** All of the plane, or so many from the eye on. */
  readonly layers: 'all' | number;
  readonly way: FoldWay;
  /** The other side of the line moves. */
  readonly otherSide: boolean;
  /** The eye's side of the plane when the second point was picked. */
  readonly eyeSide: 1 | -1;
}

const rest: Across = { on: false, points: [], layers: 'all', way: 'over', otherSide: false, eyeSide: 1 };
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
  choose: (change: Partial<Pick<Across, 'layers' | 'otherSide'>>) => put(change),
  /** A flap that opens begins at the top layer; a straight fold may take all. */
  chooseWay: (way: FoldWay) => {
    const { layers } = across();
    put({ way, layers: layers === 'all' && !isStraight(way) ? 1 : layers });
  },
  fold: () => {
    const { way } = across();
    const plan = foldedNow();
    const { lesson, sheet } = get();
    const { pose, board } = playhead;
    const drawn = drawnNow(way);
    if (!plan || isRefused(plan) || !lesson || !sheet || !pose || !drawn || isRefused(drawn)) return;
    const step = Math.round(playhead.place) - 1;
    const ends = board?.steps.map(({ poses }) => poses.at(-1)?.angle.slice(0, sheet.creaseKind.length)) ?? [];
    acrossActions.close();
    const made = { sheet, angle: pose.angle, plan, ends, ...foldWords[way] };
    const stays = { paper: drawn.paper, plan, still: board?.stillPanel(sheet) ?? mainPanel(sheet) };
    editLesson('fold across', (one) => withStaying(withFold(one, step, made), stays));
    standAt(step + 2);
  },
};

export const isStraight = (way: FoldWay) => way === 'over' || way === 'behind';

/** Which way the group's normal looks from the eye: 1 toward it. */
function eyeSideOf({ panel, at }: AcrossPoint, stage: ModelStage): 1 | -1 {
  const { stacks } = layersNow;
  if (!stacks) return 1;
  const { normal } = stacks.planes.groups[stacks.planes.groupOf[panel]!]!;
  const eye = stage.eye;
  return dot(normal, [eye[0] - at[0], eye[1] - at[1], eye[2] - at[2]]) > 0 ? 1 : -1;
}

/** A line on paper, and the panels beside it, the one next to the eye first. */
interface Drawn {
  readonly paper: LyingPaper;
  readonly line: DrawnLine;
  readonly panels: readonly number[];
}

/** What was drawn and on what; a refusal where no straight line can be drawn so; null before there is a line. */
function drawnNow(way: FoldWay): Drawn | Refusal | null {
  const { points, eyeSide } = across();
  const { pose } = playhead;
  const { stacks } = layersNow;
  const [first, second] = points;
  if (!pose || !first || !second || !stacks || layersNow.pose?.sheet !== pose.sheet) return null;
  if (pose.sheet !== get().sheet) return { refused: words.notOnBentPaper, panels: [] };
  const group = stacks.planes.groupOf[first.panel]!;
  if (stacks.planes.groupOf[second.panel] !== group)
    return { refused: words.notOnePlane, panels: [first.panel, second.panel] };
  const { sheet, angle, placement } = pose;
  const paper: LyingPaper = { sheet, angle, placement, stacks, group };
  const line = lineOn(paper, first.at, second.at, (way === 'behind' ? -eyeSide : eyeSide) as 1 | -1);
  const stack = layersBeside(paper, line);
  return { paper, line, panels: eyeSide > 0 ? [...stack].reverse() : stack };
}

/** The line with what moves on its left: the smaller part, which a hand would move, unless the other is chosen. */
function lineOn(paper: LyingPaper, from: Space, to: Space, toward: 1 | -1): DrawnLine {
  const { otherSide } = across();
  const line: DrawnLine = { from, to, toward };
  const { side } = movingSide(paper, line);
  const { net } = paper.stacks.planes.groups[paper.group]!;
  const off = Array.from(net.x, (x, v) => offRim(side, [x, net.y[v]!]));
  const rightIsSmaller = Math.max(0, ...off) > -Math.min(0, ...off);
  return rightIsSmaller === otherSide ? line : { from: to, to: from, toward };
}

/** How many layers lie beside the line. */
export function depthNow(): number {
  const drawn = drawnNow(across().way);
  return drawn && !isRefused(drawn) ? drawn.panels.length : 0;
}

/** Plans for what is drawn now, by way; worked out once. */
let known: { of: readonly unknown[]; plans: Map<FoldWay, Folded> } = { of: [], plans: new Map() };

/** What the fold that is set up would do; null before there is a line, or while the layers are not known. */
export const foldedNow = (): Folded | null => foldedBy(across().way);

/** The same for another way to fold. */
export function foldedBy(way: FoldWay): Folded | null {
  const { points, layers, otherSide, eyeSide } = across();
  const of = [points, layers, otherSide, eyeSide, layersNow.stacks, get().lesson];
  const isKnown = of.every((one, k) => one === known.of[k]);
  const had = isKnown && known.plans.get(way);
  if (had) return had;
  const drawn = drawnNow(way);
  if (!drawn || isRefused(drawn)) return drawn;
  if (!isKnown) known = { of, plans: new Map() };
  const plan = firstThatLies(drawn.paper, plansFor(way, drawn));
  known.plans.set(way, plan);
  return plan;
}

function plansFor(way: FoldWay, { paper, line, panels: beside }: Drawn): readonly FoldPlan[] | Refusal {
  const { layers } = across();
  const isAll = layers === 'all' && isStraight(way);
  const panels = isAll
    ? paper.stacks.planes.groups[paper.group]!.panels
    : wholeLayers(paper, beside.slice(0, layers === 'all' ? 1 : layers));
  if (isStraight(way)) {
    const plan = foldAcross({ ...paper, ...line, panels, whole: !isAll });
    return isRefused(plan) ? plan : [plan];
  }
  return way === 'squash' || way === 'petal'
    ? spreadFolds({ ...paper, ...line, panels, way })
    : reverseFolds({ ...paper, ...line, panels, way: way === 'inside' ? 'inside' : 'outside' });
}

/** A look at whether the layers can lie so may take as long, milliseconds; the step itself looks again. */
const LOOK_MILLISECONDS = 250;

function firstThatLies(paper: LyingPaper, plans: readonly FoldPlan[] | Refusal): Folded {
  const { lesson } = get();
  if ('refused' in plans || !lesson) return plans as Refusal;
  const end = performance.now() + LOOK_MILLISECONDS;
  const plan = plans.find((one) => canLie(lesson, paper, one, () => performance.now() > end) !== false);
  return plan ?? { refused: words.cannotLie, panels: plans[0]!.panels };
}

/** The paper that would move, as polygons in the frame of the pose. */
export function movingPaper(): Space[][] {
  const folded = foldedNow();
  const drawn = drawnNow(across().way);
  if (!folded || isRefused(folded) || !drawn || isRefused(drawn)) return [];
  const { paper } = drawn;
  const plane = paper.stacks.planes.groups[paper.group]!;
  return folded.panels.map((panel) =>
    outlineInside(paper, panel, folded.region).map(([x, y]) => liftPoint(plane, x, y)),
  );
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
  return { panel: pick.panel, flat, at: placeOf(placement, pick.panel, flat[0], flat[1]) };
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
