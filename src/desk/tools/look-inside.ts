/** What the teacher can do to look inside, by button or key. */

import type { Space } from '../../core/layer/planes.ts';
import { placeOf } from '../../core/pose/place.ts';
import { insideNow } from './inside.ts';
import { type GlassOf, inside, setInside } from './inside-wishes.ts';
import { playhead } from '../play/playhead.ts';
import { get, set } from '../store.ts';

const FAN_OPEN = 0.6;
/** One press moves the slice by so much, sheet units: 2 mm on a 200 mm sheet. */
const SLICE_STEP = 0.01;

export const lookInside = {
  toggleGlass: () => {
    const { glass } = inside();
    const first: GlassOf = get().selection?.kind === 'panel' ? 'front' : 'all';
    setInside({ glass: glass ? null : first, chosen: [], tuck: null });
  },
  glassOf: (glass: GlassOf) => {
    const { selection } = get();
    setInside({ glass, chosen: glass === 'chosen' && selection?.kind === 'panel' ? [selection.id] : [] });
  },
  toggleFan: () => setInside({ fan: inside().fan > 0 ? 0 : FAN_OPEN }),
  fan: (fan: number) => setInside({ fan }),
  toggleSlice: () => setInside({ slice: inside().slice ? null : firstSlice(), tuck: null }),
  sliceAlong: (axis: 0 | 1 | 2) => {
    const normal = [0, 1, 2].map((k) => (k === axis ? 1 : 0)) as unknown as Space;
    const [x, y, z] = middleOfSlice();
    setInside({ slice: { normal, offset: normal[0] * x + normal[1] * y + normal[2] * z } });
  },
  /** Turns an upright slice about the vertical, through its middle. */
  turnSlice: (angle: number) => {
    const { slice } = inside();
    if (!slice) return;
    const [x, y, z] = slice.normal;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    // a level slice is tipped instead
    const normal: Space =
      Math.abs(z) > 0.7 ? [x, c * y - s * z, s * y + c * z] : [c * x - s * y, s * x + c * y, z];
    const middle = middleOfSlice();
    setInside({
      slice: { normal, offset: normal[0] * middle[0] + normal[1] * middle[1] + normal[2] * middle[2] },
    });
  },
  moveSlice: (steps: number) => lookInside.slideSlice(steps * SLICE_STEP),
  /** Moves the slice along its normal, sheet units, but not off the model. */
  slideSlice: (by: number) => {
    const { slice } = inside();
    if (!slice) return;
    const { low, high } = reachOf(slice.normal);
    setInside({ slice: { ...slice, offset: Math.min(high, Math.max(low, slice.offset + by)) } });
  },
  placeSlice: (share: number) => {
    const { slice } = inside();
    if (!slice) return;
    const { low, high } = reachOf(slice.normal);
    setInside({ slice: { ...slice, offset: low + share * (high - low) } });
  },
  togglePeel: () => {
    const { peeling } = inside();
    if (peeling) setInside({ peeling: false, peeled: 0 });
    else if (choosePoint()) setInside({ peeling: true, peeled: 0 });
  },
  /** Lifts the next layer off at the point. */
  peel: () => {
    if (!inside().peeling && !choosePoint()) return;
    const count = insideNow.kept?.layers.length ?? 0;
    setInside({ peeling: true, peeled: Math.min(count, inside().peeled + 1) });
  },
  putBack: () => setInside({ peeled: Math.max(0, inside().peeled - 1) }),
  /** Everything as it is from outside. @returns whether anything was open */
  close: (): boolean => {
    const { glass, fan, slice, peeling, tuck } = inside();
    if (!glass && fan === 0 && !slice && !peeling && !tuck) return false;
    setInside({ glass: null, chosen: [], fan: 0, slice: null, peeling: false, peeled: 0, tuck: null });
    return true;
  },
};

/** Where no point was clicked, the deepest stack that the eye can see is taken, of several the nearest. */
function choosePoint(): boolean {
  if (insideNow.kept) return true;
  const { stage } = insideNow;
  const { pose, board } = playhead;
  if (!stage || !pose || !board) return false;
  let best: { depth: number; far: number; panel: number; x: number; y: number; side: 1 | -1 } | null = null;
  const { width, height } = stage.extent;
  for (let k = 1; k < 24; k++)
    for (let m = 1; m < 24; m++) {
      const pick = stage.pick((width * k) / 24, (height * m) / 24, 0);
      if (!pick) continue;
      const [x, y] = pick.flat;
      const depth = insideNow.stackAt({ x, y, side: pick.side })?.layers.length ?? 0;
      const far = pick.distance;
      if (!best || depth > best.depth || (depth === best.depth && far < best.far))
        best = { depth, far, panel: pick.panel, x, y, side: pick.side };
    }
  if (!best) return false;
  const { x, y, side } = best;
  setInside({ point: { x, y, side } });
  set({ selection: { kind: 'panel', id: board.ownPanel(pose.step, best.panel) } });
  return true;
}

/** Across the longer way of the model, through the chosen point or its middle. */
function firstSlice() {
  const { low, high } = boxNow();
  const axis = high[0]! - low[0]! >= high[1]! - low[1]! ? 0 : 1;
  const normal = [0, 1, 2].map((k) => (k === axis ? 1 : 0)) as unknown as Space;
  const middle = (low[axis]! + high[axis]!) / 2;
  return { normal, offset: insideNow.kept ? insideNow.kept.at[axis] : middle };
}

/** Where the slice passes the middle of the model, or nearest to it. */
export function middleOfSlice(): Space {
  const { slice } = inside();
  const { low, high } = boxNow();
  const middle = [0, 1, 2].map((k) => (low[k]! + high[k]!) / 2) as [number, number, number];
  if (!slice) return middle;
  const { normal, offset } = slice;
  const off = offset - (normal[0] * middle[0] + normal[1] * middle[1] + normal[2] * middle[2]);
  return [middle[0] + off * normal[0], middle[1] + off * normal[1], middle[2] + off * normal[2]];
}

/** How far the model reaches along a direction. */
export function reachOf(normal: Space): { low: number; high: number } {
  const reach = { low: Infinity, high: -Infinity };
  for (const corner of cornersNow()) {
    const at = corner[0] * normal[0] + corner[1] * normal[1] + corner[2] * normal[2];
    reach.low = Math.min(reach.low, at);
    reach.high = Math.max(reach.high, at);
  }
  return reach.low <= reach.high ? reach : { low: 0, high: 1 };
}

export function boxNow(): { low: number[]; high: number[] } {
  const [low, high] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ];
  for (const corner of cornersNow())
    for (let k = 0; k < 3; k++) {
      low![k] = Math.min(low![k]!, corner[k]!);
      high![k] = Math.max(high![k]!, corner[k]!);
    }
  return { low: low!, high: high! };
}

function* cornersNow(): Generator<Space> {
  const { pose } = playhead;
  const leaves = insideNow.stage?.leaves;
  if (!pose || !leaves) return;
  for (const { panel, rings } of leaves.leaves) {
    const ring = rings[0]!;
    for (let k = 0; k < ring.length; k += 2) yield placeOf(pose.placement, panel, ring[k]!, ring[k + 1]!);
  }
}
