/**
 * From points and lines that meet only at points to the plane cut into faces: the order of lines round each point,
 * the rings that bound faces, and which ring lies inside which.
 */
import Flatbush from 'flatbush';
import { Groups } from '../numeric/plane.ts';
import { side } from '../numeric/predicates.ts';

/** Points and lines; line e runs from point from[e] to point to[e]. Lines meet only at common points. */
export interface Net {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
}

export interface Faces {
  /** Next half-edge round the face on the left. */
  readonly next: Int32Array;
  /** Face on the left of each half-edge; faces count from 0 in order of their first half-edge. */
  readonly face: Int32Array;
  readonly faceCount: number;
  /** The face without end. */
  readonly outside: number;
  /** Per face one half-edge of each ring; a bounded face's outer ring comes first. */
  readonly rings: number[][];
}

/** Point at which half-edge h starts. */
export function originOf(net: Net, h: number): number {
  return (h & 1) === 0 ? net.from[h >> 1]! : net.to[h >> 1]!;
}

/** Outgoing half-edges of all points in one list, counter-clockwise from just past west, with where each starts. */
export function rotations(net: Net): { start: Int32Array; outgoing: Int32Array } {
  const count = net.from.length * 2;
  const start = new Int32Array(net.x.length + 1);
  for (let h = 0; h < count; h++) start[originOf(net, h) + 1]!++;
  for (let v = 0; v < net.x.length; v++) start[v + 1]! += start[v]!;
  const fill = start.slice(0, net.x.length);
  const outgoing = new Int32Array(count);
  for (let h = 0; h < count; h++) outgoing[fill[originOf(net, h)]!++] = h;
  for (let v = 0; v < net.x.length; v++) {
    const around = outgoing.subarray(start[v]!, start[v + 1]!);
    if (around.length > 1)
      around.sort((g, h) => compareDirection(net, v, originOf(net, g ^ 1), originOf(net, h ^ 1)));
  }
  return { start, outgoing };
}

/** Orders the directions from v to p and q counter-clockwise, beginning just past west. */
function compareDirection(net: Net, v: number, p: number, q: number): number {
  const { x, y } = net;
  const upP = y[p]! >= y[v]!;
  const upQ = y[q]! >= y[v]!;
  if (upP !== upQ) return upP ? 1 : -1;
  const turn = side(x[v]!, y[v]!, x[p]!, y[p]!, x[q]!, y[q]!);
  if (turn !== 0) return -turn;
  return x[p]! > x[v]! === x[q]! > x[v]! ? 0 : x[p]! > x[v]! ? -1 : 1;
}

/** Cuts the plane into faces, by exact predicates throughout. */
export function facesOf(net: Net): Faces {
  const count = net.from.length * 2;
  const { start, outgoing } = rotations(net);
  const next = new Int32Array(count);
  for (let v = 0; v < net.x.length; v++) {
    const last = start[v + 1]!;
    for (let k = start[v]!; k < last; k++) {
      // arriving against outgoing[k], the face on the left goes on along the clockwise neighbour
      next[outgoing[k]! ^ 1] = outgoing[k > start[v]! ? k - 1 : last - 1]!;
    }
  }
  const { ring, first } = traceRings(next);
  const outer = outerRings(net, start, outgoing, ring);
  const joined = nest(net, ring, first.length, outer);
  return numberFaces(next, ring, first, joined, outer);
}

function traceRings(next: Int32Array): { ring: Int32Array; first: number[] } {
  const ring = new Int32Array(next.length).fill(-1);
  const first: number[] = [];
  for (let h = 0; h < next.length; h++) {
    if (ring[h] !== -1) continue;
    for (let g = h; ring[g] === -1; g = next[g]!) ring[g] = first.length;
    first.push(h);
  }
  return { ring, first };
}

interface OuterRings {
  /** Connected piece of each point. */
  readonly piece: Groups;
  /** Leftmost point of each connected piece. */
  readonly leftmost: number[];
  /** The ring that goes round the piece from outside. */
  readonly ring: number[];
}

/** The ring round a connected piece is the one that sees west from its leftmost point. */
function outerRings(net: Net, start: Int32Array, outgoing: Int32Array, ring: Int32Array): OuterRings {
  const piece = new Groups(net.x.length);
  for (let e = 0; e < net.from.length; e++) piece.join(net.from[e]!, net.to[e]!);
  const best = new Map<number, number>();
  for (let v = 0; v < net.x.length; v++) {
    if (start[v] === start[v + 1]) continue;
    const root = piece.find(v);
    const old = best.get(root);
    if (
      old === undefined ||
      net.x[v]! < net.x[old]! ||
      (net.x[v] === net.x[old] && net.y[v]! < net.y[old]!)
    ) {
      best.set(root, v);
    }
  }
  const leftmost = [...best.values()];
  return { piece, leftmost, ring: leftmost.map((v) => ring[outgoing[start[v + 1]! - 1]!]!) };
}

/** Joins each piece's outer ring to the ring of the face that it lies in; the last group is the face without end. */
function nest(net: Net, ring: Int32Array, ringCount: number, outer: OuterRings): Groups {
  const joined = new Groups(ringCount + 1);
  if (outer.leftmost.length === 1) {
    joined.join(outer.ring[0]!, ringCount);
    return joined;
  }
  const { x, y, from, to } = net;
  if (from.length === 0) return joined;
  const index = new Flatbush(from.length);
  for (let e = 0; e < from.length; e++) {
    const a = from[e]!;
    const b = to[e]!;
    index.add(Math.min(x[a]!, x[b]!), Math.min(y[a]!, y[b]!), Math.max(x[a]!, x[b]!), Math.max(y[a]!, y[b]!));
  }
  index.finish();
  outer.leftmost.forEach((v, k) => {
    const below = halfEdgeBelow(net, index, outer.piece, v);
    joined.join(outer.ring[k]!, below < 0 ? ringCount : ring[below]!);
  });
  return joined;
}

/** The half-edge running right on the first line of another piece straight below v; -1 when there is none. */
function halfEdgeBelow(net: Net, index: Flatbush, piece: Groups, v: number): number {
  const { x, y, from, to } = net;
  const px = x[v]!;
  const py = y[v]!;
  const own = piece.find(v);
  let best = -1;
  let bestY = Number.NEGATIVE_INFINITY;
  const visit = (e: number): boolean => {
    const h = x[from[e]!]! < x[to[e]!]! ? 2 * e : 2 * e + 1;
    const a = originOf(net, h);
    const b = originOf(net, h ^ 1);
    if (x[a]! > px || x[b]! <= px || piece.find(a) === own) return false;
    if (side(x[a]!, y[a]!, x[b]!, y[b]!, px, py) <= 0) return false;
    if (best >= 0 && !isAbove(net, h, best)) return false;
    best = h;
    bestY = y[a]! + ((px - x[a]!) * (y[b]! - y[a]!)) / (x[b]! - x[a]!);
    return false;
  };
  // look ever farther down, beginning with what a few lines' spacing would be in an even drawing
  const far = py - index.minY;
  for (let reach = (4 * (index.maxY - index.minY)) / Math.sqrt(from.length); ; reach *= 4) {
    index.search(px, py - reach, px, py, visit);
    if (bestY >= py - reach || reach >= far) return best;
  }
}

/** Of two half-edges that run right, do not cross and share some x: does g lie above h? Exact. */
function isAbove(net: Net, g: number, h: number): boolean {
  const { x, y } = net;
  const where = (line: number, p: number) => {
    const [a, b] = [originOf(net, line), originOf(net, line ^ 1)];
    return side(x[a]!, y[a]!, x[b]!, y[b]!, x[p]!, y[p]!);
  };
  const [a, c] = [originOf(net, g), originOf(net, h)];
  // the one that begins farther right is judged against the other's line
  if (x[a]! >= x[c]!) return (where(h, a) || where(h, originOf(net, g ^ 1))) > 0;
  return (where(g, c) || where(g, originOf(net, h ^ 1))) < 0;
}

function numberFaces(
  next: Int32Array,
  ring: Int32Array,
  first: number[],
  joined: Groups,
  outer: OuterRings,
): Faces {
  const face = new Int32Array(next.length);
  const ids = new Map<number, number>();
  const rings: number[][] = [];
  const isOuter = new Uint8Array(first.length);
  for (const r of outer.ring) isOuter[r] = 1;
  const faceOfRing = first.map((h, r) => {
    const root = joined.find(r);
    let id = ids.get(root);
    if (id === undefined) {
      id = rings.length;
      ids.set(root, id);
      rings.push([]);
    }
    // the ring round a piece bounds its face from inside: it is a hole of that face
    if (isOuter[r] === 1) rings[id]!.push(h);
    else rings[id]!.unshift(h);
    return id;
  });
  for (let h = 0; h < next.length; h++) face[h] = faceOfRing[ring[h]!]!;
  const outside = ids.get(joined.find(first.length)) ?? rings.push([]) - 1;
  return { next, face, faceCount: rings.length, outside, rings };
}
