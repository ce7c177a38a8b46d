/** Where the model stands in the world, and the box round it that the camera frames. */
import { Matrix4, Vector3 } from 'three';
import { boxOfLeaves } from '../core/drawn/extent.ts';
import type { Leaf } from '../core/layer/leaves.ts';
import type { Seen } from '../core/lesson/seen.ts';
import type { Placement } from '../core/pose/place.ts';

export interface Box {
  readonly low: Vector3;
  readonly high: Vector3;
}

/** What is to be framed. */
export interface Framed {
  readonly placement: Placement;
  readonly leaves: readonly Leaf[];
  /** How far each leaf is held off its panel's plane, along the panel's normal. */
  readonly off: (leaf: number) => number;
}

/** The box of the model after a turn. */
export function boxAfter({ placement, leaves, off }: Framed, turn: Matrix4): Box {
  const { low, high } = boxOfLeaves(placement, leaves, off, turn.elements);
  return { low: new Vector3(...low), high: new Vector3(...high) };
}

/** The turn that lays the model as its reader sees it. */
export function turnOf({ over, round }: Seen): Matrix4 {
  const turn = new Matrix4().makeRotationZ(round);
  return over ? turn.multiply(new Matrix4().makeRotationY(Math.PI)) : turn;
}

/** A turn about an upright or lying axis through the middle of the model as it is placed. */
export function turnAboutMiddle(framed: Framed, turn: Matrix4): Matrix4 {
  const { low, high } = boxAfter(framed, new Matrix4());
  const middle = low.add(high).multiplyScalar(0.5);
  return new Matrix4()
    .makeTranslation(middle.x, middle.y, middle.z)
    .multiply(turn)
    .multiply(new Matrix4().makeTranslation(-middle.x, -middle.y, -middle.z));
}

/** The same turn with the lowest point of the model brought onto the table, and the box round it there. */
export function onTable(framed: Framed, turn: Matrix4): { matrix: Matrix4; box: Box } {
  const box = boxAfter(framed, turn);
  const lift = -box.low.z;
  box.low.z = 0;
  box.high.z += lift;
  return { matrix: new Matrix4().makeTranslation(0, 0, lift).multiply(turn), box };
}

/** The longest of the box's sides. */
export function extentOf({ low, high }: Box): number {
  return Math.max(high.x - low.x, high.y - low.y, high.z - low.z);
}
