/**
 * The poses of a lesson, as they come from the solver, and what is shown at any place of the slider. Kept outside
 * React: a pose never passes through its state.
 */

import type { PaperFacts } from '../../core/contact/give.ts';
import type { ToldStep } from '../../core/drawn/told-sides.ts';
import type { Aside } from '../../core/layer/aside.ts';
import type { LayerOrder } from '../../core/layer/problem.ts';
import { SAME_POSE } from '../../core/numeric/tolerance.ts';
import { type PanelWalk, type Placement, placePanels, walkPanels } from '../../core/pose/place.ts';
import type { MotionReport, TrackPose } from '../../core/pose/track.ts';
import type { StepEnd } from '../../core/run/step-known.ts';
import { KIND } from '../../core/sheet/kind.ts';
import { NONE, type Sheet } from '../../core/sheet/sheet.ts';
import { panelContaining } from '../../core/sheet/walk.ts';
import type { OnTrack, PaintedBoard, Painter } from './painter.ts';

/** A pose that can be shown: which step, how far into it, and the angles on the sheet of that step. */
export interface PlacedPose {
  readonly step: number;
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly placement: Placement;
  /** Level of each panel along its own normal, and how far grazing panels are bent aside. */
  readonly levels: Float32Array;
  readonly aside: Aside | null;
  /** Is it the end of its step? */
  readonly atEnd: boolean;
  /** Creases from this number on are bend lines. */
  readonly ownCreases: number;
  readonly bends: Float32Array;
}

interface StepRecord {
  sheet: Sheet;
  panelOf: Int32Array | null;
  poses: TrackPose[];
  report: MotionReport | null;
}

export class TrackBoard implements PaintedBoard {
  readonly steps: StepRecord[];
  /** Layer order at the end of each step, as far as it is known; panels of the lesson's own sheet. */
  readonly orders: (LayerOrder | undefined)[] = [];
  private readonly known: (LayerOrder | undefined)[] = [];
  private still: readonly [number, number];
  private readonly walks = new Map<Sheet, { still: number; walk: PanelWalk }>();
  private readonly partOrders = new WeakMap<Sheet, Map<LayerOrder, LayerOrder>>();
  private paint: (() => Painter) | null = null;
  private painter: Painter | null = null;

  constructor(
    readonly sheet: Sheet,
    stepCount: number,
    still: readonly [number, number],
    readonly paper: PaperFacts = {},
  ) {
    this.still = still;
    const flat = { at: 0, angle: new Float64Array(sheet.creaseKind.length) };
    this.steps = Array.from({ length: Math.max(1, stepCount) }, () => ({
      sheet,
      panelOf: null,
      poses: [],
      report: null,
    }));
    this.steps[0]!.poses.push(flat);
  }

  /** A flat point of the panel that stays still, sheet coordinates. */
  keepStill(point: readonly [number, number]): void {
    this.still = point;
    this.walks.clear();
    this.painter = this.paint?.() ?? null;
  }

  /** From now on poses are told as their paper is drawn; before, every panel lies where stiff paper has it. */
  paintWith(made: typeof Painter): void {
    this.paint = () => new made(this);
    this.painter = this.paint();
  }

  /** A pose sent on the way. Poses with bend lines cannot be shown before their sheet is known. */
  addPose(step: number, pose: TrackPose): void {
    const record = this.steps[step]!;
    if (pose.angle.length !== record.sheet.creaseKind.length) return;
    const last = record.poses[record.poses.length - 1];
    // The solver began anew, another way.
    if (last && pose.at <= last.at) record.poses = [];
    if (record.poses.length === 0) record.poses.push({ at: 0, angle: this.startOf(step) });
    if (pose.at > 0) record.poses.push(pose);
  }

  /** The finished track of a step. `reached`: the share of the step that its last pose stands for. */
  endStep(
    step: number,
    track: {
      sheet: Sheet | null;
      panelOf: Int32Array;
      poses: readonly TrackPose[];
      reached: number;
      report: MotionReport;
      end: StepEnd;
    },
  ): void {
    const poses = track.poses.map(({ at, angle }) => ({ at: at * track.reached, angle }));
    // a step that folds nothing begins and ends in one pose
    const last = poses.at(-1);
    if (last && last.at < track.reached) poses.push({ at: track.reached, angle: last.angle });
    this.steps[step] = {
      sheet: track.sheet ?? this.sheet,
      panelOf: track.sheet ? track.panelOf : null,
      poses,
      report: track.report,
    };
    if (track.end.alone && track.end.closes) this.shape = { step, angle: track.end.angle, order: [] };
  }

  /** The state that a step is to reach, where it closes although no motion to it was found; and the layers there. */
  shape: { readonly step: number; readonly angle: Float64Array; readonly order: LayerOrder } | null = null;

  /** That state as it stands in the pattern, however paper gets there. */
  finishedPose(): PlacedPose | null {
    if (!this.shape) return null;
    return this.place(this.shape.step, this.sheet, this.shape.angle, null);
  }

  /** @param known what the next step starts from, where there is no order to be told */
  learnOrder(step: number, order: LayerOrder, known = order): void {
    this.known[step] = known;
    if (this.shape?.step === step) this.shape = { ...this.shape, order };
    else this.orders[step] = order;
  }

  /** What is known of the layers at the start of a step. */
  orderBefore(step: number): LayerOrder {
    return this.known.slice(0, step).findLast((order) => order !== undefined) ?? [];
  }

  /** What is known of the layers at a pose: of its start the surest on the way, of its end at the end. */
  orderAt(step: number, atEnd: boolean, angle: Float64Array): LayerOrder {
    if (this.shape && sameAngles(angle, this.shape.angle)) return this.shape.order;
    const end = this.orders[step] ?? [];
    return atEnd ? end : [...end, ...(this.orders[step - 1] ?? [])];
  }

  /** The same for the panels of a pose's own sheet, which bend lines may have cut into parts. */
  orderOfParts({ step, sheet, atEnd, angle }: PlacedPose): LayerOrder {
    return this.inParts(sheet, step, this.orderAt(step, atEnd, angle));
  }

  /** An order of the lesson's own panels for the parts that a step's sheet has of them. */
  private inParts(sheet: Sheet, step: number, order: LayerOrder): LayerOrder {
    const panelOf = this.steps[step]!.panelOf;
    if (!panelOf || sheet === this.sheet) return order;
    const parts: number[][] = [];
    panelOf.forEach((own, part) => {
      (parts[own] ??= []).push(part);
    });
    return order.flatMap(([f, g, side]) =>
      (parts[f] ?? []).flatMap((p) => (parts[g] ?? []).map((q) => [p, q, side] as const)),
    );
  }

  /** All steps as panels of one sheet see them. */
  stepsAsTold(sheet: Sheet): ToldStep[] {
    const step = this.steps.findIndex((record) => record.sheet === sheet);
    let known = this.partOrders.get(sheet);
    if (!known) this.partOrders.set(sheet, (known = new Map()));
    return this.steps.map((record, k) => {
      const own = this.known[k];
      if (own && !known.has(own)) known.set(own, this.inParts(sheet, step, own));
      return { poses: record.sheet === sheet ? record.poses : null, order: own && known.get(own) };
    });
  }

  /** Is the finished track of a step known? */
  finished(step: number): boolean {
    return this.steps[step]?.report != null;
  }

  private startOf(step: number): Float64Array {
    const before = this.steps[step - 1]?.poses;
    const last = before?.[before.length - 1];
    return last
      ? last.angle.slice(0, this.sheet.creaseKind.length)
      : new Float64Array(this.sheet.creaseKind.length);
  }

  /** How far the slider can go: whole steps plus the part of the step that was reached. */
  get reached(): number {
    let reached = 0;
    for (let step = 0; step < this.steps.length; step++) {
      const { poses } = this.steps[step]!;
      const last = poses[poses.length - 1];
      if (!last) break;
      reached = step + last.at;
      if (last.at < 1) break;
    }
    return reached;
  }

  /** Angles at a place of the slider (0 the flat sheet, 1 the end of the first step…), blended between poses. */
  anglesAt(place: number): {
    step: number;
    sheet: Sheet;
    angle: Float64Array;
    on: OnTrack;
  } {
    const at = Math.max(0, Math.min(place, this.reached));
    let step = Math.min(this.steps.length - 1, Math.floor(at));
    if (step > 0 && (at === step || this.steps[step]!.poses.length === 0)) step--;
    const { poses, sheet } = this.steps[step]!;
    const share = at - step;
    let high = poses.findIndex((pose) => pose.at >= share);
    if (high < 0) high = poses.length - 1;
    const b = poses[high]!;
    const a = poses[Math.max(0, high - 1)]!;
    const part = b.at > a.at ? (share - a.at) / (b.at - a.at) : 1;
    const angle = new Float64Array(b.angle.length);
    for (let e = 0; e < angle.length; e++) angle[e] = a.angle[e]! + (b.angle[e]! - a.angle[e]!) * part;
    return { step, sheet, angle, on: { share, from: a } };
  }

  /** The pose at a place of the slider, placed and layered for drawing. */
  poseAt(place: number): PlacedPose {
    const { step, sheet, angle, on } = this.anglesAt(place);
    return this.place(step, sheet, angle, on);
  }

  /** Places given angles of a step's sheet. @param on null for a pose that is on no track */
  place(step: number, sheet: Sheet, angle: Float64Array, on: OnTrack | null): PlacedPose {
    const { still, walk } = this.walkOf(sheet);
    const placement = placePanels(sheet, angle, still, walk);
    const posed = { step, sheet, angle, placement };
    const drawn = this.painter?.draw({ ...posed, on });
    return {
      ...posed,
      ...(drawn ?? { levels: new Float32Array(sheet.panelRings.length), aside: null }),
      atEnd: on !== null && sameAngles(angle, this.steps[step]!.poses.at(-1)!.angle),
      ownCreases: this.sheet.creaseKind.length,
      bends: this.bendsOf(step, sheet, angle),
    };
  }

  /** Panel of a step's sheet that stays still. */
  stillPanel(sheet: Sheet): number {
    return this.walkOf(sheet).still;
  }

  /** The lesson's own panel that a panel of a step's sheet is part of. */
  ownPanel(step: number, panel: number): number {
    return this.steps[step]?.panelOf?.[panel] ?? panel;
  }

  /** Parts of the shown sheet that panels of the lesson's own were cut into. */
  partsOf({ step, sheet }: PlacedPose, panels: readonly number[]): Set<number> {
    const wished = new Set(panels);
    const parts = new Set<number>();
    for (let part = 0; part < sheet.panelRings.length; part++)
      if (wished.has(this.ownPanel(step, part))) parts.add(part);
    return parts;
  }

  walkOf(sheet: Sheet) {
    const known = this.walks.get(sheet);
    if (known) return known;
    const panel = panelContaining(sheet, this.still[0], this.still[1]);
    const still = panel === NONE ? 0 : panel;
    const made = { still, walk: walkPanels(sheet, still) };
    this.walks.set(sheet, made);
    return made;
  }

  /** Degrees by which each panel bends: the sharpest of the bend lines that cross it. */
  private bendsOf(step: number, sheet: Sheet, angle: Float64Array): Float32Array {
    const bends = new Float32Array(sheet.panelRings.length);
    const panelOf = this.steps[step]?.panelOf;
    if (!panelOf) return bends;
    const worst = new Map<number, number>();
    for (let e = this.sheet.creaseKind.length; e < sheet.creaseKind.length; e++) {
      if (sheet.creaseKind[e] === KIND.edge || sheet.creaseKind[e] === KIND.cut) continue;
      const own = panelOf[sheet.halfEdgePanel[2 * e]!];
      if (own === undefined) continue;
      const bend = (Math.abs(angle[e]!) * 180) / Math.PI;
      worst.set(own, Math.max(worst.get(own) ?? 0, bend));
    }
    for (let p = 0; p < bends.length; p++) bends[p] = worst.get(panelOf[p]!) ?? 0;
    return bends;
  }
}

function sameAngles(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((angle, e) => Math.abs(angle - b[e]!) < SAME_POSE);
}
