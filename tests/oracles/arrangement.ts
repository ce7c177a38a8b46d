/**
 * Slow and obvious: the planar graph of strokes with whole-number ends, in exact fractions, every pair against every
 * pair. Counts only what the builder must agree with.
 */

interface Fraction {
  readonly top: bigint;
  readonly bottom: bigint;
}

type Point = readonly [Fraction, Fraction];

export interface WholeStroke {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** True for raw edges, false for marks. */
  readonly edge: boolean;
}

function fraction(top: bigint, bottom: bigint): Fraction {
  const gcd = (a: bigint, b: bigint): bigint => (b === 0n ? (a < 0n ? -a : a) : gcd(b, a % b));
  const by = gcd(top, bottom) * (bottom < 0n ? -1n : 1n);
  return { top: top / by, bottom: bottom / by };
}

const whole = (n: number): Fraction => ({ top: BigInt(n), bottom: 1n });
const minus = (a: Fraction, b: Fraction) =>
  fraction(a.top * b.bottom - b.top * a.bottom, a.bottom * b.bottom);
const plus = (a: Fraction, b: Fraction) => fraction(a.top * b.bottom + b.top * a.bottom, a.bottom * b.bottom);
const times = (a: Fraction, b: Fraction) => fraction(a.top * b.top, a.bottom * b.bottom);
const over = (a: Fraction, b: Fraction) => fraction(a.top * b.bottom, a.bottom * b.top);
const name = ([x, y]: Point) => `${x.top}/${x.bottom} ${y.top}/${y.bottom}`;
const ends = (s: WholeStroke): [Point, Point] => [
  [whole(s.from[0]), whole(s.from[1])],
  [whole(s.to[0]), whole(s.to[1])],
];

function twiceArea(a: Point, b: Point, c: Point): Fraction {
  return minus(times(minus(b[0], a[0]), minus(c[1], a[1])), times(minus(b[1], a[1]), minus(c[0], a[0])));
}

/** How far along a to b point p lies, as a fraction of the way. */
function along(a: Point, b: Point, p: Point): Fraction {
  const axis = a[0].top * b[0].bottom !== b[0].top * a[0].bottom ? 0 : 1;
  return over(minus(p[axis], a[axis]), minus(b[axis], a[axis]));
}

function isBetween(t: Fraction): boolean {
  return t.top >= 0n && t.top <= t.bottom;
}

/** Points that two strokes share: ends on the other stroke, or the crossing. */
function sharedPoints(s: WholeStroke, t: WholeStroke): Point[] {
  const [a, b] = ends(s);
  const [c, d] = ends(t);
  const on = (p: Point, q: Point, r: Point) => twiceArea(p, q, r).top === 0n && isBetween(along(p, q, r));
  const touching = [...[c, d].filter((p) => on(a, b, p)), ...[a, b].filter((p) => on(c, d, p))];
  if (touching.length > 0) return touching;
  const [sideC, sideD] = [twiceArea(a, b, c), twiceArea(a, b, d)];
  const [sideA, sideB] = [twiceArea(c, d, a), twiceArea(c, d, b)];
  if (sideC.top > 0n === sideD.top > 0n || sideA.top > 0n === sideB.top > 0n) return [];
  const way = over(sideA, minus(sideA, sideB));
  return [[plus(a[0], times(way, minus(b[0], a[0]))), plus(a[1], times(way, minus(b[1], a[1])))]];
}

export interface Counts {
  readonly vertices: number;
  readonly creases: number;
  readonly panels: number;
  /** Places of the vertices, rounded only at the end. */
  readonly places: readonly (readonly [number, number])[];
}

/** Vertices, lines and bounded faces, with points of degree two on straight lines of one kind taken out. */
export function countArrangement(strokes: readonly WholeStroke[]): Counts {
  const points = new Map<string, Point>();
  const lines = new Map<string, { a: string; b: string; edge: boolean }>();
  for (const s of strokes) {
    const [a, b] = ends(s);
    if (name(a) === name(b)) continue;
    const on = new Map<string, Point>(
      [a, b, ...strokes.filter((t) => t !== s).flatMap((t) => (isPoint(t) ? [] : sharedPoints(s, t)))].map(
        (p) => [name(p), p],
      ),
    );
    const ordered = [...on.values()].sort((p, q) => {
      const difference = minus(along(a, b, p), along(a, b, q)).top;
      return difference < 0n ? -1 : difference > 0n ? 1 : 0;
    });
    for (const p of ordered) points.set(name(p), p);
    ordered.slice(1).forEach((p, k) => {
      const [low, high] = [name(ordered[k]!), name(p)].sort();
      const old = lines.get(`${low} ${high}`);
      lines.set(`${low} ${high}`, { a: low!, b: high!, edge: s.edge || old?.edge === true });
    });
  }
  straighten(points, lines);
  const pieces = countPieces(points, lines);
  const number = (f: Fraction) => Number(f.top) / Number(f.bottom);
  return {
    vertices: points.size,
    creases: lines.size,
    panels: lines.size - points.size + pieces,
    places: [...points.values()].map(([x, y]) => [number(x), number(y)]),
  };
}

function isPoint(s: WholeStroke): boolean {
  return s.from[0] === s.to[0] && s.from[1] === s.to[1];
}

function straighten(
  points: Map<string, Point>,
  lines: Map<string, { a: string; b: string; edge: boolean }>,
): void {
  for (const [key, point] of points) {
    const at = [...lines].filter(([, l]) => l.a === key || l.b === key);
    if (at.length !== 2 || at[0]![1].edge !== at[1]![1].edge) continue;
    const [p, q] = at.map(([, l]) => (l.a === key ? l.b : l.a)) as [string, string];
    if (twiceArea(points.get(p)!, point, points.get(q)!).top !== 0n) continue;
    for (const [line] of at) lines.delete(line);
    const [low, high] = [p, q].sort();
    lines.set(`${low} ${high}`, { a: low!, b: high!, edge: at[0]![1].edge });
    points.delete(key);
  }
}

function countPieces(points: Map<string, Point>, lines: Map<string, { a: string; b: string }>): number {
  const label = new Map([...points.keys()].map((key) => [key, key]));
  for (let changed = true; changed; ) {
    changed = false;
    for (const { a, b } of lines.values()) {
      const least = [label.get(a)!, label.get(b)!].sort()[0]!;
      for (const key of [a, b]) {
        if (label.get(key) === least) continue;
        label.set(key, least);
        changed = true;
      }
    }
  }
  return new Set(label.values()).size;
}
