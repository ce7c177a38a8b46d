/**
 * Any moment of a track, placed. Between two poses fold angles are blended and the pose is closed again: that is what
 * the slider shows there, and it keeps panels that lie on each other together, which blended places would not.
 */
import { correctPose } from '../pose/correct.ts';
import { type PanelWalk, placePanels, walkPanels } from '../pose/place.ts';
import type { TrackPose } from '../pose/track.ts';
import { closureLoops } from '../sheet/loops.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type PanelShapes, type PosedPanels, posePanels, shapesOf } from './shapes.ts';

/** The panels at a moment of the step, 0..1. */
export interface Moment {
  readonly posed: PosedPanels;
  readonly moment: number;
}

/** Numbers that poses may take up in memory which are kept for later: 32 MB. */
const NUMBERS_KEPT = 4e6;

/** A moment is named by the way to it: so many poses from the start, a part of the way to the next included. */
export class TrackPoses {
  readonly shapes: PanelShapes;
  readonly count: number;
  private readonly walk: PanelWalk;
  private readonly closes: boolean;
  private readonly near = new Map<number, PosedPanels>();
  private readonly far = new Map<number, PosedPanels>();

  constructor(
    private readonly sheet: Sheet,
    private readonly poses: readonly TrackPose[],
    private readonly still: number,
  ) {
    this.shapes = shapesOf(sheet);
    this.count = poses.length;
    this.walk = walkPanels(sheet, still);
    this.closes = closureLoops(sheet).length > 0;
  }

  /** Moment of the step, 0..1. */
  moment(way: number): number {
    const k = Math.floor(way);
    const [a, b] = [this.poses[k]!.at, this.poses[Math.min(k + 1, this.count - 1)]!.at];
    return a + (way - k) * (b - a);
  }

  /** The panels at a moment that is asked for several times, kept until `forgetBefore` passes it. */
  at(way: number): PosedPanels {
    let posed = this.near.get(way);
    if (!posed) {
      posed = this.place(this.angles(way));
      this.near.set(way, posed);
    }
    return posed;
  }

  /** Nothing before this way is asked of `at` any more. */
  forgetBefore(way: number): void {
    for (const known of this.near.keys()) if (known < way) this.near.delete(known);
  }

  /** The panels anywhere on the way, kept for who asks for the same again as far as there is room. */
  anywhere(way: number): PosedPanels {
    let posed = this.near.get(way) ?? this.far.get(way);
    if (!posed) {
      posed = this.place(this.angles(way));
      if (this.far.size * this.numbers < NUMBERS_KEPT) this.far.set(way, posed);
    }
    return posed;
  }

  private place(angle: Float64Array): PosedPanels {
    return posePanels(this.shapes, placePanels(this.sheet, angle, this.still, this.walk));
  }

  /** Numbers that a pose takes up. */
  private get numbers(): number {
    return (3 * this.shapes.flat.length) / 2 + 11 * this.shapes.panels;
  }

  /** Whole poses before a moment, the nearest first. */
  *before(way: number): Generator<Moment> {
    for (let k = Math.ceil(way) - 1; k >= 0; k--)
      yield { posed: this.anywhere(k), moment: this.poses[k]!.at };
  }

  private angles(way: number): Float64Array {
    const k = Math.floor(way);
    const a = this.poses[k]!.angle;
    if (way === k) return a;
    const b = this.poses[k + 1]!.angle;
    const near = a.map((angle, e) => angle + (way - k) * (b[e]! - angle));
    if (!this.closes) return near;
    return correctPose(this.sheet, near).angle;
  }
}
