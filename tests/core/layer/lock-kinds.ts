/**
 * Kinds of locks as crease patterns of given lengths, mm, with what plane geometry says of each. Own geometry;
 * every formula stands beside its figure. Nothing here knows how locks are found.
 */
import type { Grade } from '../../../src/core/layer/lock/lock.ts';
import type { Segment } from '../../../src/core/sheet/segment.ts';
import { between, hingedCase, type Random } from '../../support/models.ts';

export type Lengths = Readonly<Record<string, number>>;
type Point = readonly [number, number];
type Space = readonly [number, number, number];

export interface Pattern {
  readonly segments: readonly Segment[];
  /** A place of the panel that stays still. */
  readonly still: Point;
  /** Places on the sheet of two panels, and the direction in which the first lies beyond the second. */
  readonly lies: readonly (readonly [Point, Point, Space])[];
  /** Places of the panels expected. */
  readonly tab: Point;
  readonly pocket: readonly Point[];
  readonly first: readonly Point[];
}

export interface Figures {
  readonly depth: number;
  readonly frictionLength: number;
  readonly opens: Space | null;
}

export interface Kind {
  readonly name: string;
  /** The grade where it holds at all. */
  readonly grade: Grade;
  lengths(random: Random): Lengths;
  /** Lengths that may only shrink: there the pattern is as long as it can be. */
  readonly atMost?: readonly string[];
  pattern(lengths: Lengths): Pattern;
  figures(lengths: Lengths): Figures;
}

const up: Space = [0, 0, 1];

function line([x1, y1]: Point, [x2, y2]: Point, degrees: number | 'edge' | 'cut'): Segment {
  if (typeof degrees === 'string') return { x1, y1, x2, y2, kind: degrees };
  return { x1, y1, x2, y2, kind: degrees > 0 ? 'valley' : 'mountain', angle: (degrees * Math.PI) / 180 };
}

const outline = (points: readonly Point[]) =>
  points.map((point, k) => line(point, points[(k + 1) % points.length]!, 'edge'));

/** A strip along x with folds across it. */
function strip(lengths: readonly number[], width: number, degrees: readonly number[]) {
  const at = [0];
  for (const length of lengths) at.push(at.at(-1)! + length);
  const end = at.at(-1)!;
  const segments = [
    ...outline([
      [0, 0],
      [end, 0],
      [end, width],
      [0, width],
    ]),
    ...degrees.map((angle, k) => line([at[k + 1]!, 0], [at[k + 1]!, width], angle)),
  ];
  const middles = lengths.map((length, k): Point => [at[k]! + length / 2, width / 2]);
  return { segments, middles };
}

/** Half of the sizes have edges that just meet. */
const orNothing = (random: Random, most: number) => (random() < 0.5 ? 0 : between(random, 0, most));

/**
 * A body of 20 by 40 with a wing folded over its middle as a sleeve, open above, below and on one side; a strip goes from
 * the top behind the body, round its lower edge and 18 up in front of it, 8 into the sleeve. All in mm.
 */
export function sleeve(): Pattern {
  const rim: Point[] = [
    [0, 0],
    [20, 0],
    [20, 10],
    [35, 10],
    [35, 30],
    [20, 30],
    [20, 40],
    [19, 40],
    [19, 99],
    [14, 99],
    [14, 40],
    [0, 40],
  ];
  const tab: Point = [16, 90];
  return {
    segments: [
      ...outline(rim),
      line([20, 10], [20, 30], 180),
      line([14, 40], [19, 40], -180),
      line([14, 80.5], [19, 80.5], -180),
    ],
    ...{
      still: [2, 2],
      tab,
      pocket: [
        [2, 2],
        [30, 20],
      ],
      first: [[16, 60]],
    },
    lies: [[[30, 20], tab, up]],
  };
}

interface Arm {
  /** Side of the base from which the wall rises, the base on its left, and the direction away from it. */
  readonly a: Point;
  readonly b: Point;
  readonly out: Point;
  /** Length of the flap on the wall; null: no wall. */
  readonly flap: number | null;
  /** How much narrower the flap grows on each side, by its length. */
  readonly taper?: number;
}

const move = ([x, y]: Point, [dx, dy]: Point, by: number): Point => [x + dx * by, y + dy * by];
function direction(a: Point, b: Point): Point {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** A base with walls of height h that all turn by the given angle, and flaps on them that turn as far again. */
function boxWithFlaps(arms: readonly Arm[], h: number, turn: number) {
  const corners = arms.flatMap(({ a, b, out, flap, taper = 0 }) => {
    if (flap === null) return [a];
    const ahead = direction(a, b);
    const wall = [a, move(a, out, h), move(b, out, h)] as const;
    const ends = [move(wall[1], out, flap), move(wall[2], out, flap)] as const;
    if (taper === 0) return [a, ...ends];
    return [
      ...[wall[0], wall[1], move(ends[0], ahead, taper * flap)],
      ...[move(ends[1], ahead, -taper * flap), wall[2]],
    ];
  });
  const folds = arms.flatMap(({ a, b, out, flap }) =>
    flap === null ? [] : [line(a, b, turn), line(move(a, out, h), move(b, out, h), turn)],
  );
  const flaps = arms.map(({ a, b, out, flap }) => move(middle(a, b), out, h + (flap ?? 0) / 2));
  return { segments: [...outline(corners), ...folds], flaps };
}

/** South, east, north and west of a base of the given width and depth. */
function fourArms(w: number, v: number, flaps: readonly (number | null)[]): Arm[] {
  const rim: Point[] = [
    [0, 0],
    [w, 0],
    [w, v],
    [0, v],
  ];
  const outs: Point[] = [
    [0, -1],
    [1, 0],
    [0, 1],
    [-1, 0],
  ];
  return rim.map((a, k) => ({ a, b: rim[(k + 1) % 4]!, out: outs[k]!, flap: flaps[k]! }));
}

/** Four flaps folded flat onto a square base of edge w, each over the next. */
export function flatRing(w: number, flaps: readonly number[]): Pattern {
  const arms = fourArms(w, w, flaps);
  const segments = [
    ...outline(arms.flatMap(({ a, b, out, flap }) => [a, move(a, out, flap!), move(b, out, flap!)])),
    ...arms.map(({ a, b }) => line(a, b, 180)),
  ];
  const places = arms.map(({ a, b, out, flap }) => move(middle(a, b), out, flap! / 2));
  return {
    ...{ segments, still: [w / 2, w / 2], tab: places[0]!, pocket: places.slice(1), first: [] },
    lies: places.map((place, k) => [place, places[(k + 1) % 4]!, up]),
  };
}

/**
 * A tuck box in one strip, flap of 12 inside the front wall; the front wall goes on over the lid by `over` mm (0: not at
 * all), so that the flap cannot come up.
 */
export function shutBox(over: number): Pattern {
  const { segments, middles } = strip([12, 30, 20, 30, 20, ...(over > 0 ? [over] : [])], 40, [
    90,
    90,
    90,
    90,
    ...(over > 0 ? [90] : []),
  ]);
  const [tab, lid, , base, wall, rim] = middles as [Point, Point, Point, Point, Point, Point | undefined];
  return {
    ...{ segments, still: base, tab, pocket: [wall], first: [] },
    lies: [[wall, tab, [1, 0, 0]], ...(rim ? ([[rim, lid, up]] as const) : [])],
  };
}

/** Two flaps at right angles, the south one over the east one as seen from outside. */
function twoFlaps({ w, v, h, s, e }: Lengths, turn: number): Pattern {
  const { segments, flaps } = boxWithFlaps(fourArms(w!, v!, [s!, e!, null, null]), h!, turn);
  const [south, east] = flaps as [Point, Point];
  return {
    ...{ segments, still: [w! / 2, v! / 2], tab: east, pocket: [south], first: [south] },
    lies: [[south, east, [0, 0, Math.sign(turn)]]],
  };
}

const twoFlapLengths = (random: Random): Lengths => ({
  w: between(random, 60, 90),
  v: between(random, 60, 90),
  h: between(random, 20, 40),
  s: between(random, 5, 50),
  e: between(random, 5, 50),
});

/**
 * Front wall, base, back wall, lid and flap in one strip along y, folded up into a box: the flap inside the front wall.
 * With `c` also a right wall with a tab of that length, inside the flap.
 */
function tuckBox({ l, d, h, g, f, c }: Lengths): Pattern {
  const [base, back] = [h!, h! + d!];
  const lid = back + h! + g!;
  const [flap, end] = [lid + d!, lid + d! + f!];
  const side: Point[] = c
    ? [
        [l!, base - c],
        [l! + h!, base - c],
        [l! + h!, back],
        [l!, back],
      ]
    : [];
  const segments = [
    ...outline([[0, 0], [l!, 0], ...side, [l!, end], [0, end]]),
    ...[base, back, lid, flap].map((y) => line([0, y], [l!, y], 90)),
    ...(c
      ? [
          line([l!, base - c], [l!, base], 'cut'),
          line([l!, base], [l!, back], 90),
          line([l!, base], [l! + h!, base], 90),
        ]
      : []),
  ];
  const [wall, tab, corner]: Point[] = [
    [l! / 2, h! / 2],
    [l! / 2, flap + f! / 2],
    [l! + h! / 2, base - (c ?? 0) / 2],
  ];
  const front: Space = [0, -1, 0];
  return {
    ...{ segments, still: [l! / 2, base + d! / 2], tab: tab!, first: [[l! / 2, lid + d! / 2]] },
    pocket: c ? [wall!, corner!] : [wall!],
    lies: [[wall!, tab!, front], ...(c ? ([[tab!, corner!, front]] as const) : [])],
  };
}

function tuckBoxLengths(random: Random): Lengths {
  const h = between(random, 20, 40);
  const g = orNothing(random, 1);
  // down to the base at most
  return {
    ...{ h, g, l: between(random, 50, 90), d: between(random, 25, 40) },
    f: g + h * (random() < 0.3 ? 1 : between(random, 0.01, 0.9)),
  };
}

/**
 * A band folded up along the lower edge, then both ends folded behind, the right one into the left one's band. With `u` a
 * tongue on top, `t` wide, is folded behind too, into the right one's band.
 */
export function bandWallet({ w, left, right, p, b, u, t }: Lengths): Pattern {
  const [all, top] = [left! + w! + right!, p! + b!];
  const corner = left! + w!;
  const tongue: Point[] = u
    ? [
        [corner, top],
        [corner, top + u],
        [corner - t!, top + u],
        [corner - t!, top],
      ]
    : [];
  const segments = [
    ...outline([[0, 0], [all, 0], [all, top], ...tongue, [0, top]]),
    line([0, p!], [all, p!], 180),
    ...[left!, corner].flatMap((x) => [line([x, 0], [x, p!], 180), line([x, p!], [x, top], -180)]),
    ...(u ? [line([corner - t!, top], [corner, top], -180)] : []),
  ];
  const high = p! + b! / 2;
  const [tab, band]: Point[] = [
    [all - right! / 2, high],
    [all - right! / 2, p! / 2],
  ];
  const [below, above]: Point[] = [
    [left! / 2, high],
    [left! / 2, p! / 2],
  ];
  const inside: Point = [corner - (t ?? 0) / 2, top + (u ?? 0) / 2];
  return {
    ...{ segments, still: [left! + w! / 2, high], tab: tab!, pocket: [below!, above!] },
    lies: [
      [below!, tab!, up],
      [band!, above!, up],
      ...(u
        ? ([
            [tab!, inside, up],
            [inside, band!, up],
          ] as const)
        : []),
    ],
    first: [
      [left! + w! / 2, high],
      [left! + w! / 2, p! / 2],
    ],
  };
}

export const kinds: readonly Kind[] = [
  {
    name: 'a hem over a tab that folds in from the far end',
    grade: 'fold',
    lengths: (random) => {
      const [a, b] = [between(random, 2, 20), between(random, 30, 80)];
      return { w: between(random, 20, 60), a, b, c: b - orNothing(random, a) };
    },
    atMost: ['c'],
    pattern: ({ a, b, c, w }) => {
      const { segments, middles } = strip([a!, b!, c!], w!, [180, 180]);
      const [hem, body, tab] = middles as [Point, Point, Point];
      return { segments, still: body, lies: [[hem, tab, up]], tab, pocket: [hem, body], first: [hem] };
    },
    // the tab reaches from the far end to b - c, the hem to a
    figures: ({ a, b, c, w }) => ({ depth: a! + c! - b!, frictionLength: w!, opens: null }),
  },
  {
    name: 'an end turned in, and the other end folded over it',
    grade: 'fold',
    lengths: (random) => {
      const [a, b] = [between(random, 2, 20), between(random, 30, 80)];
      return { w: between(random, 20, 60), a, b, c: b + orNothing(random, 20) };
    },
    pattern: ({ a, b, c, w }) => {
      const { segments, middles } = strip([a!, b!, c!], w!, [180, 180]);
      const [tab, body, cover] = middles as [Point, Point, Point];
      return { segments, still: body, lies: [[cover, tab, up]], tab, pocket: [body, cover], first: [cover] };
    },
    // all of the end is covered; a cover that stops short of the edge leaves b - c bare
    figures: ({ a, b, c, w }) => ({ depth: Math.min(a!, a! + c! - b!), frictionLength: w!, opens: null }),
  },
  {
    name: 'an end that wraps round an edge and back',
    grade: 'fold',
    lengths: (random) => {
      const b = between(random, 30, 80);
      const c = b + orNothing(random, 10);
      return { w: between(random, 20, 60), b, c, e: c - b + between(random, 0.5, 20) };
    },
    atMost: ['b'],
    pattern: ({ b, c, e, w }) => {
      const { segments, middles } = strip([b!, c!, e!], w!, [180, 180]);
      const [body, cover, end] = middles as [Point, Point, Point];
      return {
        segments,
        still: body,
        lies: [[body, end, up]],
        tab: body,
        pocket: [cover, end],
        first: [end],
      };
    },
    // the end comes back under the body from c - b outside its edge
    figures: ({ b, c, e, w }) => ({ depth: e! - (c! - b!), frictionLength: w!, opens: null }),
  },
  {
    name: 'a band folded up, both ends behind, one in the other',
    grade: 'friction',
    lengths: (random) => {
      const w = between(random, 40, 60);
      const [left, right] = [w * between(random, 0.55, 0.9), w * between(random, 0.55, 0.9)];
      const p = between(random, 5, 25);
      return { w, left, right, p, b: p * between(random, 1.2, 2) };
    },
    pattern: bandWallet,
    // flaps overlap by left + right - w; out sideways, or up out of the band
    figures: ({ w, left, right, p }) => {
      const overlap = left! + right! - w!;
      return {
        depth: Math.min(overlap, p!),
        frictionLength: Math.max(overlap, p!),
        opens: overlap < p! ? [1, 0, 0] : [0, 1, 0],
      };
    },
  },
  {
    name: 'a tuck flap inside one wall',
    grade: 'friction',
    lengths: tuckBoxLengths,
    atMost: ['f'],
    pattern: tuckBox,
    // the lid lies g above the rim
    figures: ({ l, f, g }) => ({ depth: f! - g!, frictionLength: l!, opens: up }),
  },
  {
    name: 'a tuck flap between a wall and the tab of the next wall',
    grade: 'friction',
    lengths: (random) => ({ ...tuckBoxLengths(random), c: between(random, 6, 18) }),
    atMost: ['f', 'c'],
    pattern: tuckBox,
    figures: ({ l, f, g }) => ({ depth: f! - g!, frictionLength: l!, opens: up }),
  },
  {
    name: 'a ring of four flaps',
    grade: 'ring',
    lengths: (random) => ({
      ...{ w: between(random, 60, 90), v: between(random, 60, 90), h: between(random, 20, 40) },
      ...{ s: between(random, 0.5, 28), e: between(random, 2, 28) },
      ...{ n: between(random, 2, 28), o: between(random, 2, 28) },
    }),
    pattern: ({ w, v, h, s, e, n, o }) => {
      const { segments, flaps } = boxWithFlaps(fourArms(w!, v!, [s!, e!, n!, o!]), h!, 90);
      return {
        ...{ segments, still: [w! / 2, v! / 2], tab: flaps[0]!, pocket: flaps.slice(1), first: [] },
        lies: flaps.map((flap, k) => [flap, flaps[(k + 1) % 4]!, up]),
      };
    },
    // neighbours overlap in a rectangle of their two lengths
    figures: ({ s, e, n, o }) => {
      const pairs = [
        [s!, e!],
        [e!, n!],
        [n!, o!],
        [o!, s!],
      ];
      return {
        depth: Math.min(...pairs.map((pair) => Math.min(...pair))),
        frictionLength: Math.min(...pairs.map((pair) => Math.max(...pair))),
        opens: null,
      };
    },
  },
  {
    name: 'a ring of three flaps on a triangle',
    grade: 'ring',
    lengths: (random) => ({
      ...{ w: between(random, 70, 90), h: between(random, 20, 40) },
      ...{ s: between(random, 0.5, 15), e: between(random, 2, 15), n: between(random, 2, 15) },
    }),
    pattern: ({ w, h, s, e, n }) => {
      const rim: Point[] = [
        [0, 0],
        [w!, 0],
        [w! / 2, (w! * Math.sqrt(3)) / 2],
      ];
      const arms = rim.map((a, k): Arm => {
        const b = rim[(k + 1) % 3]!;
        const [dx, dy] = direction(a, b);
        // within the triangle
        return { a, b, out: [dy, -dx], flap: [s!, e!, n!][k]!, taper: 1 / Math.sqrt(3) };
      });
      const { segments, flaps } = boxWithFlaps(arms, h!, 90);
      const still: Point = [w! / 2, w! / (2 * Math.sqrt(3))];
      return {
        ...{ segments, still, tab: flaps[0]!, pocket: flaps.slice(1), first: [] },
        lies: flaps.map((flap, k) => [flap, flaps[(k + 1) % 3]!, up]),
      };
    },
    /*
     * Two strips of widths p and q from a corner of 60 degrees: their overlap starts in the corner and ends where both
     * inner edges meet, at height p over the one side and q over the other; along a side that is (q + p / 2) / sin 60.
     */
    figures: ({ s, e, n }) => {
      const along = (p: number, q: number) => (q + p / 2) / Math.sin(Math.PI / 3);
      const pairs = [
        [s!, e!],
        [e!, n!],
        [n!, s!],
      ] as const;
      return {
        depth: Math.min(s!, e!, n!),
        frictionLength: Math.min(...pairs.map(([p, q]) => Math.max(along(p, q), along(q, p)))),
        opens: null,
      };
    },
  },
  {
    name: 'a long flap over the tip of another',
    grade: 'gravity',
    lengths: (random) => {
      const [a, b] = [between(random, 38, 50), between(random, 60, 80)];
      return { w: between(random, 20, 60), a, b, c: b - a + between(random, 0.5, 40) };
    },
    atMost: ['c'],
    pattern: ({ a, b, c, w }) => {
      const { segments, middles } = strip([a!, b!, c!], w!, [180, 180]);
      const [cover, body, tab] = middles as [Point, Point, Point];
      return { segments, still: body, lies: [[cover, tab, up]], tab, pocket: [cover, body], first: [cover] };
    },
    // as under a hem, but the cover is too long to be stiff, and b - a of the tab is bare
    figures: ({ a, b, c, w }) => ({
      depth: a! - Math.max(0, b! - c!),
      frictionLength: w!,
      opens: null,
    }),
  },
  {
    name: 'a cover on top of a flap',
    grade: 'gravity',
    lengths: twoFlapLengths,
    pattern: (lengths) => twoFlaps(lengths, 90),
    figures: ({ s, e }) => ({ depth: Math.min(s!, e!), frictionLength: Math.max(s!, e!), opens: null }),
  },
  {
    name: 'a cover beneath a flap',
    grade: 'none',
    lengths: twoFlapLengths,
    pattern: (lengths) => twoFlaps(lengths, -90),
    figures: ({ s, e }) => ({ depth: Math.min(s!, e!), frictionLength: Math.max(s!, e!), opens: null }),
  },
  {
    name: 'a tab through a slit',
    grade: 'friction',
    lengths: (random) => {
      const wall = between(random, 5, 20);
      return {
        ...{ wall, top: between(random, 10, 40), tip: wall + between(random, 0.5, 30) },
        ...{ w: between(random, 6, 20), slack: orNothing(random, 4), plate: 60 },
      };
    },
    pattern: ({ wall, top, tip, w, slack, plate }) => {
      const [low, high] = [30 - w! / 2, 30 + w! / 2];
      const at = [plate!, plate! + wall!, plate! + wall! + top!, plate! + wall! + top! + tip!];
      const slit = plate! - top!;
      const segments = [
        ...outline([
          [0, 0],
          [plate!, 0],
          [plate!, low],
          [at[3]!, low],
          [at[3]!, high],
          [plate!, high],
          [plate!, 60],
          [0, 60],
        ]),
        ...at.slice(0, 3).map((x) => line([x, low], [x, high], 90)),
        line([slit, low - slack! / 2], [slit, high + slack! / 2], 'cut'),
      ];
      const [tab, over] = [at[2]! + tip! / 2, at[1]! + top! / 2].map((x): Point => [x, 30]);
      return {
        ...{ segments, still: [5, 5], lies: [], tab: tab!, pocket: [[5, 5]], first: [over!] },
      };
    },
    // the tip hangs from the height of the wall
    figures: ({ wall, tip, w }) => ({ depth: tip! - wall!, frictionLength: w!, opens: up }),
  },
  {
    name: 'a flap behind two gussets',
    grade: 'friction',
    lengths: (random) => {
      const h = between(random, 12, 28);
      return {
        ...{ h, l: h * between(random, 2.4, 4), d: h * between(random, 0.8, 2) },
        f: h * (random() < 0.3 ? 1 : between(random, 0.31, 0.95)),
      };
    },
    atMost: ['f'],
    pattern: ({ h, l, d, f }) => {
      const unit = 20;
      // what `hingedCase` draws: height, length and depth by height, whether there is a flap, its length by height
      const draws = [h! / unit - 0.5, (l! / h! - 2.2) / 5.8, (d! / h! - 0.7) / 3.3, 1, (f! / h! - 0.3) / 0.7];
      const { outline: rim, creases } = hingedCase(() => draws.shift()!);
      const place = ([x, y]: Point): Point => [x * unit, y * unit];
      const at = (x: number, y: number): Point => [h! + x, y];
      const [wall, tab] = [at(l! / 2, h! / 2), at(l! / 2, 3 * h! + 2 * d! - h! + f! / 2)];
      const gussets = [at(-h! / 4, h! / 2), at(l! + h! / 4, h! / 2)] as const;
      const front: Space = [0, -1, 0];
      return {
        segments: [
          ...outline(rim.map(place)),
          ...creases.map(({ from, to, steps }) => line(place(from), place(to), steps.at(-1)!)),
        ],
        ...{ still: at(l! / 2, h! + d! / 2), tab, pocket: [wall, gussets[0]] },
        lies: [[wall, tab, front], ...gussets.map((gusset) => [tab, gusset, front] as const)],
        first: [at(l! / 2, 2 * h! + 1.5 * d!)],
      };
    },
    // a gusset is a right triangle with both legs h, one of them along the rim; the flap goes down its whole length
    figures: ({ h, f }) => ({ depth: f!, frictionLength: h!, opens: up }),
  },
];
