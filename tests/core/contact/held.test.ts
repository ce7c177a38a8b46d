/**
 * What lies between two panels does not depend on how the model is held: every pair of random strips is measured anew in a
 * model turned and shifted as a whole (a rigid motion keeps all distances), and against slow and obvious measures from the
 * corners in space. Seeds are printed.
 */
import { describe, expect, it } from 'vitest';
import { coverOf } from '../../../src/core/contact/overlap.ts';
import {
  apart,
  crossPair,
  isInside,
  planeGap,
  relativeMotion,
  turningMotion,
} from '../../../src/core/contact/pair.ts';
import {
  heightOver,
  type PosedPanels,
  placeOver,
  posePanels,
  seenFrom,
  shapesOf,
} from '../../../src/core/contact/shapes.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { type Placement, placePanels } from '../../../src/core/pose/place.ts';
import { panelsInSpace, type Space } from '../../oracles/contact.ts';
import { radians } from '../../support/patterns.ts';
import { hingedStrip } from '../../support/strips.ts';

/** A rigid motion of space, as three rows of a matrix and a shift. */
interface Motion {
  readonly rows: readonly [Space, Space, Space];
  readonly shift: Space;
  readonly quaternion: readonly [number, number, number, number];
}

const dot = (a: Space, b: Space) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Space, b: Space): Space => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const moved = ({ rows, shift }: Motion, p: Space): Space => [
  dot(rows[0], p) + shift[0],
  dot(rows[1], p) + shift[1],
  dot(rows[2], p) + shift[2],
];

/** Matrix of a unit quaternion (Euler and Rodrigues, from memory). */
function randomMotion(random: () => number): Motion {
  const raw = [0, 0, 0, 0].map(() => 2 * random() - 1);
  const [x, y, z, w] = raw.map((one) => one / Math.hypot(...raw)) as [number, number, number, number];
  const rows: Motion['rows'] = [
    [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
  return { rows, shift: [random(), -random(), 2 * random()], quaternion: [x, y, z, w] };
}

function held({ rotation, translation }: Placement, motion: Motion): Placement {
  const [x, y, z, w] = motion.quaternion;
  const turned = new Float64Array(rotation.length);
  const shifted = new Float64Array(translation.length);
  for (let p = 0; 4 * p < rotation.length; p++) {
    const [a, b, c, d] = rotation.subarray(4 * p, 4 * p + 4) as unknown as [number, number, number, number];
    // Hamilton's product
    turned.set(
      [
        w * a + x * d + y * c - z * b,
        w * b - x * c + y * d + z * a,
        w * c + x * b - y * a + z * d,
        w * d - x * a - y * b - z * c,
      ],
      4 * p,
    );
    shifted.set(moved(motion, translation.subarray(3 * p, 3 * p + 3) as unknown as Space), 3 * p);
  }
  return { rotation: turned, translation: shifted };
}

/**
 * Six panels with creases that lean, folded by any angles, and the same a little later: `plain`; as it lies when another
 * panel stays still and the whole is turned: `turned`; the first of the plain poses turned alone: `held`.
 */
function model(seed: number) {
  const random = seededRandom(seed * 7919);
  const lengths = Array.from({ length: 6 }, () => 0.6 + random());
  const lean = Array.from({ length: 7 }, () => 0.5 * (random() - 0.5));
  const strip = hingedStrip(lengths, 1 + random(), lean);
  const shapes = shapesOf(strip.sheet);
  const angle = new Float64Array(strip.sheet.creaseKind.length);
  for (const crease of strip.creases) angle[crease] = (300 * random() - 150) * radians;
  const later = angle.slice();
  for (const crease of strip.creases) later[crease]! += 8 * (random() - 0.5) * radians;
  const [first, still] = [strip.panels[0]!, strip.panels[2]!];
  const motion = randomMotion(random);
  const pose = (angles: Float64Array) => placePanels(strip.sheet, angles, still);
  return {
    ...{ sheet: strip.sheet, motion, random, shapes, still },
    plain: [posePanels(shapes, pose(angle)), posePanels(shapes, pose(later))] as const,
    turned: [
      posePanels(shapes, held(placePanels(strip.sheet, angle, first), motion)),
      posePanels(shapes, held(placePanels(strip.sheet, later, first), motion)),
    ] as const,
    held: posePanels(shapes, held(pose(angle), motion)),
    space: [panelsInSpace(strip.sheet, angle, still), panelsInSpace(strip.sheet, later, still)] as const,
    pairs: strip.panels.flatMap((a) => strip.panels.filter((b) => a !== b).map((b) => [a, b] as const)),
  };
}

const seeds = Array.from({ length: 60 }, (_, k) => k + 1);
const models = seeds.map((seed) => [seed, model(seed)] as const);

const normalOf = (ring: readonly Space[]): Space => {
  // Newell's sum over the outline
  const sum = ring.reduce<Space>(
    (n, p, k) => {
      const q = ring[(k + 1) % ring.length]!;
      return [
        n[0] + (p[1] - q[1]) * (p[2] + q[2]),
        n[1] + (p[2] - q[2]) * (p[0] + q[0]),
        n[2] + (p[0] - q[0]) * (p[1] + q[1]),
      ];
    },
    [0, 0, 0],
  );
  return [0, 1, 2].map((k) => sum[k]! / Math.hypot(...sum)) as unknown as Space;
};

describe('two panels, however the model is held', () => {
  it('cross as deep, and at the same place', () => {
    let crossing = 0;
    for (const [seed, { plain, held: other, motion, pairs }] of models)
      for (const [a, b] of pairs) {
        const what = `seed ${seed}, panels ${a} and ${b}`;
        const [one, two] = [crossPair(plain[0], a, b), crossPair(other, a, b)];
        expect(two === null, what).toBe(one === null);
        if (!one || !two) continue;
        crossing++;
        expect(two.depth, what).toBeCloseTo(one.depth, 9);
        expect(two.free, what).toBe(one.free);
        const place = moved(motion, one.place);
        for (const k of [0, 1, 2]) expect(two.place[k], what).toBeCloseTo(place[k]!, 9);
      }
    expect(crossing).toBeGreaterThan(50);
  });

  it('cross in a place that lies in both', () => {
    for (const [seed, { plain, pairs }] of models)
      for (const [a, b] of pairs) {
        const found = crossPair(plain[0], a, b);
        if (!found) continue;
        for (const panel of [a, b]) {
          const [x, y, height] = seenFrom(plain[0], panel, ...found.place);
          expect(Math.abs(height), `seed ${seed}, panel ${panel}`).toBeLessThan(1e-9);
          expect(isInside(plain[0], panel, x, y), `seed ${seed}, panel ${panel}`).toBe(true);
        }
      }
  });

  it('stand as far apart, as far off a plane, and cover each other as high', () => {
    for (const [seed, { plain, held: other, pairs }] of models)
      for (const [a, b] of pairs) {
        const what = `seed ${seed}, panels ${a} and ${b}`;
        expect(planeGap(other, a, b), what).toBeCloseTo(planeGap(plain[0], a, b), 9);
        expect(apart(other, a, b, 9), what).toBeCloseTo(apart(plain[0], a, b, 9), 7);
        const [one, two] = [coverOf(plain[0], a, b), coverOf(other, a, b)];
        expect(two === null, what).toBe(one === null);
        for (const side of ['up', 'down'] as const)
          if (one && two) expect(two[side].height, what).toBeCloseTo(one[side].height, 9);
      }
  });

  it('go as far as the other sees it', () => {
    for (const [seed, { plain, turned, pairs }] of models)
      for (const [a, b] of pairs) {
        const what = `seed ${seed}, panels ${a} and ${b}`;
        const way = relativeMotion(plain[0], plain[1], a, b);
        expect(relativeMotion(turned[0], turned[1], a, b), what).toBeCloseTo(way, 9);
        expect(turningMotion(turned[0], turned[1], a, b), what).toBeCloseTo(
          turningMotion(plain[0], plain[1], a, b),
          9,
        );
      }
  });
});

/** Corners of a panel as another sees them: along its first side, square to that in its plane, and over it. */
function seenBy(ring: readonly Space[], points: readonly Space[]): Space[] {
  const normal = normalOf(ring);
  const side = minus(ring[1]!, ring[0]!);
  const along = side.map((one) => one / Math.hypot(...side)) as unknown as Space;
  const across: Space = [
    normal[1] * along[2] - normal[2] * along[1],
    normal[2] * along[0] - normal[0] * along[2],
    normal[0] * along[1] - normal[1] * along[0],
  ];
  return points.map((point) => {
    const from = minus(point, ring[0]!);
    return [dot(from, along), dot(from, across), dot(from, normal)];
  });
}

describe('against corners turned in space one crease after another', () => {
  it('heights, gaps between planes, and ways', () => {
    for (const [seed, { plain, space, shapes, pairs }] of models)
      for (const [a, b] of pairs) {
        const what = `seed ${seed}, panels ${a} and ${b}`;
        const heights = seenBy(space[0][b]!, space[0][a]!).map((at) => at[2]);
        const own = range(shapes, a).map((c) => heightOver(plain[0], b, c));
        own.sort(ascending).forEach((height, k) => {
          expect(height, what).toBeCloseTo([...heights].sort(ascending)[k]!, 9);
        });
        const wayOf = (p: number, q: number) => {
          const [before, after] = [seenBy(space[0][q]!, space[0][p]!), seenBy(space[1][q]!, space[1][p]!)];
          return Math.max(...before.map((at, k) => Math.hypot(...minus(at, after[k]!))));
        };
        const neighbours = space[0][a]!.some((p) =>
          space[0][b]!.some((q) => Math.hypot(...minus(p, q)) < 1e-9),
        );
        const most = (neighbours ? Math.max : Math.min)(wayOf(a, b), wayOf(b, a));
        expect(relativeMotion(plain[0], plain[1], a, b), what).toBeCloseTo(most, 9);
        if (neighbours)
          expect(turningMotion(plain[0], plain[1], a, b), what).toBeGreaterThanOrEqual(most - 1e-9);
      }
  });

  it('a place over a panel is seen from it where it was set', () => {
    for (const [seed, { held: posed, random, shapes, pairs }] of models)
      for (const [panel] of pairs) {
        const [x, y, height] = [random(), random(), random() - 0.5];
        const seen = seenFrom(posed, panel, ...placeOver(posed, panel, x, y, height));
        [x, y, height].forEach((one, k) => expect(seen[k], `seed ${seed}`).toBeCloseTo(one, 9));
        for (const c of range(shapes, panel)) expect(heightOver(posed, panel, c)).toBeCloseTo(0, 9);
      }
  });

  it('distances of panels without a common point: no points of them lie nearer, and some nearly as near', () => {
    let measured = 0;
    for (const [seed, { plain, space, pairs }] of models.slice(0, 12))
      for (const [a, b] of pairs) {
        const [p, q] = [gridOf(space[0][a]!), gridOf(space[0][b]!)];
        const nearest = Math.min(
          ...p.points.flatMap((one) => q.points.map((two) => Math.hypot(...minus(one, two)))),
        );
        if (sharesPoint(space[0][a]!, space[0][b]!) || crossPair(plain[0], a, b)) continue;
        measured++;
        const distance = apart(plain[0], a, b, 9);
        // `apart` may stop at any number that is no less than the gap asked about, but never says too much
        expect(distance, `seed ${seed}, panels ${a} and ${b}`).toBeLessThanOrEqual(nearest + 1e-9);
        expect(distance, `seed ${seed}, panels ${a} and ${b}`).toBeGreaterThan(nearest - p.mesh - q.mesh);
      }
    expect(measured).toBeGreaterThan(50);
  });
});

const ascending = (p: number, q: number) => p - q;
const range = ({ first }: PosedPanels['shapes'], panel: number) =>
  Array.from({ length: first[panel + 1]! - first[panel]! }, (_, k) => first[panel]! + k);
const sharesPoint = (p: readonly Space[], q: readonly Space[]) =>
  p.some((one) => q.some((two) => Math.hypot(...minus(one, two)) < 1e-9));

/** Points of a panel of four corners, and how far any of its points is from one of them at most. */
function gridOf([a, b, c, d]: readonly Space[]): { points: Space[]; mesh: number } {
  const n = 6;
  const between = (p: Space, q: Space, t: number) => p.map((x, k) => x + t * (q[k]! - x)) as unknown as Space;
  const points: Space[] = [];
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) points.push(between(between(a!, b!, i / n), between(d!, c!, i / n), j / n));
  const longest = Math.max(
    ...[a!, b!, c!, d!].flatMap((p) => [a!, b!, c!, d!].map((q) => Math.hypot(...minus(p, q)))),
  );
  return { points, mesh: longest / n };
}
