/** What the teacher can do to look inside, by button or key. */

import { boxOfLeaves } from '../../core/drawn/extent.ts';
import type { Leaves } from '../../core/layer/leaves.ts';
import type { SectionPlane } from '../../core/layer/section.ts';
import { dot, type Space } from '../../core/numeric/vector.ts';
import { placeOf } from '../../core/pose/place.ts';
import type { ScreenPlace } from '../around.ts';
import type { PlacedPose } from '../play/board.ts';
import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';
import type { Inside } from './inside.ts';
import { closed, type GlassOf, type InsideState } from './inside-wishes.ts';

const FAN_OPEN = 0.6;
/** One press moves the slice by so much, sheet units: 2 mm on a 200 mm sheet. */
const SLICE_STEP = 0.01;
/** Places of the picture that are tried for the deepest stack, each way. */
const TRIES = 24;

const axisNormal = (axis: 0 | 1 | 2): Space => [axis === 0 ? 1 : 0, axis === 1 ? 1 : 0, axis === 2 ? 1 : 0];

type Box = ReturnType<typeof boxOfLeaves>;
const nothing: Box = { low: [Infinity, Infinity, Infinity], high: [-Infinity, -Infinity, -Infinity] };
/** No motion, as four columns of four. */
const unmoved = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];

export class LookInside {
  private measured: { pose: PlacedPose; leaves: Leaves; box: Box } | null = null;

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
    private readonly inside: Inside,
    private readonly screen: ScreenPlace,
  ) {}

  toggleGlass = (): void => {
    const { glass } = this.wishes;
    const first: GlassOf = this.store.look.selection?.kind === 'panel' ? 'front' : 'all';
    this.wish({ glass: glass ? null : first, chosen: [], tuck: null });
  };

  glassOf(glass: GlassOf): void {
    const { selection } = this.store.look;
    this.wish({ glass, chosen: glass === 'chosen' && selection?.kind === 'panel' ? [selection.id] : [] });
  }

  toggleFan = () => this.wish({ fan: this.wishes.fan > 0 ? 0 : FAN_OPEN });
  fan = (fan: number) => this.wish({ fan });
  toggleSlice = () =>
    this.wish({ slice: this.wishes.slice ? null : this.firstSlice(), largeSection: false, tuck: null });

  sliceAlong(axis: 0 | 1 | 2): void {
    const normal = axisNormal(axis);
    this.wish({ slice: { normal, offset: dot(normal, this.middleOfSlice) } });
  }

  /** Turns an upright slice about the vertical, through its middle. */
  turnSlice(angle: number): void {
    const { slice } = this.wishes;
    if (!slice) return;
    const [x, y, z] = slice.normal;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    // a level slice is tipped instead
    const normal: Space =
      Math.abs(z) > 0.7 ? [x, c * y - s * z, s * y + c * z] : [c * x - s * y, s * x + c * y, z];
    this.wish({ slice: { normal, offset: dot(normal, this.middleOfSlice) } });
  }

  moveSlice = (steps: number) => this.slideSlice(steps * SLICE_STEP);

  /** Moves the slice along its normal, sheet units, but not off the model. */
  slideSlice(by: number): void {
    const { slice } = this.wishes;
    if (!slice) return;
    const { low, high } = this.reachOf(slice.normal);
    this.wish({ slice: { ...slice, offset: Math.min(high, Math.max(low, slice.offset + by)) } });
  }

  placeSlice = (share: number): void => {
    const { slice } = this.wishes;
    if (!slice) return;
    const { low, high } = this.reachOf(slice.normal);
    this.wish({ slice: { ...slice, offset: low + share * (high - low) } });
  };

  togglePeel = (): void => {
    if (this.wishes.peeling) this.wish({ peeling: false, peeled: 0 });
    else if (this.choosePoint()) this.wish({ peeling: true, peeled: 0 });
  };

  /** Lifts the next layer off at the point. */
  peel = (): void => {
    if (!this.wishes.peeling && !this.choosePoint()) return;
    const count = this.inside.kept?.layers.length ?? 0;
    this.wish({ peeling: true, peeled: Math.min(count, this.wishes.peeled + 1) });
  };

  putBack = () => this.wish({ peeled: Math.max(0, this.wishes.peeled - 1) });

  /** Everything as it is from outside. @returns whether anything was open */
  close(): boolean {
    const { glass, fan, slice, peeling, tuck, largeSection } = this.wishes;
    if (slice && largeSection) {
      this.wish({ largeSection: false });
      return true;
    }
    if (!glass && fan === 0 && !slice && !peeling && !tuck) return false;
    const { point, pointer } = this.wishes;
    this.wish({ ...closed, point, pointer });
    return true;
  }

  /** Where the slice passes the middle of the model, or nearest to it. */
  get middleOfSlice(): Space {
    const { slice } = this.wishes;
    const { low, high } = this.box;
    const middle: Space = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2];
    if (!slice) return middle;
    const { normal, offset } = slice;
    const off = offset - dot(normal, middle);
    return [middle[0] + off * normal[0], middle[1] + off * normal[1], middle[2] + off * normal[2]];
  }

  /** How far the model reaches along a direction. */
  reachOf(normal: Space): { low: number; high: number } {
    const reach = { low: Infinity, high: -Infinity };
    for (const corner of this.corners()) {
      const at = dot(normal, corner);
      reach.low = Math.min(reach.low, at);
      reach.high = Math.max(reach.high, at);
    }
    return reach.low <= reach.high ? reach : { low: 0, high: 1 };
  }

  /** Least and most of each coordinate of the model; measured once for a pose. */
  get box(): Box {
    const { pose } = this.playhead;
    const leaves = this.screen.now?.leaves;
    if (!pose || !leaves) return nothing;
    if (this.measured?.pose !== pose || this.measured.leaves !== leaves) {
      const box = boxOfLeaves(pose.placement, leaves.leaves, () => 0, unmoved);
      this.measured = { pose, leaves, box };
    }
    return this.measured.box;
  }

  private get wishes(): InsideState {
    return this.store.inside;
  }

  private wish(change: Partial<InsideState>): void {
    this.store.put({ inside: change });
  }

  /** Where no point was clicked, the deepest stack that the eye can see is taken, of several the nearest. */
  private choosePoint(): boolean {
    if (this.inside.kept) return true;
    const screen = this.screen.now;
    const { pose, board } = this.playhead;
    if (!screen || !pose || !board) return false;
    let best: { depth: number; far: number; panel: number; x: number; y: number; side: 1 | -1 } | null = null;
    const { width, height } = screen.extent;
    for (let k = 1; k < TRIES; k++)
      for (let m = 1; m < TRIES; m++) {
        const pick = screen.pick((width * k) / TRIES, (height * m) / TRIES, 0);
        if (!pick) continue;
        const [x, y] = pick.flat;
        const depth = this.inside.stackAt({ x, y, side: pick.side })?.layers.length ?? 0;
        const far = pick.distance;
        if (!best || depth > best.depth || (depth === best.depth && far < best.far))
          best = { depth, far, panel: pick.panel, x, y, side: pick.side };
      }
    if (!best) return false;
    const { x, y, side } = best;
    this.store.put({
      inside: { point: { x, y, side } },
      look: { selection: { kind: 'panel', id: board.ownPanel(pose.step, best.panel) } },
    });
    return true;
  }

  /** Across the longer way of the model, through the chosen point or its middle. */
  private firstSlice(): SectionPlane {
    const { low, high } = this.box;
    const axis = high[0] - low[0] >= high[1] - low[1] ? 0 : 1;
    const middle = (low[axis] + high[axis]) / 2;
    return { normal: axisNormal(axis), offset: this.inside.kept ? this.inside.kept.at[axis] : middle };
  }

  private *corners(): Generator<Space> {
    const { pose } = this.playhead;
    const leaves = this.screen.now?.leaves;
    if (!pose || !leaves) return;
    for (const { panel, rings } of leaves.leaves) {
      const ring = rings[0]!;
      for (let k = 0; k < ring.length; k += 2) yield placeOf(pose.placement, panel, ring[k]!, ring[k + 1]!);
    }
  }
}
