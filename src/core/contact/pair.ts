/**
 * Two panels in one pose: do they cross, how deep and where; and if not, how far are they apart.
 */
import { PARALLEL, TOUCH, UNSEEN } from '../numeric/tolerance.ts';
import { heightOver, type PosedPanels, seeFrom, seenFrom, sharePoint } from './shapes.ts';

export interface PairCrossing {
  /**
   * Least shift, sheet units, that takes one panel out of the other along the normal of either or along their common
   * line, or into a slit: how far the shallower side reaches through. For panels without notches it is enough.
   */
  readonly depth: number;
  /** Middle of the line in which they cross, in space. */
  readonly place: readonly [number, number, number];
  /** What reaches through by the depth ends at raw edges: a hand bends it aside. */
  readonly free: boolean;
}

/** Lowest and highest corner of panel `a` over the plane of `b`. Points of the paper common to both are left out. */
function reachOver(
  posed: PosedPanels,
  a: number,
  b: number,
  out: { low: number; high: number },
  common: boolean,
): void {
  const { first, point } = posed.shapes;
  out.low = Number.POSITIVE_INFINITY;
  out.high = Number.NEGATIVE_INFINITY;
  for (let c = first[a]!; c < first[a + 1]!; c++) {
    if (!common && isCornerOf(posed, b, point[c]!)) continue;
    const height = heightOver(posed, b, c);
    if (height < out.low) out.low = height;
    if (height > out.high) out.high = height;
  }
}

function isCornerOf({ shapes: { first, point } }: PosedPanels, panel: number, of: number): boolean {
  for (let c = first[panel]!; c < first[panel + 1]!; c++) if (point[c] === of) return true;
  return false;
}

const over = { low: 0, high: 0 };
const under = { low: 0, high: 0 };

/**
 * Panels cross where both have paper on both sides of the other's plane at the same place of the line in which their
 * planes meet. Each is cut a little above and a little below the other's plane (by TOUCH), so that paper which only
 * reaches the plane, or lies in it, does not count. A slit that lies in the other's plane is an opening. Exact for panels
 * of any shape, with holes.
 */
export function crossPair(posed: PosedPanels, a: number, b: number): PairCrossing | null {
  reachOver(posed, a, b, over, true);
  if (over.low > -TOUCH || over.high < TOUCH) return null;
  reachOver(posed, b, a, under, true);
  if (under.low > -TOUCH || under.high < TOUCH) return null;
  const least = Math.min(-over.low, over.high, -under.low, under.high);
  const { normal: n } = posed;
  const [i, j] = [3 * a, 3 * b];
  const ux = n[i + 1]! * n[j + 2]! - n[i + 2]! * n[j + 1]!;
  const uy = n[i + 2]! * n[j]! - n[i]! * n[j + 2]!;
  const uz = n[i]! * n[j + 1]! - n[i + 1]! * n[j]!;
  const length = Math.hypot(ux, uy, uz);
  if (length === 0) return null;
  const line = [ux / length, uy / length, uz / length] as const;
  const ownA = [cut(posed, a, b, TOUCH, line), cut(posed, a, b, -TOUCH, line)] as const;
  const ownB = [cut(posed, b, a, TOUCH, line), cut(posed, b, a, -TOUCH, line)] as const;
  const openings = [...openingsIn(posed, a, b, line), ...openingsIn(posed, b, a, line)];
  let [widest, slide, middle, sideways] = [TOUCH, 0, 0, false];
  for (const p of commonParts(...ownA))
    for (const q of commonParts(...ownB)) {
      const [low, high] = [Math.max(p[0], q[0]), Math.min(p[1], q[1])];
      if (high - low < TOUCH) continue;
      const way = Math.min(p[1] - q[0], q[1] - p[0], wayIntoOpening(openings, low, high));
      if (way < TOUCH) continue;
      if (way > slide) {
        slide = way;
        sideways = [low, high].every(
          (at) => endsRaw(posed, a, b, at, line) || endsRaw(posed, b, a, at, line),
        );
      }
      if (high - low > widest) {
        widest = high - low;
        middle = (low + high) / 2;
      }
    }
  if (slide === 0) return null;
  const place = meetingPlace(posed, a, b, [ux, uy, uz], length, middle);
  if (slide < least) return { depth: slide, place, free: sideways };
  return { depth: least, place, free: sidesFree(posed, a, b, least) };
}

/** The point of both planes at `middle` along their line. */
function meetingPlace(
  { normal: n, offset }: PosedPanels,
  a: number,
  b: number,
  u: readonly [number, number, number],
  length: number,
  middle: number,
): [number, number, number] {
  const [i, j] = [3 * a, 3 * b];
  const along = middle / length;
  return [0, 1, 2].map((k) => {
    const [k1, k2] = [(k + 1) % 3, (k + 2) % 3];
    const bu = n[j + k1]! * u[k2]! - n[j + k2]! * u[k1]!;
    const ua = u[k1]! * n[i + k2]! - u[k2]! * n[i + k1]!;
    return (offset[a]! * bu + offset[b]! * ua) / (length * length) + along * u[k]!;
  }) as [number, number, number];
}

/** Of the sides on which one panel reaches through the other by no more than `least`: does paper end on one of them? */
function sidesFree(posed: PosedPanels, a: number, b: number, least: number): boolean {
  const free = (own: number, other: number, side: 1 | -1, depth: number) =>
    depth <= least + TOUCH && endsBeyond(posed, own, other, side);
  reachOver(posed, a, b, over, true);
  reachOver(posed, b, a, under, true);
  const [aLow, aHigh, bLow, bHigh] = [over.low, over.high, under.low, under.high];
  return free(a, b, 1, aHigh) || free(a, b, -1, -aLow) || free(b, a, 1, bHigh) || free(b, a, -1, -bLow);
}

/** Has what a panel has on one side of the other's plane raw edges alone? */
function endsBeyond(posed: PosedPanels, own: number, other: number, side: 1 | -1): boolean {
  const { first, next, raw } = posed.shapes;
  for (let c = first[own]!; c < first[own + 1]!; c++) {
    const far = Math.max(side * heightOver(posed, other, c), side * heightOver(posed, other, next[c]!));
    if (far > TOUCH && raw[c] === 0) return false;
  }
  return true;
}

/** Is it a raw edge of panel `a` that passes the plane of `b` at a place of their line? */
function endsRaw(
  posed: PosedPanels,
  a: number,
  b: number,
  place: number,
  line: readonly [number, number, number],
): boolean {
  const { first, next, raw } = posed.shapes;
  const { corner } = posed;
  for (let c = first[a]!; c < first[a + 1]!; c++) {
    const d = next[c]!;
    const [h, g] = [heightOver(posed, b, c), heightOver(posed, b, d)];
    if (raw[c] === 0 || h >= 0 === g >= 0) continue;
    const t = h / (h - g);
    let at = 0;
    for (let k = 0; k < 3; k++)
      at += line[k]! * (corner[3 * c + k]! + t * (corner[3 * d + k]! - corner[3 * c + k]!));
    if (Math.abs(at - place) < 10 * TOUCH) return true;
  }
  return false;
}

type Part = readonly [number, number];

/** Where panel `a` is cut by the plane that lies `height` over panel `b`, as places along the line. */
function cut(
  posed: PosedPanels,
  a: number,
  b: number,
  height: number,
  line: readonly [number, number, number],
): Part[] {
  const { first, next } = posed.shapes;
  const { corner } = posed;
  const ends: number[] = [];
  for (let c = first[a]!; c < first[a + 1]!; c++) {
    const d = next[c]!;
    const [h, g] = [heightOver(posed, b, c) - height, heightOver(posed, b, d) - height];
    if (h >= 0 === g >= 0) continue;
    const t = h / (h - g);
    let at = 0;
    for (let k = 0; k < 3; k++) {
      const x = corner[3 * c + k]!;
      at += line[k]! * (x + t * (corner[3 * d + k]! - x));
    }
    ends.push(at);
  }
  ends.sort((p, q) => p - q);
  const parts: Part[] = [];
  for (let k = 0; k + 1 < ends.length; k += 2) parts.push([ends[k]!, ends[k + 1]!]);
  return parts;
}

/** A slit as the line in which two planes meet has it: a part of the line, and how far off the other panel's plane. */
interface Opening {
  readonly from: number;
  readonly to: number;
  readonly off: number;
}

/** Slits of panel `a`. */
function openingsIn(
  posed: PosedPanels,
  a: number,
  b: number,
  line: readonly [number, number, number],
): Opening[] {
  const { slits, next } = posed.shapes;
  if (slits[a]!.length === 0) return [];
  const along = (c: number) =>
    line[0] * posed.corner[3 * c]! + line[1] * posed.corner[3 * c + 1]! + line[2] * posed.corner[3 * c + 2]!;
  return slits[a]!.map((c): Opening => {
    const [s, t] = [along(c), along(next[c]!)];
    const off = Math.max(Math.abs(heightOver(posed, b, c)), Math.abs(heightOver(posed, b, next[c]!)));
    return { from: Math.min(s, t), to: Math.max(s, t), off };
  });
}

/**
 * By how much paper has to give way for slits, of either panel, to take in all of a part of the line: how far the furthest
 * of them is off, or what is left of the part at an end or between two. Slotted tabs share it half and half.
 */
function wayIntoOpening(openings: readonly Opening[], low: number, high: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { off } of openings) {
    const near = openings.filter((one) => one.off <= off && one.from < high && one.to > low);
    let [reached, way] = [low, off];
    for (const { from, to } of near.sort((p, q) => p.from - q.from)) {
      way = Math.max(way, reached === low ? from - low : (from - reached) / 2);
      reached = Math.max(reached, to);
    }
    least = Math.min(least, Math.max(way, high - reached));
  }
  return least;
}

function commonParts(a: readonly Part[], b: readonly Part[]): Part[] {
  const common: Part[] = [];
  for (const p of a)
    for (const q of b) {
      const [low, high] = [Math.max(p[0], q[0]), Math.min(p[1], q[1])];
      if (high > low) common.push([low, high]);
    }
  return common;
}

/**
 * Which side of the plane of one the other keeps to, and how far off its nearest corner stands: positive numbers part
 * them. A cheap lower bound of `apart`; where panels share a point it is the wedge there that is measured.
 */
export function planeGap(posed: PosedPanels, a: number, b: number): number {
  reachOver(posed, a, b, over, false);
  reachOver(posed, b, a, under, false);
  return Math.max(over.low, -over.high, under.low, -under.high);
}

/**
 * Distance of two panels that do not cross, or any number not below `enough`. Points of the paper that both share are
 * no contact: the lines there count from a quarter of their length on, and wedges turn about the point, so that what
 * does not meet at that distance does not meet nearer by.
 */
export function apart(posed: PosedPanels, a: number, b: number, enough: number): number {
  const gap = planeGap(posed, a, b);
  if (gap >= enough) return gap;
  const p = linesOf(posed, a, b);
  const q = linesOf(posed, b, a);
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < p.length; i += 6)
    for (let j = 0; j < q.length; j += 6) least = Math.min(least, segmentDistance(p, i, q, j));
  least = Math.min(least, pointsOver(posed, p, b), pointsOver(posed, q, a));
  return Math.sqrt(least);
}

/** Boundary lines of panel `a`, six numbers each, shortened at points that `b` shares. */
function linesOf(posed: PosedPanels, a: number, b: number): Float64Array {
  const { first, next } = posed.shapes;
  const { corner } = posed;
  const lines = new Float64Array(6 * (first[a + 1]! - first[a]!));
  const shared = sharePoint(posed.shapes, a, b);
  let o = 0;
  for (let c = first[a]!; c < first[a + 1]!; c++, o += 6) {
    const d = next[c]!;
    const [cx, cy, cz] = [corner[3 * c]!, corner[3 * c + 1]!, corner[3 * c + 2]!];
    const [wx, wy, wz] = [corner[3 * d]! - cx, corner[3 * d + 1]! - cy, corner[3 * d + 2]! - cz];
    let [s, t] = [0, 1];
    if (shared) {
      const length = Math.hypot(wx, wy, wz);
      [s, t] = [sharedReach(posed, c, b) / length, 1 - sharedReach(posed, d, b) / length];
    }
    lines[o] = cx + s * wx;
    lines[o + 1] = cy + s * wy;
    lines[o + 2] = cz + s * wz;
    lines[o + 3] = cx + t * wx;
    lines[o + 4] = cy + t * wy;
    lines[o + 5] = cz + t * wz;
  }
  return lines;
}

/** How much of a line at a corner is left out: nothing where the corner is no point of panel `b`. */
function sharedReach({ shapes: { first, point, reach } }: PosedPanels, c: number, b: number): number {
  for (let d = first[b]!; d < first[b + 1]!; d++)
    if (point[d] === point[c]) return Math.min(reach[c]!, reach[d]!);
  return 0;
}

/** Squared distance to panel `b` of the ends of lines that lie straight over it. */
function pointsOver(posed: PosedPanels, lines: Float64Array, b: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let o = 0; o < lines.length; o += 3) {
    const [x, y, height] = seenFrom(posed, b, lines[o]!, lines[o + 1]!, lines[o + 2]!);
    if (height * height < least && isInside(posed, b, x, y)) least = height * height;
  }
  return least;
}

/** Does a flat point lie in a panel? By counting crossings of its boundary. */
export function isInside(
  { shapes: { first, next, flat } }: PosedPanels,
  panel: number,
  x: number,
  y: number,
): boolean {
  let inside = false;
  for (let c = first[panel]!; c < first[panel + 1]!; c++) {
    const d = next[c]!;
    const [cy, dy] = [flat[2 * c + 1]!, flat[2 * d + 1]!];
    if (cy > y === dy > y) continue;
    const cx = flat[2 * c]!;
    if (x < cx + ((y - cy) / (dy - cy)) * (flat[2 * d]! - cx)) inside = !inside;
  }
  return inside;
}

const within01 = (t: number) => Math.max(0, Math.min(1, t));

/** Squared distance of two segments, six numbers each (nearest points by clamping; common practice, no source). */
function segmentDistance(p: Float64Array, i: number, q: Float64Array, j: number): number {
  const [dx, dy, dz] = [p[i + 3]! - p[i]!, p[i + 4]! - p[i + 1]!, p[i + 5]! - p[i + 2]!];
  const [ex, ey, ez] = [q[j + 3]! - q[j]!, q[j + 4]! - q[j + 1]!, q[j + 5]! - q[j + 2]!];
  const [rx, ry, rz] = [p[i]! - q[j]!, p[i + 1]! - q[j + 1]!, p[i + 2]! - q[j + 2]!];
  const dd = dx * dx + dy * dy + dz * dz;
  const ee = ex * ex + ey * ey + ez * ez;
  const de = dx * ex + dy * ey + dz * ez;
  const dr = dx * rx + dy * ry + dz * rz;
  const er = ex * rx + ey * ry + ez * rz;
  const det = dd * ee - de * de;
  let s = det > PARALLEL * dd * ee ? within01((de * er - ee * dr) / det) : 0;
  let t = ee > 0 ? (de * s + er) / ee : 0;
  if (t < 0 || t > 1) {
    t = within01(t);
    s = dd > 0 ? within01((de * t - dr) / dd) : 0;
  }
  const x = rx + s * dx - t * ex;
  const y = ry + s * dy - t * ey;
  const z = rz + s * dz - t * ez;
  return x * x + y * y + z * z;
}

/**
 * Does one of two panels keep to one side of the other's plane from one pose to the next? `middle` is a pose between them,
 * with its share of the time. Each height is followed along the parabola through its three values, bent by half as much
 * again to be safe: paper that comes down on paper, leaves it or slides along it passes here, where a distance that falls
 * to nothing would tell nothing.
 */
export function keepsSide(
  from: PosedPanels,
  middle: MiddlePose,
  to: PosedPanels,
  a: number,
  b: number,
): boolean {
  return staysOver(from, middle, to, a, b) || staysOver(from, middle, to, b, a);
}

interface MiddlePose {
  readonly posed: PosedPanels;
  readonly share: number;
}

function staysOver(p: PosedPanels, { posed: m, share }: MiddlePose, q: PosedPanels, a: number, b: number) {
  const { first } = p.shapes;
  const bent = BENT / (4 * share * (1 - share));
  let [up, down] = [true, true];
  for (let c = first[a]!; c < first[a + 1]! && (up || down); c++) {
    const [h, i, j] = [heightOver(p, b, c), heightOver(m, b, c), heightOver(q, b, c)];
    const sag = bent * Math.abs(i - h - share * (j - h));
    if (up) up = staysAbove(h, i, j, sag);
    if (down) down = staysAbove(-h, -i, -j, sag);
  }
  return up || down;
}

/** How much more than its parabola a height may bend. */
const BENT = 1.5;

/** (1 - t) h + t j - 4 sag t (1 - t) is nowhere below 0 when the roots of h and j add up to twice that of the sag. */
function staysAbove(h: number, i: number, j: number, sag: number): boolean {
  if (h < -TOUCH || i < -TOUCH || j < -TOUCH) return false;
  const [low, high] = [Math.max(0, h), Math.max(0, j)];
  return low + high + 2 * Math.sqrt(low * high) >= 4 * (sag - UNSEEN / 2);
}

/**
 * How far, at most, two panels come nearer to each other from one pose to the next: the largest way of any corner of one
 * as the other sees it, whichever sees less. Panels with a point in common are not kept apart by their distance, which
 * is none, but by the side of a plane that they keep to, so there the larger of the two counts.
 */
export function relativeMotion(from: PosedPanels, to: PosedPanels, a: number, b: number): number {
  const [own, other] = [motionSeen(from, to, a, b), motionSeen(from, to, b, a)];
  return sharePoint(from.shapes, a, b) ? Math.max(own, other) : Math.min(own, other);
}

/** For panels with a point in common: no less than `relativeMotion`, from the angle between them alone. */
export function turningMotion(from: PosedPanels, to: PosedPanels, a: number, b: number): number {
  const [p, q] = [from.placement.rotation, to.placement.rotation];
  const before = turnBetween(p, 4 * a, 4 * b);
  const after = turnBetween(q, 4 * a, 4 * b);
  let [dot, sum] = [0, 0];
  for (let k = 0; k < 4; k++) dot += before[k]! * after[k]!;
  const sign = dot < 0 ? -1 : 1;
  // from the chord between the two quaternions: exact for small angles too
  for (let k = 0; k < 4; k++) sum += (before[k]! - sign * after[k]!) ** 2;
  const angle = 4 * Math.asin(Math.min(1, Math.sqrt(sum) / 2));
  const { extent } = from.shapes;
  return angle * Math.max(extent[a]!, extent[b]!);
}

/** The turn from panel a to panel b: the inverse of one unit quaternion times the other. */
function turnBetween(q: Float64Array, i: number, j: number): [number, number, number, number] {
  const [ax, ay, az, aw] = [-q[i]!, -q[i + 1]!, -q[i + 2]!, q[i + 3]!];
  const [bx, by, bz, bw] = [q[j]!, q[j + 1]!, q[j + 2]!, q[j + 3]!];
  return [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
    aw * bw - ax * bx - ay * by - az * bz,
  ];
}

function motionSeen(from: PosedPanels, to: PosedPanels, a: number, b: number): number {
  const { first } = from.shapes;
  let most = 0;
  for (let c = first[a]!; c < first[a + 1]!; c++) {
    const o = 3 * c;
    seeFrom(seen, 0, from, b, from.corner[o]!, from.corner[o + 1]!, from.corner[o + 2]!);
    seeFrom(seen, 3, to, b, to.corner[o]!, to.corner[o + 1]!, to.corner[o + 2]!);
    const [x, y, z] = [seen[0]! - seen[3]!, seen[1]! - seen[4]!, seen[2]! - seen[5]!];
    most = Math.max(most, x ** 2 + y ** 2 + z ** 2);
  }
  return Math.sqrt(most);
}

/** Scratch of `motionSeen`. */
const seen = new Float64Array(6);
