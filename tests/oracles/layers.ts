/**
 * Layer orders the slow and obvious way: every assignment of above and below to every two panels of one plane that
 * overlap, kept when no test at any place finds paper that crosses paper. Convex panels only, so that an overlap is
 * one area. The test along lines lists the ends of the strands round a point and looks for two chords that cross.
 */

type Vector = readonly [number, number, number];
type Point = readonly [number, number];

/** Faces counter-clockwise and convex. Degrees of the crease between two vertices; undefined: a half turn, either way. */
export interface Pattern {
  readonly vertices: readonly Point[];
  readonly faces: readonly (readonly number[])[];
  readonly degreesOf: (a: number, b: number) => number | undefined;
}

/** A panel where it lies: corners counter-clockwise seen from the tip of `up`, the normal of its printed side. */
interface Panel {
  readonly corners: readonly Vector[];
  readonly up: Vector;
}

/** Two panels that overlap. Its value is true when the second lies on the side of the first that is `up` there. */
type Pair = readonly [number, number];

/** Says whether a test passes; `uses` are the pairs that it has to know. */
interface Test {
  readonly uses: readonly number[];
  readonly passes: (values: readonly boolean[]) => boolean;
}

const CLOSE = 1e-7;
/** Less area than this is rounding; slivers whose sides are told apart from points have more. */
const NO_AREA = 1e-13;

const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const along = (a: Vector, d: Vector, s: number): Vector => [
  a[0] + s * d[0],
  a[1] + s * d[1],
  a[2] + s * d[2],
];
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const length = (a: Vector) => Math.hypot(...a);
const unit = (a: Vector): Vector => along([0, 0, 0], a, 1 / length(a));
const next = <T>(ring: readonly T[], k: number): T => ring[(k + 1) % ring.length]!;

/** Turn of a point about the line through `origin` along the unit vector `axis`, right-handed. */
function turned(p: Vector, origin: Vector, axis: Vector, angle: number): Vector {
  const r = minus(p, origin);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const flat = along(along([0, 0, 0], r, c), cross(axis, r), s);
  return along(along(origin, flat, 1), axis, dot(axis, r) * (1 - c));
}

/** Crease of two faces: `from` to `to` as the first face runs through it. */
interface Crease {
  readonly faces: Pair;
  readonly from: number;
  readonly to: number;
  readonly degrees: number | undefined;
}

function creasesOf({ faces, degreesOf }: Pattern): Crease[] {
  return faces.flatMap((face, f) =>
    face.flatMap((from, k) => {
      const to = next(face, k);
      const g = faces.findIndex((other) => other.some((v, j) => v === to && next(other, j) === from));
      return g > f ? [{ faces: [f, g] as const, from, to, degrees: degreesOf(from, to) }] : [];
    }),
  );
}

/** Every vertex of the sheet carried along with the panel: face by face across the creases. Null: it does not close. */
function place(pattern: Pattern): Panel[] | null {
  const flat = pattern.vertices.map(([x, y]): Vector => [x, y, 0]);
  const carried: (readonly Vector[] | undefined)[] = pattern.faces.map((_, f) =>
    f === 0 ? flat : undefined,
  );
  const ups: Vector[] = pattern.faces.map(() => [0, 0, 1]);
  const creases = creasesOf(pattern);
  /** The sheet turned about a crease on the right of `a` to `b`: a valley lifts what lies on the right. */
  const across = (f: number, { faces, from, to, degrees = 180 }: Crease) => {
    const points = carried[f]!;
    const [a, b] = f === faces[0] ? [from, to] : [to, from];
    const [origin, axis] = [points[a]!, unit(minus(points[b]!, points[a]!))];
    const angle = (-degrees * Math.PI) / 180;
    return {
      points: points.map((p) => turned(p, origin, axis, angle)),
      up: turned(ups[f]!, [0, 0, 0], axis, angle),
    };
  };
  for (let round = 0; round < pattern.faces.length; round++)
    for (const crease of creases) {
      const [f, g] = crease.faces;
      for (const [known, other] of [
        [f, g],
        [g, f],
      ] as const)
        if (carried[known] && !carried[other]) {
          const { points, up } = across(known, crease);
          carried[other] = points;
          ups[other] = up;
        }
    }
  for (const crease of creases) {
    const { points } = across(crease.faces[0], crease);
    const there = carried[crease.faces[1]]!;
    if (points.some((p, v) => length(minus(p, there[v]!)) > CLOSE)) return null;
  }
  return pattern.faces.map((face, f) => ({ corners: face.map((v) => carried[f]![v]!), up: ups[f]! }));
}

/** True when the panels meet again round every vertex. */
export const closes = (pattern: Pattern) => place(pattern) !== null;

/** How far inside the edge from corner k a point of the panel's plane lies; and the direction that leads inside. */
function inside(panel: Panel, k: number, p: Vector) {
  const corner = panel.corners[k]!;
  const inward = unit(cross(panel.up, minus(next(panel.corners, k), corner)));
  return { inward, depth: dot(inward, minus(p, corner)) };
}

/** The part of a convex polygon that lies in a panel of the same plane. */
function clipped(polygon: readonly Vector[], panel: Panel): Vector[] {
  return panel.corners.reduce<Vector[]>(
    (rest, _, k) =>
      rest.flatMap((p, j) => {
        const q = next(rest, j);
        const [dp, dq] = [inside(panel, k, p).depth, inside(panel, k, q).depth];
        const kept = dp >= 0 ? [p] : [];
        return dp * dq < 0 ? [...kept, along(p, minus(q, p), dp / (dp - dq))] : kept;
      }),
    [...polygon],
  );
}

function area(polygon: readonly Vector[]): number {
  let twice: Vector = [0, 0, 0];
  for (const [k, p] of polygon.entries())
    twice = along(twice, cross(minus(p, polygon[0]!), minus(next(polygon, k), p)), 1);
  return length(twice) / 2;
}

const coplanar = (a: Panel, b: Panel) =>
  length(cross(a.up, b.up)) < CLOSE && Math.abs(dot(a.up, minus(b.corners[0]!, a.corners[0]!))) < CLOSE;

const common = (panels: readonly Panel[]) =>
  panels.every((panel) => coplanar(panels[0]!, panel))
    ? area(panels.slice(1).reduce<readonly Vector[]>(clipped, panels[0]!.corners))
    : 0;

/** A line in space, `t` of unit length. */
interface Line {
  readonly origin: Vector;
  readonly t: Vector;
}

/** Lines of all edges, and lines where the planes of two panels cut each other; each line once. */
function linesOf(panels: readonly Panel[]): Line[] {
  const lines: Line[] = [];
  const add = (origin: Vector, direction: Vector) => {
    const t = unit(direction);
    const same = (line: Line) =>
      length(cross(line.t, t)) < CLOSE && length(cross(line.t, minus(origin, line.origin))) < CLOSE;
    if (!lines.some(same)) lines.push({ origin, t });
  };
  for (const { corners } of panels)
    for (const [k, p] of corners.entries()) add(p, minus(next(corners, k), p));
  for (const a of panels)
    for (const b of panels) {
      const t = cross(a.up, b.up);
      if (length(t) < CLOSE) continue;
      // from a corner of a, straight within its plane to the plane of b
      const way = cross(t, a.up);
      const far = dot(b.up, minus(b.corners[0]!, a.corners[0]!)) / dot(b.up, way);
      add(along(a.corners[0]!, way, far), t);
    }
  return lines;
}

/** Where along a line a panel begins and ends, as distances from its origin; its plane may just be cut at one place. */
function reach(panel: Panel, { origin, t }: Line): number[] {
  const slope = dot(panel.up, t);
  const height = dot(panel.up, minus(origin, panel.corners[0]!));
  if (Math.abs(slope) > CLOSE) return [-height / slope];
  if (Math.abs(height) > CLOSE) return [];
  return panel.corners.flatMap((_, k) => {
    const { inward, depth } = inside(panel, k, origin);
    return Math.abs(dot(inward, t)) > CLOSE ? [-depth / dot(inward, t)] : [];
  });
}

/** A point between every two neighbouring places on the line where anything begins or ends. */
function samplesOn(panels: readonly Panel[], line: Line): Vector[] {
  const places = panels.flatMap((panel) => reach(panel, line)).sort((a, b) => a - b);
  return places.flatMap((s, k) => {
    const end = places[k + 1] ?? s;
    return end - s > CLOSE ? [along(line.origin, line.t, (s + end) / 2)] : [];
  });
}

/** One end of a strand: panel and the direction in which it leaves the line. Ends of one strand share a name. */
interface End {
  readonly strand: string;
  readonly panel: number;
  readonly u: Vector;
}

/** Ends of all strands of paper with two ends at a point of a line, where neither vertices nor ends of panels are. */
function endsAt(pattern: Pattern, panels: readonly Panel[], x: Vector, t: Vector): End[] {
  const ends: End[] = [];
  for (const [f, panel] of panels.entries()) {
    if (Math.abs(dot(panel.up, minus(x, panel.corners[0]!))) > CLOSE) continue;
    const edges = panel.corners.map((_, k) => inside(panel, k, x));
    if (edges.some(({ depth }) => depth < -CLOSE)) continue;
    const on = edges.findIndex(({ depth }) => depth < CLOSE);
    if (on < 0) {
      const u = cross(panel.up, t);
      ends.push(
        { strand: `panel ${f}`, panel: f, u },
        { strand: `panel ${f}`, panel: f, u: along([0, 0, 0], u, -1) },
      );
      continue;
    }
    const face = pattern.faces[f]!;
    const edge = [face[on]!, next(face, on)].sort((a, b) => a - b);
    ends.push({ strand: `crease ${edge}`, panel: f, u: edges[on]!.inward });
  }
  return ends.filter(({ strand }) => ends.filter((end) => end.strand === strand).length === 2);
}

/** Strands round a point must not cross as chords of a circle, each bundle of ends taken in its layer order. */
function strandTest(ends: readonly End[], t: Vector, panels: readonly Panel[], pairs: readonly Pair[]): Test {
  const e1 = ends[0]!.u;
  const e2 = cross(t, e1);
  const bundles: End[][] = [];
  for (const end of ends) {
    const bundle = bundles.find((other) => length(minus(other[0]!.u, end.u)) < CLOSE);
    if (bundle) bundle.push(end);
    else bundles.push([end]);
  }
  const angle = (bundle: readonly End[]) => {
    const { u } = bundle[0]!;
    const turn = Math.atan2(dot(u, e2), dot(u, e1));
    return turn < -CLOSE ? turn + 2 * Math.PI : turn;
  };
  bundles.sort((a, b) => angle(a) - angle(b));
  const pairOf = (f: number, g: number) => {
    const pair = pairs.findIndex(([a, b]) => a === Math.min(f, g) && b === Math.max(f, g));
    if (pair < 0)
      throw new Error(`Panels ${f} and ${g} lie side by side on a line and have no area in common.`);
    return pair;
  };
  /** The later of two ends counter-clockwise about t lies on the side cross(t, u) of the earlier. */
  const comesAfter = (first: End, second: End, values: readonly boolean[]) => {
    const [f, g] = [first.panel, second.panel];
    const onward = dot(cross(t, first.u), panels[Math.min(f, g)]!.up) > 0;
    const higherOnUpperSide = values[pairOf(f, g)]!;
    const higherIsLater = higherOnUpperSide === onward;
    return f < g ? higherIsLater : !higherIsLater;
  };
  const uses = bundles.flatMap((bundle) =>
    bundle.flatMap(({ panel: f }) => bundle.flatMap(({ panel: g }) => (f < g ? [pairOf(f, g)] : []))),
  );
  return {
    uses,
    passes(values) {
      const list: string[] = [];
      for (const bundle of bundles) {
        const before = (end: End) =>
          bundle.filter((other) => other !== end && comesAfter(other, end, values)).length;
        for (let rank = 0; rank < bundle.length; rank++) {
          const here = bundle.filter((end) => before(end) === rank);
          if (here.length !== 1) return false;
          list.push(here[0]!.strand);
        }
      }
      const strands = [...new Set(list)];
      return strands.every((a) => strands.every((b) => a === b || !interleave(list, a, b)));
    },
  };
}

function interleave(list: readonly string[], a: string, b: string): boolean {
  const [from, to] = [list.indexOf(a), list.lastIndexOf(a)];
  const between = (k: number) => from < k && k < to;
  return between(list.indexOf(b)) !== between(list.lastIndexOf(b));
}

/** A valley folded by a half turn has the second panel on the printed side of the first, a mountain behind it. */
function creaseTests(pattern: Pattern, pairs: readonly Pair[]): Test[] {
  return creasesOf(pattern).flatMap(({ faces: [f, g], degrees }) => {
    if (degrees === undefined || Math.abs(degrees) !== 180) return [];
    const pair = pairs.findIndex(([a, b]) => a === f && b === g);
    return [{ uses: [pair], passes: (values: readonly boolean[]) => values[pair] === degrees > 0 }];
  });
}

/** Where three panels lie together, they do not go round in a circle. */
function circleTests(panels: readonly Panel[], pairs: readonly Pair[]): Test[] {
  const tests: Test[] = [];
  for (const [fg, [f, g]] of pairs.entries())
    for (let h = g + 1; h < panels.length; h++) {
      if (common([panels[f]!, panels[g]!, panels[h]!]) < NO_AREA) continue;
      const gh = pairs.findIndex(([a, b]) => a === g && b === h);
      const fh = pairs.findIndex(([a, b]) => a === f && b === h);
      const sameUp = dot(panels[f]!.up, panels[g]!.up) > 0;
      tests.push({
        uses: [fg, gh, fh],
        passes: (values) => {
          const gOverF = values[fg]!;
          const hOverG = values[gh]! === sameUp;
          const hOverF = values[fh]!;
          return !(gOverF === hOverG && hOverF !== gOverF);
        },
      });
    }
  return tests;
}

/** An order of two panels: the first on the printed side of the second (1), or behind it (-1). */
export type HeldPair = readonly [number, number, 1 | -1];

export interface LayerOracle {
  readonly states: number;
  /** States in which these pairs lie so; pairs that do not overlap do not count. */
  readonly statesWith: (held: readonly HeldPair[]) => number;
  /** How many pairs of panels overlap. */
  readonly pairs: number;
  /** Whether an order of pairs (f, g, +1: f on the side of g that is printed, -1: behind it) is one of the states. */
  readonly accepts: (order: readonly HeldPair[]) => boolean;
}

export function layerOracle(pattern: Pattern): LayerOracle {
  const panels = place(pattern);
  if (!panels) throw new Error('The pattern does not close.');
  // all pairs of the first panels before any of the next: what fails, fails early
  const pairs: Pair[] = panels.flatMap((panel, g) =>
    panels.slice(0, g).flatMap((other, f) => (common([other, panel]) > NO_AREA ? [[f, g] as const] : [])),
  );
  const tests = [...creaseTests(pattern, pairs), ...circleTests(panels, pairs)];
  for (const line of linesOf(panels))
    for (const x of samplesOn(panels, line)) {
      const ends = endsAt(pattern, panels, x, line.t);
      if (ends.length > 0) tests.push(strandTest(ends, line.t, panels, pairs));
    }
  /** Said of two panels, as the value of their pair. */
  const valueSaid = ([f, g]: Pair, said: HeldPair) => {
    // said of g as seen from f already, or turned round
    const sameUp = dot(panels[f]!.up, panels[g]!.up) > 0;
    return said[0] === g ? said[2] > 0 : said[2] > 0 !== sameUp;
  };
  const countWith = (more: readonly Test[]) => countStates([...tests, ...more], pairs.length);
  return {
    states: countWith([]),
    statesWith: (held) =>
      countWith(
        pairs.flatMap((pair, k): Test[] =>
          held
            .filter(([a, b]) => (a === pair[0] && b === pair[1]) || (a === pair[1] && b === pair[0]))
            .map((said) => ({ uses: [k], passes: (values) => values[k] === valueSaid(pair, said) })),
        ),
      ),
    pairs: pairs.length,
    accepts: (order) => {
      const given = pairs.map((pair) => {
        const said = order.find(
          ([a, b]) => (a === pair[0] && b === pair[1]) || (a === pair[1] && b === pair[0]),
        );
        return said && valueSaid(pair, said);
      });
      const all = given.filter((value) => value !== undefined);
      return (
        order.length === pairs.length &&
        all.length === pairs.length &&
        tests.every((test) => test.passes(all))
      );
    },
  };
}

/** Every assignment, given up as soon as a test whose pairs are all settled fails. */
function countStates(tests: readonly Test[], pairs: number): number {
  const due = Array.from({ length: pairs + 1 }, (_, known) =>
    tests.filter(({ uses }) => Math.max(-1, ...uses) === known - 1),
  );
  const values: boolean[] = [];
  const statesFrom = (known: number): number => {
    if (!due[known]!.every((test) => test.passes(values))) return 0;
    if (known === pairs) return 1;
    let states = 0;
    for (const value of [false, true]) {
      values[known] = value;
      states += statesFrom(known + 1);
    }
    return states;
  };
  return statesFrom(0);
}
