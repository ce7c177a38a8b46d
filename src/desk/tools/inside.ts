/**
 * Looking inside: ties the wishes of the inside store to the model. What it finds out (the stack at a point, the
 * section) is read by views in their own time, like the playhead.
 */

import { drawnLeaves } from '../../core/drawn/drawn-pose.ts';
import { asideAt } from '../../core/layer/aside.ts';
import type { Leaves } from '../../core/layer/leaves.ts';
import type { Space } from '../../core/layer/planes.ts';
import { type Section, type SectionPlane, sectionOf } from '../../core/layer/section.ts';
import { layersAt } from '../../core/layer/stacks.ts';
import { type Placement, panelNormal, placeOf } from '../../core/pose/place.ts';
import { insidePoint } from '../../core/sheet/inside-point.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import { panelContaining } from '../../core/sheet/walk.ts';
import type { InsideLook, ModelStage, Veil } from '../../scene/stage.ts';
import { inside, type PaperPoint, setInside, useInside } from './inside-wishes.ts';
import { layersNow } from '../run/layers-now.ts';
import { motionReduced } from '../play/player.ts';
import { playhead } from '../play/playhead.ts';
import { get, useStore } from '../store.ts';
import type { PlacedPose } from '../play/board.ts';

/** How much of a panel stays to be seen when it is glass. */
const GLASS = 0.17;
/** How far a layer is lifted before it is gone, sheet units. */
const LIFT = 0.1;
/** Places of a triangle from which what hides it is looked for: shares of its corners. */
const SAMPLES = [
  [1 / 3, 1 / 3],
  [0.08, 0.08],
  [0.84, 0.08],
  [0.08, 0.84],
  [0.46, 0.46],
  [0.46, 0.08],
  [0.08, 0.46],
] as const;

/** One layer of a stack, seen from the side of the eye. */
export interface Layer {
  /** Panel of the lesson's sheet. */
  readonly panel: number;
  /** Its part on the shown sheet, which bend lines may have cut. */
  readonly part: number;
  /** Does the side that faced up at the start look at the eye? */
  readonly up: boolean;
}

/** The layers at a point, from the eye's side down. */
export interface StackHere {
  readonly layers: readonly Layer[];
  readonly group: number;
  readonly cell: number;
  readonly at: Space;
  /** Off the stack toward the eye. */
  readonly toward: Space;
}

class InsideNow {
  stage: ModelStage | null = null;
  /** The stack at the clicked point or under the pointer. */
  stack: StackHere | null = null;
  /** The stack at the clicked point: the one that is peeled. */
  kept: StackHere | null = null;
  /** The section through the layers as they are known, and what it was cut from. */
  section: { section: Section; leaves: Leaves; pose: PlacedPose } | null = null;
  private leaves: { pose: PlacedPose; leaves: Leaves } | null = null;
  private lookedFrom = '';
  private readonly tuckGlass = new Set<number>();
  private listeners = new Set<() => void>();
  /** Counts changes, for views that ask whether anything is new. */
  turn = 0;

  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  private tell(): void {
    this.turn++;
    for (const listener of this.listeners) listener();
  }

  /** The leaves of the pose whose layers are known last. */
  leavesNow(): { pose: PlacedPose; leaves: Leaves } | null {
    const { pose, stacks } = layersNow;
    if (!pose || !stacks || !playhead.board) return null;
    if (this.leaves?.pose !== pose)
      this.leaves = { pose, leaves: drawnLeaves(pose.sheet, pose.placement, pose, stacks) };
    return this.leaves;
  }

  /** The layers at a point of the paper, from the eye's side down; null while they are not known. */
  stackAt(point: PaperPoint | null): StackHere | null {
    const { pose, stacks } = layersNow;
    const { board } = playhead;
    if (!point || !pose || !stacks || !board) return null;
    const part = panelContaining(pose.sheet, point.x, point.y);
    if (part < 0) return null;
    const here = layersAt(stacks, pose.placement, part, [point.x, point.y]);
    const up = stacks.planes.up;
    const eyeAlong = point.side * up[part]!;
    const panels = eyeAlong > 0 ? [...here.panels].reverse() : here.panels;
    return {
      layers: panels.map((one) => ({
        part: one,
        panel: board.ownPanel(pose.step, one),
        up: up[one]! * eyeAlong > 0,
      })),
      group: here.group,
      cell: here.cell,
      at: placeOf(pose.placement, part, point.x, point.y),
      toward: here.normal.map((value) => value * eyeAlong) as unknown as Space,
    };
  }

  /** Finds out again what the point and the slice show, and brings the model to it. */
  refresh(ease = true): void {
    const { section } = this;
    this.cutSection(inside().slice);
    if (!this.point() && section !== this.section) this.tell();
    this.show(ease);
  }

  /** Reads the stack at the point. @returns whether it was another */
  point(): boolean {
    const { point, pointer } = inside();
    const before = this.stack;
    this.kept = this.stackAt(point);
    this.stack = pointer ? this.stackAt(pointer) : this.kept;
    const changed = !sameStack(before, this.stack);
    if (changed) this.tell();
    return changed;
  }

  private cutSection(slice: SectionPlane | null): void {
    const known = slice && this.leavesNow();
    if (!slice || !known) {
      this.section = null;
      return;
    }
    // The drawing is seen from where the eye is.
    const side = this.sideOfEye(slice);
    const plane = {
      normal: slice.normal.map((value) => side * value) as unknown as Space,
      offset: side * slice.offset,
    };
    const { pose, leaves } = known;
    this.section = { section: sectionOf(pose.placement, leaves, plane, pose.aside), leaves, pose };
  }

  forgetTuck(): void {
    this.tuckGlass.clear();
  }

  private sideOfEye({ normal, offset }: SectionPlane): 1 | -1 {
    const eye = this.stage?.eye;
    return eye && eye[0] * normal[0] + eye[1] * normal[1] + eye[2] * normal[2] < offset ? -1 : 1;
  }

  /** After each picture: where the eye has moved, what stands before the selection is another. */
  eyeMoved(): void {
    const { glass, slice } = inside();
    if (!this.stage || (glass !== 'front' && !slice)) return;
    const from = this.stage.eye.map((value) => value.toFixed(3)).join();
    if (from === this.lookedFrom) return;
    this.lookedFrom = from;
    if (glass === 'front') this.refresh();
    else if (slice && this.section && this.sideOfEye(slice) !== sameWay(slice, this.section.section.plane))
      this.refresh();
  }

  private show(ease: boolean): void {
    const { stage } = this;
    const { pose } = playhead;
    if (!stage || !pose) return;
    stage.setInside(this.look(stage, pose), ease && !motionReduced());
  }

  private look(stage: ModelStage, pose: PlacedPose): InsideLook {
    const { fan, slice, glass, tuck } = inside();
    const veiled = new Map<number, Veil>();
    for (const panel of this.glassPanels(stage, pose)) veiled.set(panel, { opacity: GLASS, lift: 0 });
    for (const [panel, veil] of this.lifted()) veiled.set(panel, veil);
    return {
      fan,
      veiled,
      cut: slice && { ...slice, caps: capsOf(stage.leaves, pose, slice), bothStay: tuck !== null },
      dotted: glass !== null || fan > 0 || tuck !== null,
    };
  }

  /** Layers that are lifted off at the point. */
  private lifted(): [number, Veil][] {
    const { peeled, peeling } = inside();
    if (!peeling || !this.kept || layersNow.pose?.sheet !== playhead.pose?.sheet) return [];
    return this.kept.layers
      .slice(0, peeled)
      .map(({ part, up }) => [part, { opacity: 0, lift: up ? LIFT : -LIFT }]);
  }

  private glassPanels(stage: ModelStage, pose: PlacedPose): Iterable<number> {
    const { glass, chosen, tuck } = inside();
    const count = pose.sheet.panelRings.length;
    if (tuck) {
      // once glass, a panel stays so while the tuck plays: what comes and goes would only distract
      for (const panel of hidersOf(stage, pose, movingParts(tuck.step))) this.tuckGlass.add(panel);
      return this.tuckGlass;
    }
    if (!glass) return [];
    if (glass === 'chosen') return partsOf(pose, chosen);
    const { selection } = get();
    if (glass === 'all' || selection?.kind !== 'panel') return Array(count).keys();
    return hidersOf(stage, pose, partsOf(pose, [selection.id]));
  }
}

export const insideNow = new InsideNow();

function sameWay(a: SectionPlane, b: SectionPlane): 1 | -1 {
  return a.normal[0] * b.normal[0] + a.normal[1] * b.normal[1] + a.normal[2] * b.normal[2] > 0 ? 1 : -1;
}

function sameStack(a: StackHere | null, b: StackHere | null): boolean {
  return (
    a === b ||
    (a !== null &&
      b !== null &&
      a.layers.length === b.layers.length &&
      a.layers.every(({ part, up }, k) => part === b.layers[k]!.part && up === b.layers[k]!.up))
  );
}

/** Parts of the shown sheet that panels of the lesson's sheet were cut into. */
export function partsOf(pose: PlacedPose, panels: readonly number[]): Set<number> {
  const wished = new Set(panels);
  const parts = new Set<number>();
  for (let part = 0; part < pose.sheet.panelRings.length; part++)
    if (wished.has(playhead.board!.ownPanel(pose.step, part))) parts.add(part);
  return parts;
}

/** Panels that stand between the eye and some of the given ones. */
export function hidersOf(stage: ModelStage, { sheet }: PlacedPose, wished: ReadonlySet<number>): Set<number> {
  const passed = new Set(wished);
  const { leaves, mesh } = stage.drawnLeaves!;
  // no more places than can be looked from in a few milliseconds
  const samples = SAMPLES.slice(0, sheet.panelRings.length > 300 ? 1 : SAMPLES.length);
  leaves.leaves.forEach(({ panel }, leaf) => {
    if (!wished.has(panel)) return;
    for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
      const [a, b, c] = [0, 1, 2].map((k) => mesh.triangles[3 * t + k]!) as [number, number, number];
      for (const [p, q] of samples) {
        const at = (k: 0 | 1) =>
          p * mesh.flat[2 * a + k]! + q * mesh.flat[2 * b + k]! + (1 - p - q) * mesh.flat[2 * c + k]!;
        const place = stage.placeOf(leaf, at(0), at(1));
        for (let next = stage.hider(place, passed); next !== null; next = stage.hider(place, passed))
          passed.add(next);
      }
    }
  });
  for (const panel of wished) passed.delete(panel);
  return passed;
}

/** A panel moves in a step when it turns or shifts by more than this. */
const MOVES = 0.02;

/** Parts of the shown sheet that a step moves. */
export function movingParts(step: number): Set<number> {
  const { board } = playhead;
  const moving = new Set<number>();
  const record = board?.steps[step];
  if (!board || !record || record.poses.length === 0) return moving;
  const [start, end] = [board.poseAt(step + 1e-6), board.poseAt(step + 1)];
  for (let panel = 0; panel < end.sheet.panelRings.length; panel++)
    if (shiftOf(end.sheet, start.placement, end.placement, panel).shift > MOVES) moving.add(panel);
  return moving;
}

/** The corner of a panel that a step carries furthest, and how far. */
export function shiftOf(
  sheet: Sheet,
  from: Placement,
  to: Placement,
  panel: number,
): { shift: number; vertex: number } {
  let best = { shift: 0, vertex: -1 };
  for (const ring of sheet.panelRings[panel]!) {
    let h = ring;
    do {
      const v = (h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!;
      const [p, q] = [from, to].map((one) => placeOf(one, panel, sheet.vertexX[v]!, sheet.vertexY[v]!));
      const shift = Math.hypot(p![0] - q![0], p![1] - q![1], p![2] - q![2]);
      if (shift > best.shift) best = { shift, vertex: v };
      h = sheet.halfEdgeNext[h]!;
    } while (h !== ring);
  }
  return best;
}

function capsOf(leaves: Leaves | null, pose: PlacedPose, plane: SectionPlane) {
  const cuts = leaves ? sectionOf(pose.placement, leaves, plane, pose.aside).cuts : [];
  const asideOf = (end: 'flatFrom' | 'flatTo') =>
    Float32Array.from(cuts.flatMap(({ panel, [end]: [x, y] }) => [...asideAt(pose.aside, panel, x, y)]));
  return {
    ends: Float32Array.from(cuts.flatMap(({ flatFrom, flatTo }) => [...flatFrom, ...flatTo])),
    asideStart: asideOf('flatFrom'),
    asideEnd: asideOf('flatTo'),
    panel: Float32Array.from(cuts, ({ panel }) => panel),
    rise: Float32Array.from(cuts, ({ rise }) => rise),
  };
}

/** The point that stands for a panel when it was chosen elsewhere than on the model. */
function pointOfPanel(panel: number): PaperPoint | null {
  const { sheet } = get();
  const { pose } = playhead;
  const { stage } = insideNow;
  if (!sheet || !pose || !stage) return null;
  const [x, y] = insidePoint(sheet, panel);
  const part = panelContaining(pose.sheet, x, y);
  if (part < 0) return null;
  const normal = panelNormal(pose.placement, part);
  const at = placeOf(pose.placement, part, x, y);
  const eye = stage.eye;
  const toward = normal[0] * (eye[0] - at[0]) + normal[1] * (eye[1] - at[1]) + normal[2] * (eye[2] - at[2]);
  return { x, y, side: toward >= 0 ? 1 : -1 };
}

/** Ties the inside to a stage. @returns a call that unties it */
export function bindInside(stage: ModelStage): () => void {
  insideNow.stage = stage;
  const again = () => insideNow.refresh();
  const untie = [
    layersNow.subscribe(again),
    playhead.subscribe(() => {
      const { slice, glass, tuck } = inside();
      if ((slice || glass) && !tuck) again();
    }),
    useInside.subscribe((now, before) => {
      if (now.tuck?.step !== before.tuck?.step) insideNow.forgetTuck();
      if (now.pointer !== before.pointer) insideNow.point();
      if (now !== before && now.pointer === before.pointer) again();
    }),
    useStore.subscribe((now, before) => {
      if (now.sheet !== before.sheet)
        setInside({
          point: null,
          pointer: null,
          peeled: 0,
          peeling: false,
          slice: null,
          tuck: null,
          chosen: [],
        });
      if (now.selection === before.selection) return;
      const { selection } = now;
      const { point, glass, chosen } = inside();
      if (!selection) setInside({ point: null, peeled: 0 });
      else if (selection.kind === 'panel') {
        const here = point && now.sheet && panelContaining(now.sheet, point.x, point.y);
        if (here !== selection.id) setInside({ point: pointOfPanel(selection.id), peeled: 0 });
        if (glass === 'chosen')
          setInside({
            chosen: chosen.includes(selection.id)
              ? chosen.filter((panel) => panel !== selection.id)
              : [...chosen, selection.id],
          });
        else again();
      }
    }),
  ];
  again();
  return () => {
    for (const call of untie) call();
    insideNow.stage = null;
  };
}
