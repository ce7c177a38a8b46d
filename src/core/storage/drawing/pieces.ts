/** A drawing cut into pieces that hang together: an outline with all that touches it, a label, a line by itself. */
import { Groups } from '../../numeric/plane.ts';
import type { Point } from '../../numeric/vector.ts';
import type { Arrangement } from '../../sheet/arrange.ts';
import type { LineKind } from '../../sheet/kind.ts';
import { type Faces, originOf } from '../../sheet/rings.ts';

export interface Piece {
  /** Numbers of its strokes. */
  readonly strokes: readonly number[];
  /** The way round it. */
  readonly outline: readonly Point[];
  /** What that encloses; 0 for what is open. */
  readonly area: number;
  /** It encloses something, by lines that are not broken. */
  readonly isOutline: boolean;
  /** Lines within it, or by themselves, that look like creases. */
  readonly creases: number;
}

/** What the look of a stroke says. */
interface Look {
  readonly named: LineKind | undefined;
  readonly isBroken: boolean;
}

/** Of the way round, so much of its length may be broken lines. */
const MOST_BROKEN = 0.1;
/** What encloses less than this is a letter or an arrow, and no sheet: the drawing is 1 long. */
const LEAST_AREA = 1e-4;

export function piecesOf(net: Arrangement, faces: Faces, lookOf: (stroke: number) => Look): Piece[] {
  const groups = new Groups(net.x.length);
  for (let e = 0; e < net.from.length; e++) groups.join(net.from[e]!, net.to[e]!);
  const around = outerRings(net, faces, groups);
  const lines = new Map<number, number[]>();
  for (let e = 0; e < net.from.length; e++) {
    const group = groups.find(net.from[e]!);
    if (!lines.get(group)?.push(e)) lines.set(group, [e]);
  }
  // where dashes tell creases, unbroken lines are none
  const isDashed = net.stroke.some((stroke) => lookOf(stroke).isBroken);
  const isCrease = (e: number) => {
    const { named, isBroken } = lookOf(net.stroke[e]!);
    return named === undefined ? isBroken || !isDashed : named !== 'edge' && named !== 'cut';
  };
  const hidden = hiddenStrokes(net);
  return [...lines].map(([group, own]) => {
    const { ring, area } = around.get(group)!;
    const rim = rimOf(ring);
    const length = (e: number) => lengthOf(net, e);
    const whole = sum([...rim], length);
    const broken = sum(
      [...rim].filter((e) => lookOf(net.stroke[e]!).named === undefined && lookOf(net.stroke[e]!).isBroken),
      length,
    );
    const isOutline = area > LEAST_AREA && broken <= MOST_BROKEN * whole;
    const strokes = own.flatMap((e) => [net.stroke[e]!, ...(hidden.get(net.stroke[e]!) ?? [])]);
    return {
      strokes: [...new Set(strokes)],
      outline: ring.map((half): Point => [net.x[originOf(net, half)]!, net.y[originOf(net, half)]!]),
      area: Math.max(0, area),
      isOutline,
      creases: own.filter((e) => !(isOutline && rim.has(e)) && isCrease(e)).length,
    };
  });
}

/** Of each piece the ring that runs round it, clockwise, and the area within. */
function outerRings(net: Arrangement, faces: Faces, groups: Groups) {
  const rings = new Map<number, { readonly ring: readonly number[]; readonly area: number }>();
  const seen = new Uint8Array(faces.next.length);
  for (let first = 0; first < faces.next.length; first++) {
    if (seen[first]) continue;
    const ring: number[] = [];
    let twice = 0;
    for (let half = first; !seen[half]; half = faces.next[half]!) {
      seen[half] = 1;
      ring.push(half);
      const [a, b] = [originOf(net, half), originOf(net, half ^ 1)];
      twice += net.x[a]! * net.y[b]! - net.x[b]! * net.y[a]!;
    }
    const group = groups.find(originOf(net, first));
    const known = rings.get(group);
    if (!known || -twice / 2 > known.area) rings.set(group, { ring, area: -twice / 2 });
  }
  return rings;
}

/** The lines that the way round passes once: what it passes twice hangs out into the open. */
function rimOf(ring: readonly number[]): Set<number> {
  const passed = new Map<number, number>();
  for (const half of ring) passed.set(half >> 1, (passed.get(half >> 1) ?? 0) + 1);
  return new Set([...passed].filter(([, times]) => times === 1).map(([line]) => line));
}

/** Strokes that lie under others, by the stroke that is seen. */
function hiddenStrokes({ overlaps }: Arrangement): Map<number, number[]> {
  const under = new Map<number, number[]>();
  for (const { winner, loser } of overlaps) under.set(winner, [...(under.get(winner) ?? []), loser]);
  return under;
}

const lengthOf = ({ x, y, from, to }: Arrangement, e: number) =>
  Math.hypot(x[to[e]!]! - x[from[e]!]!, y[to[e]!]! - y[from[e]!]!);

const sum = (lines: readonly number[], value: (line: number) => number) =>
  lines.reduce((all, line) => all + value(line), 0);
