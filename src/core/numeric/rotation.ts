/**
 * Rotations as unit quaternions (x, y, z, w), stored in flat arrays, four numbers each. A positive angle turns
 * counter-clockwise when the axis points at the viewer. q and -q turn space alike but are kept apart: the sign
 * tells a fold of +180 degrees from one of -180 (see pose/closure.ts).
 */
type Quaternions = Float64Array;

/** out[o..o+3] = the turn by `angle` radians about the axis (dx, dy, 0) of length 1. */
export function setFoldTurn(out: Quaternions, o: number, dx: number, dy: number, angle: number): void {
  const s = Math.sin(angle / 2);
  out[o] = dx * s;
  out[o + 1] = dy * s;
  out[o + 2] = 0;
  out[o + 3] = Math.cos(angle / 2);
}

/** out[o] = a[i] * b[j] (first b, then a). out may be a or b. */
export function multiply(
  out: Quaternions,
  o: number,
  a: Quaternions,
  i: number,
  b: Quaternions,
  j: number,
): void {
  const ax = a[i]!;
  const ay = a[i + 1]!;
  const az = a[i + 2]!;
  const aw = a[i + 3]!;
  const bx = b[j]!;
  const by = b[j + 1]!;
  const bz = b[j + 2]!;
  const bw = b[j + 3]!;
  out[o] = aw * bx + ax * bw + ay * bz - az * by;
  out[o + 1] = aw * by - ax * bz + ay * bw + az * bx;
  out[o + 2] = aw * bz + ax * by - ay * bx + az * bw;
  out[o + 3] = aw * bw - ax * bx - ay * by - az * bz;
}

/** Scales the quaternion at q[i] back to length 1. */
export function normalise(q: Quaternions, i: number): void {
  const n = Math.hypot(q[i]!, q[i + 1]!, q[i + 2]!, q[i + 3]!);
  for (let k = i; k < i + 4; k++) q[k]! /= n;
}

/** out[o..o+2] = the vector (x, y, z) turned by q[i]. */
export function turn(
  out: Float64Array,
  o: number,
  q: Quaternions,
  i: number,
  x: number,
  y: number,
  z: number,
): void {
  const qx = q[i]!;
  const qy = q[i + 1]!;
  const qz = q[i + 2]!;
  const qw = q[i + 3]!;
  const tx = 2 * (qy * z - qz * y);
  const ty = 2 * (qz * x - qx * z);
  const tz = 2 * (qx * y - qy * x);
  out[o] = x + qw * tx + qy * tz - qz * ty;
  out[o + 1] = y + qw * ty + qz * tx - qx * tz;
  out[o + 2] = z + qw * tz + qx * ty - qy * tx;
}

/**
 * Rotation vector of q[i]: axis times angle, angle from 0 to a full turn (not half a turn: q near -1 gives a
 * vector of length near 2 pi, for such a product has gone once round).
 */
export function rotationVector(out: Float64Array, o: number, q: Quaternions, i: number): void {
  const s = Math.hypot(q[i]!, q[i + 1]!, q[i + 2]!);
  const half = Math.atan2(s, q[i + 3]!);
  const k = s > 1e-8 ? (2 * half) / s : q[i + 3]! > 0 ? 2 / q[i + 3]! : 0;
  out[o] = k * q[i]!;
  out[o + 1] = k * q[i + 1]!;
  out[o + 2] = k * q[i + 2]!;
  if (s <= 1e-8 && q[i + 3]! < 0) out[o + 2] = 2 * Math.PI;
}
