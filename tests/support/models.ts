/**
 * Models of random proportions that no demonstration shows: cuffed trays, hinged cases, flares, wallets and square
 * twists. Each comes with what plain geometry says about it: how many panels and inner corners it has, and where its
 * corners stand when it is finished. Nothing here knows the solver.
 */
import type { LineKind } from '../../src/core/sheet/kind.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import { radians } from './patterns.ts';

export type Random = () => number;
export type Point = readonly [number, number];
export type Space = readonly [number, number, number];

/** A crease from one point to another, and its fold angle in degrees at the end of each step, the finished one last. */
export interface ModelCrease {
  readonly from: Point;
  readonly to: Point;
  readonly steps: readonly number[];
  /** A word for what it does, where a test asks about it. */
  readonly part?: 'hinge' | 'hem';
}

export interface Model {
  readonly name: string;
  readonly outline: readonly Point[];
  readonly creases: readonly ModelCrease[];
  /** A point of the panel that stays still. */
  readonly still: Point;
  readonly panels: number;
  readonly innerVertices: number;
  /** Corners of the box round the finished model, in the space of the still panel. */
  readonly finished: readonly Space[];
  /** False where paper cannot get there with stiff panels. */
  readonly rigid: boolean;
}

export function between(random: Random, low: number, high: number): number {
  return low + (high - low) * random();
}

export function pick<T>(random: Random, list: readonly T[]): T {
  return list[Math.floor(random() * list.length)]!;
}

const rectangle = (width: number, height: number): Point[] => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];

/** Horizontal lines cross vertical ones: panels and inner corners of such a grid with diagonals in some cells. */
const gridCounts = (rows: number, columns: number, diagonals: number) => ({
  panels: (rows + 1) * (columns + 1) + diagonals,
  innerVertices: rows * columns,
});

/** A line of a grid, cut into pieces at the given places, each with its own angles. */
function pieces(
  place: (along: number) => Point,
  cuts: readonly number[],
  steps: readonly (readonly number[])[],
  part?: ModelCrease['part'],
): ModelCrease[] {
  return steps.map((angles, k) => ({
    from: place(cuts[k]!),
    to: place(cuts[k + 1]!),
    steps: angles,
    ...(part ? { part } : {}),
  }));
}

const across = (y: number) => (x: number) => [x, y] as const;
const upward = (x: number) => (y: number) => [x, y] as const;

/**
 * A tray: base, four walls of one height, corner gussets flat on the long walls, and on each long wall a cuff that
 * may be missing and folds down inside over the gussets.
 */
export function cuffedTray(random: Random): Model {
  const h = between(random, 0.5, 1.6);
  const length = h * between(random, 2.2, 7);
  const width = h * between(random, 0.8, 5);
  const cuffs = [0, 1].map(() => (random() < 0.2 ? 0 : h * between(random, 0.25, 1)));
  const [low, high] = cuffs as [number, number];
  const x = [0, h, h + length, 2 * h + length];
  const base = low + h;
  const back = base + width;
  const top = back + h + high;
  const end = x[3]!;
  const creases: ModelCrease[] = [];
  for (const [cuff, y] of [
    [low, low],
    [high, top - high],
  ] as const)
    if (cuff > 0)
      creases.push(
        ...pieces(across(y), x, [
          [0, -180],
          [0, 180],
          [0, -180],
        ]),
      );
  for (const y of [base, back]) creases.push({ from: [0, y], to: [end, y], steps: [90, 90] });
  const cuts = [0, ...(low > 0 ? [low] : []), base, back, ...(high > 0 ? [top - high] : []), top];
  for (const at of [h, h + length])
    creases.push(
      ...pieces(
        upward(at),
        cuts,
        cuts.slice(1).map((to) => (to === back ? [90, 90] : [180, 180])),
      ),
    );
  for (const [inner, outer] of [
    [h, 0],
    [h + length, end],
  ] as const) {
    creases.push({ from: [inner, base], to: [outer, low], steps: [-180, -180] });
    creases.push({ from: [inner, back], to: [outer, top - high], steps: [-180, -180] });
  }
  return {
    name: `tray ${show(length, width, h)}, cuffs ${show(low, high)}`,
    outline: rectangle(end, top),
    creases,
    still: [h + length / 2, base + width / 2],
    ...gridCounts(cuts.length - 2, 2, 4),
    finished: boxCorners([h, base, 0], [h + length, back, h]),
    rigid: true,
  };
}

/**
 * A case with a hinged lid: hems along the sides of lid and back wall, gussets at the front, and a flap that may be
 * missing. Steps: hems and walls with lid and back wall in one plane; front; hinge; flap.
 */
export function hingedCase(random: Random): Model {
  const h = between(random, 0.5, 1.5);
  const length = h * between(random, 2.2, 8);
  const depth = h * between(random, 0.7, 4);
  const flap = random() < 0.3 ? 0 : h * between(random, 0.3, 1);
  const x = [0, h, h + length, 2 * h + length];
  const back = h + depth;
  const hinge = back + h;
  const edge = hinge + depth;
  const top = edge + flap;
  const end = x[3]!;
  const all = (...steps: number[]) => (flap > 0 ? steps : steps.slice(0, 3));
  const creases: ModelCrease[] = [
    { from: [0, h], to: [end, h], steps: all(0, 90, 90, 90) },
    { from: [0, back], to: [end, back], steps: all(90, 90, 90, 90) },
    ...pieces(
      across(hinge),
      x,
      [-1, 1, -1].map((sign) => all(0, 0, 90 * sign, 90 * sign)),
      'hinge',
    ),
  ];
  if (flap > 0)
    creases.push(
      ...pieces(
        across(edge),
        x,
        [-1, 1, -1].map((sign) => [0, 0, 0, 90 * sign]),
      ),
    );
  for (const [inner, outer] of [
    [h, 0],
    [h + length, end],
  ] as const) {
    creases.push({ from: [inner, 0], to: [inner, h], steps: all(90, 180, 180, 180) });
    creases.push({ from: [inner, h], to: [inner, back], steps: all(90, 90, 90, 90) });
    creases.push({ from: [inner, back], to: [inner, top], steps: all(180, 180, 180, 180), part: 'hem' });
    creases.push({ from: [inner, h], to: [outer, 0], steps: all(0, -180, -180, -180) });
    creases.push({ from: [inner, back], to: [outer, hinge], steps: all(-180, -180, -180, -180) });
  }
  return {
    name: `case ${show(length, depth, h)}, flap ${show(flap)}`,
    outline: rectangle(end, top),
    creases,
    still: [h + length / 2, h + depth / 2],
    ...gridCounts(flap > 0 ? 4 : 3, 2, 4),
    finished: boxCorners([h, h, 0], [h + length, back, h]),
    rigid: true,
  };
}

/**
 * At a base corner of inner angle b the two walls (sector 90 + g each) and the base make a spherical triangle, so by
 * its law of cosines the base edges fold by acos(tan g tan(b/2)) and the seam by acos((sin^2 g - cos b)/cos^2 g);
 * for b = 90 these are acos(tan g) and acos(tan^2 g).
 * @returns fold angles of base edges and seam, degrees
 */
export function flareAngles(inner: number, g: number): { edge: number; seam: number } {
  const edge = Math.acos(Math.tan(g * radians) * Math.tan((inner / 2) * radians)) / radians;
  const cosSeam = (Math.sin(g * radians) ** 2 - Math.cos(inner * radians)) / Math.cos(g * radians) ** 2;
  return { edge, seam: Math.acos(cosSeam) / radians };
}

/**
 * A flare on a regular polygon or a rectangle: walls that widen by the gusset angle g on both sides, each gusset
 * folded in half and laid flat on one of its two walls, tips turned over the rim or left standing.
 */
export function flare(random: Random): Model {
  const square = random() < 0.5;
  const sides = square ? 4 : pick(random, [3, 4, 5, 6]);
  const inner = (180 * (sides - 2)) / sides;
  const g = between(random, 0.12, 0.85) * (90 - inner / 2);
  const wide = square ? between(random, 0.5, 2) : 1;
  const base: Point[] = square
    ? rectangle(wide, 1)
    : Array.from({ length: sides }, (_, k) => {
        const turn = (2 * Math.PI * k) / sides;
        const radius = 0.5 / Math.sin(Math.PI / sides);
        return [radius * Math.cos(turn), radius * Math.sin(turn)];
      });
  const slant = between(random, 0.4, 1.3);
  const lock = random() < 0.6;
  const half = (180 - inner - 2 * g) / 2;
  const { edge: edgeFold, seam } = flareAngles(inner, g);
  const all = (first: number, last = first) => (lock ? [first, last] : [last]);
  const creases: ModelCrease[] = [];
  const outline: Point[] = [];
  const finished: Space[] = base.map(([x, y]) => [x, y, 0]);
  const along = base.map((corner, k) => direction(corner, base[(k + 1) % sides]!));
  for (let k = 0; k < sides; k++) {
    const corner = base[k]!;
    creases.push({ from: corner, to: base[(k + 1) % sides]!, steps: all(edgeFold) });
    // wall after the corner lies outward of edge k, wall before it outward of edge k - 1
    const [after, before] = [along[k]!, along[(k + sides - 1) % sides]!];
    const start = after - 90 - g;
    const rim = slant / Math.cos(g * radians);
    const tip = slant / Math.sin((inner / 2) * radians);
    const turnOver = slant / Math.cos((half - g) * radians);
    const onAfter = random() < 0.5;
    const at = (length: number, degrees: number): Point => [
      corner[0] + length * Math.cos(degrees * radians),
      corner[1] + length * Math.sin(degrees * radians),
    ];
    const [afterEnd, beforeEnd] = [at(rim, start), at(rim, start - 2 * half)];
    const middle = start - half;
    const over = at(turnOver, middle);
    const end = at(tip, middle);
    creases.push({ from: corner, to: afterEnd, steps: all(onAfter ? 180 : seam) });
    creases.push({ from: corner, to: beforeEnd, steps: all(onAfter ? seam : 180) });
    creases.push({ from: corner, to: end, steps: all(-180) });
    if (lock) {
      creases.push({ from: over, to: afterEnd, steps: [0, onAfter ? 180 : -180] });
      creases.push({ from: over, to: beforeEnd, steps: [0, onAfter ? -180 : 180] });
    }
    outline.push(beforeEnd, end, afterEnd);
    // folded: the wall stands on its edge; a point `out` of the edge on the sheet and `on` along it
    const stand = (edge: number, sign: number, on: number, out: number): Space => {
      const [dx, dy] = [Math.cos(edge * radians), Math.sin(edge * radians)];
      const lean = out * Math.cos(edgeFold * radians);
      return [
        corner[0] + sign * on * dx + lean * dy,
        corner[1] + sign * on * dy - lean * dx,
        out * Math.sin(edgeFold * radians),
      ];
    };
    finished.push(stand(after, 1, -slant * Math.tan(g * radians), slant));
    const open = (90 + g - half) * radians;
    const [edge, sign] = onAfter ? [after, 1] : [before, -1];
    const high = tip * Math.sin(open);
    finished.push(stand(edge, sign, tip * Math.cos(open), lock ? 2 * slant - high : high));
  }
  const folds = sides + sides * (lock ? 6 : 3);
  const innerVertices = sides * (lock ? 2 : 1);
  return {
    name: `flare on ${square ? `rectangle ${show(wide)}` : `${sides} sides`}, gusset ${show(g)}, ${lock ? 'tips over' : 'tips up'}`,
    outline,
    creases,
    still: [base.reduce((s, p) => s + p[0], 0) / sides, base.reduce((s, p) => s + p[1], 0) / sides],
    panels: folds - innerVertices + 1, // Euler
    innerVertices,
    finished,
    rigid: true,
  };
}

/** Strips folded across the whole width in some order, then, through all layers, folds the other way. */
export function wallet(random: Random): Model {
  const rows = 1 + Math.floor(random() * 5);
  const columns = Math.floor(random() * 4);
  const cut = (count: number, end: number) => {
    const widths = Array.from({ length: count + 1 }, () => between(random, 1, 4));
    const sum = widths.reduce((a, b) => a + b, 0);
    let at = 0;
    return [0, ...widths.map((w) => (at += (w * end) / sum))];
  };
  const width = between(random, 0.6, 1.6);
  const y = cut(rows, 1);
  const x = cut(columns, width);
  const sign = () => (random() < 0.5 ? 1 : -1);
  const count = rows + columns;
  const order = [...shuffled(random, rows), ...shuffled(random, columns).map((k) => rows + k)];
  const from = (step: number, angle: number) =>
    Array.from({ length: count }, (_, k) => (k >= step ? angle : 0));
  const creases: ModelCrease[] = [];
  const rowSigns = Array.from({ length: rows }, sign);
  for (let r = 0; r < rows; r++)
    creases.push({
      from: [0, y[r + 1]!],
      to: [width, y[r + 1]!],
      steps: from(order.indexOf(r), 180 * rowSigns[r]!),
    });
  for (let c = 0; c < columns; c++) {
    // each fold across turns the layers over, and with them the sense of the crease
    let now = sign();
    const steps = Array.from({ length: rows + 1 }, () => {
      const angles = from(order.indexOf(rows + c), 180 * now);
      now = -now;
      return angles;
    });
    creases.push(...pieces(upward(x[c + 1]!), y, steps));
  }
  const [left, right] = foldedExtent(x);
  const [low, high] = foldedExtent(y);
  return {
    name: `wallet of ${rows} x ${columns} folds`,
    outline: rectangle(width, 1),
    creases,
    still: [(x[0]! + x[1]!) / 2, (y[0]! + y[1]!) / 2],
    ...gridCounts(rows, columns, 0),
    finished: boxCorners([left, low, 0], [right, high, 0]),
    rigid: true,
  };
}

/** Least and greatest place on a strip that turns back at every cut. */
function foldedExtent(cuts: readonly number[]): [number, number] {
  let at = 0;
  const places = [0];
  for (let k = 1; k < cuts.length; k++) places.push((at += (k % 2 ? 1 : -1) * (cuts[k]! - cuts[k - 1]!)));
  return [Math.min(...places), Math.max(...places)];
}

export const twistSides = Array.from({ length: 16 }, (_, bits) =>
  [0, 1, 2, 3].map((side) => ((bits >> side) & 1 ? 'V' : 'M')).join(''),
);

/**
 * Square twist with pleats at the angle x from the sides. Stiff panels can follow only where the fold-angle ratios
 * cancel round the square: where just two of its corners have sides of unequal sense (Hull and Urbanski 2018).
 */
export function squareTwist(random: Random, sides: string): Model {
  const x = between(random, 20, 70);
  const reach = between(random, 1, 2.5);
  const corners = rectangle(1, 1);
  const sense = [...sides].map((letter) => (letter === 'V' ? 180 : -180));
  const creases: ModelCrease[] = [];
  const outline: Point[] = [];
  const finished: Space[] = corners.map(([cx, cy]) => [cx, cy, 0]);
  let unequal = 0;
  for (const [k, corner] of corners.entries()) {
    const [own, before] = [sense[k]!, sense[(k + 3) % 4]!];
    const differ = own !== before;
    if (differ) unequal++;
    const end = (turn: number): Point => [
      corner[0] + reach * Math.cos((90 * k + turn + x) * radians),
      corner[1] + reach * Math.sin((90 * k + turn + x) * radians),
    ];
    const [p, q] = [end(90), end(180)];
    creases.push({ from: corner, to: corners[(k + 1) % 4]!, steps: [own] });
    creases.push({ from: corner, to: p, steps: [differ ? own : -own] });
    creases.push({ from: corner, to: q, steps: [differ ? -before : before] });
    outline.push(p, q);
    // folded flat, the panel beyond a side is its mirror image in that side; p is of the side before, q of its own
    finished.push(mirrored(p, corners[(k + 3) % 4]!, corner), mirrored(q, corner, corners[(k + 1) % 4]!));
  }
  return {
    name: `twist ${sides}, pleats at ${show(x)}, reach ${show(reach)}`,
    outline,
    creases,
    still: [0.5, 0.5],
    panels: 9,
    innerVertices: 4,
    finished,
    rigid: unequal === 2,
  };
}

function mirrored(p: Point, a: Point, b: Point): Space {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy);
  return [2 * (a[0] + t * dx) - p[0], 2 * (a[1] + t * dy) - p[1], 0];
}

function direction(a: Point, b: Point): number {
  return Math.atan2(b[1] - a[1], b[0] - a[0]) / radians;
}

function boxCorners(low: Space, high: Space): Space[] {
  return Array.from(
    { length: 8 },
    (_, bits) => [0, 1, 2].map((a) => ((bits >> a) & 1 ? high : low)[a]!) as unknown as Space,
  );
}

function show(...numbers: number[]): string {
  return numbers.map((n) => Number(n.toFixed(2))).join(' x ');
}

export function shuffled(random: Random, count: number): number[] {
  const list = Array.from({ length: count }, (_, k) => k);
  for (let k = count - 1; k > 0; k--) {
    const j = Math.floor(random() * (k + 1));
    [list[k], list[j]] = [list[j]!, list[k]!];
  }
  return list;
}

/** A model as a stranger would draw it: strokes in any order and sense, turned, mirrored, moved, in its own unit. */
export interface Disguise {
  readonly segments: readonly Segment[];
  /** Crease of the model that each segment is, or -1 for the outline. */
  readonly creaseOf: readonly number[];
  /** A flat point of the model, in the drawing's unit. */
  readonly place: (point: Point) => Point;
  /** Turn in radians after mirroring, and the drawing's unit in the model's. */
  readonly turn: number;
  readonly mirror: boolean;
  readonly unit: number;
}

export function disguise(model: Model, random: Random): Disguise {
  const turn = between(random, 0, 2 * Math.PI);
  const mirror = random() < 0.5;
  const unit = 10 ** between(random, -1, 3);
  const shift = [between(random, -5, 5) * unit, between(random, -5, 5) * unit];
  const place = ([px, py]: Point): Point => {
    const x = mirror ? -px : px;
    return [
      shift[0]! + unit * (x * Math.cos(turn) - py * Math.sin(turn)),
      shift[1]! + unit * (x * Math.sin(turn) + py * Math.cos(turn)),
    ];
  };
  const edges = model.outline.map(
    (from, k) =>
      [from, model.outline[(k + 1) % model.outline.length]!, 'edge' as LineKind, undefined] as const,
  );
  const folds = model.creases.map(({ from, to, steps }) => {
    const angle = steps[steps.length - 1]! * radians;
    return [from, to, (angle > 0 ? 'valley' : 'mountain') as LineKind, angle] as const;
  });
  const order = shuffled(random, edges.length + folds.length);
  const segments = order.map((index): Segment => {
    const [from, to, kind, angle] = [...edges, ...folds][index]!;
    const [a, b] = random() < 0.5 ? [place(from), place(to)] : [place(to), place(from)];
    return { x1: a[0], y1: a[1], x2: b[0], y2: b[1], kind, ...(angle === undefined ? {} : { angle }) };
  });
  return {
    segments,
    creaseOf: order.map((index) => (index < edges.length ? -1 : index - edges.length)),
    place,
    turn,
    mirror,
    unit,
  };
}

/** A drawing as an SVG file with names of our own form, in mm to a tenth, the page just round it. */
export function roundedSvg({ segments }: Pick<Disguise, 'segments'>, millimetres: number): string {
  const round = (value: number) => Math.round(value * millimetres * 10) / 10;
  const lines = segments.map(({ x1, y1, x2, y2, kind, angle }) => {
    const name = angle === undefined ? kind : `${kind} ${Number(Math.abs(angle / radians).toFixed(4))}`;
    const ends = `x1="${round(x1)}" y1="${-round(y1)}" x2="${round(x2)}" y2="${-round(y2)}"`;
    return `<g id="${name}"><line ${ends}/></g>`;
  });
  const [x, y] = [segments.map(({ x1 }) => round(x1)), segments.map(({ y1 }) => -round(y1))];
  const box = [Math.min(...x), Math.min(...y)] as const;
  const [width, height] = [Math.max(...x) - box[0], Math.max(...y) - box[1]];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="${box[0]} ${box[1]} ${width} ${height}">${lines.join('\n')}</svg>`;
}
