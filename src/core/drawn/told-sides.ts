/**
 * On which side of each other panels that are in contact belong at any moment of a lesson: as the layer orders at the
 * ends of its steps tell it. A pair stays on the side that the order names for as long as it is in contact without a
 * break, forward to the end of the step or of a later one, or else back to an earlier one.
 */

import { boxTree } from '../contact/crossings.ts';
import type { Give } from '../contact/give.ts';
import { type PosedPanels, posePanels, shapesOf } from '../contact/shapes.ts';
import type { LayerOrder } from '../layer/problem.ts';
import { placePanels } from '../pose/place.ts';
import type { TrackPose } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { type Lap, lapOf } from './lap.ts';

/** Panel f, which lies over panel g by `lap`, belongs on the side of g that faced up at the start (1) or the other (-1). */
export interface ToldLap {
  readonly f: number;
  readonly g: number;
  readonly side: 1 | -1;
  readonly lap: Lap;
}

/** A step whose sides are asked for, its poses on one sheet with the steps around it. */
export interface ToldStep {
  /** Null where they are on another sheet, which bend lines cut into more panels: nothing is followed through it. */
  readonly poses: readonly TrackPose[] | null;
  /** Layer order at its end, of panels of that sheet; left out while it is not known. */
  readonly order: LayerOrder | undefined;
}

/** Of each pair, the lower number first, the side of g on which f lies, as the order has it; 0: on both, in two places. */
type SidesOfOrder = ReadonlyMap<number, SideOfPair>;

interface SideOfPair {
  readonly f: number;
  readonly g: number;
  readonly side: 1 | -1 | 0;
}

type ToldSide = Omit<ToldLap, 'lap'>;

const sure = (known: SideOfPair | undefined): ToldSide | null =>
  known && known.side !== 0 ? { f: known.f, g: known.g, side: known.side } : null;

/** With longer orders than this, frames would wait for them while the paper moves. */
const MOST_PAIRS = 5000;

export class ToldSides {
  private readonly known = new WeakMap<LayerOrder, SidesOfOrder>();
  private readonly contacts = new WeakMap<readonly TrackPose[], Map<number, Uint8Array>>();
  private readonly posed = new WeakMap<TrackPose, PosedPanels>();
  private readonly panels: number;
  private readonly reach: number;

  /**
   * @param still the panel that poses are placed by
   * @param steps all steps of the lesson, as far as they are known now
   * @param give how far off paper still counts as in contact
   */
  constructor(
    private readonly sheet: Sheet,
    private readonly still: number,
    private readonly steps: () => readonly ToldStep[],
    private readonly give: Give,
  ) {
    this.panels = sheet.panelRings.length;
    this.reach = Math.max(0, ...sheet.panelRings.map((_, panel) => give(panel, panel)));
  }

  /** All pairs in contact at a moment of a step whose side is told. @param share of the step, 0 its start, 1 its end */
  at(step: number, share: number, posed: PosedPanels): ToldLap[] {
    const steps = this.steps();
    const orders = steps.map(({ order }) => order);
    if (orders.some((order) => order && order.length > MOST_PAIRS)) return [];
    const around = orders.map((order) => (order ? this.sidesOf(order) : null));
    return this.laps(posed, (key) =>
      around.some((sides) => sides?.has(key)) ? this.sideOf(steps, step, share, key, around) : null,
    );
  }

  /** The same for a pose by itself, as an order tells. */
  ofOrder(order: LayerOrder, posed: PosedPanels): ToldLap[] {
    if (order.length > MOST_PAIRS) return [];
    const sides = this.sidesOf(order);
    return this.laps(posed, (key) => sure(sides.get(key)));
  }

  private laps(posed: PosedPanels, sideOf: (key: number) => ToldSide | null): ToldLap[] {
    const told: ToldLap[] = [];
    const tree = boxTree(posed.shapes);
    tree.fit(posed, posed, this.reach);
    tree.pairs((a, b) => {
      const side = sideOf(a * this.panels + b);
      const lap = side && lapOf(posed, side.f, side.g);
      if (lap && this.touches(lap, side.f, side.g)) told.push({ ...side, lap });
    });
    return told;
  }

  private sideOf(
    steps: readonly ToldStep[],
    step: number,
    share: number,
    key: number,
    around: readonly (SidesOfOrder | null)[],
  ): ToldSide | null {
    const named = (of: number) => around[of]?.get(key);
    const [start, end] = [named(step - 1), named(step)];
    // the same before and after: so it is in between
    if (start && end && start.side === end.side && start.f === end.f) return sure(end);
    for (let later = step; later < steps.length; later++) {
      if (!this.touchesFrom(steps[later]!.poses, later === step ? share : 0, 1, key)) break;
      if (named(later)) return sure(named(later));
    }
    for (let earlier = step; earlier > 0; earlier--) {
      if (!this.touchesFrom(steps[earlier]!.poses, 0, earlier === step ? share : 1, key)) break;
      if (named(earlier - 1)) return sure(named(earlier - 1));
    }
    return null;
  }

  /** Is a pair in contact at every pose between two shares of a step? */
  private touchesFrom(poses: ToldStep['poses'], from: number, to: number, key: number): boolean {
    if (!poses) return false;
    let known = this.contacts.get(poses);
    if (!known) this.contacts.set(poses, (known = new Map()));
    // per pose: 0 not looked at, 1 in contact, 2 apart
    let own = known.get(key);
    if (own?.length !== poses.length) known.set(key, (own = new Uint8Array(poses.length)));
    const [a, b] = [Math.floor(key / this.panels), key % this.panels];
    return poses.every((pose, k) => {
      if (pose.at < from || pose.at > to) return true;
      if (own[k] === 0) {
        const lap = lapOf(this.posedAt(pose), a, b);
        own[k] = lap && this.touches(lap, a, b) ? 1 : 2;
      }
      return own[k] === 1;
    });
  }

  private touches({ low, high }: Lap, f: number, g: number): boolean {
    const give = this.give(f, g);
    return low <= give && high >= -give;
  }

  private posedAt(pose: TrackPose): PosedPanels {
    let posed = this.posed.get(pose);
    if (!posed) {
      posed = posePanels(shapesOf(this.sheet), placePanels(this.sheet, pose.angle, this.still));
      this.posed.set(pose, posed);
    }
    return posed;
  }

  private sidesOf(order: LayerOrder): SidesOfOrder {
    const known = this.known.get(order);
    if (known) return known;
    const sides = new Map<number, SideOfPair>();
    for (const [f, g, side] of order) {
      const key = Math.min(f, g) * this.panels + Math.max(f, g);
      const before = sides.get(key);
      sides.set(key, { f, g, side: before && before.side !== side ? 0 : side });
    }
    this.known.set(order, sides);
    return sides;
  }
}
