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

export class TrackPoses {
  readonly shapes: PanelShapes;
  readonly count: number;
  private readonly walk: PanelWalk;
  private readonly closes: boolean;
  private readonly between = new Map<number, PosedPanels>();
  private readonly earlier = new Map<number, PosedPanels>();
  private readonly visited = new Map<number, PosedPanels>();
  private interval = -1;

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

  /** Moment of the step, 0..1, at a part of the way from pose k to the next. */
  moment(k: number, part: number): number {
    const [a, b] = [this.poses[k]!.at, this.poses[Math.min(k + 1, this.count - 1)]!.at];
    return a + part * (b - a);
  }

  /** The panels at a part (0..1) of the way from pose k to the next; those between poses k and k + 1 are kept. */
  at(k: number, part: number): PosedPanels {
    if (k !== this.interval) {
      // the end of one interval is the start of the next
      const end = k === this.interval + 1 ? this.between.get(1) : undefined;
      this.between.clear();
      if (end) this.between.set(0, end);
      this.interval = k;
    }
    let posed = this.between.get(part);
    if (!posed) {
      posed = this.place(this.angles(k, part));
      this.between.set(part, posed);
    }
    return posed;
  }

  /** The panels so many poses from the start, parts of the way included, kept for who asks for the same again. */
  anywhere(way: number): PosedPanels {
    const k = Math.min(this.count - 2, Math.floor(way));
    let posed = this.visited.get(way);
    if (!posed) {
      posed = this.place(this.angles(k, way - k));
      if (this.visited.size * this.numbers < NUMBERS_KEPT) this.visited.set(way, posed);
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

  /** Poses before a part of the way from pose k to the next, the nearest first. */
  *before(k: number, part: number): Generator<Moment> {
    for (let j = part > 0 ? k : k - 1; j >= 0; j--) {
      let posed = j === this.interval ? this.between.get(0) : this.earlier.get(j);
      if (!posed) {
        posed = this.place(this.poses[j]!.angle);
        if (this.earlier.size * this.numbers < NUMBERS_KEPT) this.earlier.set(j, posed);
      }
      yield { posed, moment: this.poses[j]!.at };
    }
  }

  private angles(k: number, part: number): Float64Array {
    const a = this.poses[k]!.angle;
    if (part === 0) return a;
    const b = this.poses[k + 1]!.angle;
    if (part === 1) return b;
    const near = a.map((angle, e) => angle + part * (b[e]! - angle));
    if (!this.closes) return near;
    return correctPose(this.sheet, near).angle;
  }
}
