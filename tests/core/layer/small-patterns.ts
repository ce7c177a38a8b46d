/** Random small patterns for layer orders, flat and in space: strips, maps, Miura pieces, vertices, trees, corners. */
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { closes, type Pattern } from '../../oracles/layers.ts';

type Point = readonly [number, number];
type Degrees = number | undefined;

class Chance {
  readonly #next: () => number;
  constructor(seed: number) {
    this.#next = seededRandom(seed);
    // neighbouring seeds begin alike
    for (let k = 0; k < 5; k++) this.#next();
  }
  between(low: number, high: number) {
    return low + (high - low) * this.#next();
  }
  whole(low: number, high: number) {
    return Math.floor(this.between(low, high + 1));
  }
  of<T>(list: readonly T[]): T {
    return list[this.whole(0, list.length - 1)]!;
  }
}

const key = (a: number, b: number) => (a < b ? `${a},${b}` : `${b},${a}`);

/** A pattern with an angle for every crease, each asked for once, in order. */
function patternOf(vertices: readonly Point[], faces: readonly number[][], angle: () => Degrees): Pattern {
  const degrees = new Map<string, Degrees>();
  const seen = new Set<string>();
  for (const face of faces)
    face.forEach((a, k) => {
      const name = key(a, face[(k + 1) % face.length]!);
      if (seen.has(name)) degrees.set(name, angle());
      seen.add(name);
    });
  return withDegrees(vertices, faces, degrees);
}

const withDegrees = (
  vertices: readonly Point[],
  faces: readonly number[][],
  degrees: ReadonlyMap<string, Degrees>,
): Pattern => ({ vertices, faces, degreesOf: (a, b) => degrees.get(key(a, b)) });

/** Half turns: all unassigned, all given, or some of each. */
function halfTurns(chance: Chance): () => Degrees {
  const given = chance.of([0, 0.3, 0.6, 1]);
  return () => (chance.between(0, 1) < given ? chance.of([180, -180]) : undefined);
}

const IN_SPACE = [0, 90, -90, 180, -180, undefined] as const;

function lengths(chance: Chance, count: number): number[] {
  const lattice = chance.of([true, true, false]);
  return Array.from({ length: count }, () =>
    lattice ? chance.of([1, 1, 2, 3]) : chance.whole(20, 60) / 20 + chance.between(0, 0.02),
  );
}

function ends(steps: readonly number[]): number[] {
  const sums = [0];
  for (const step of steps) sums.push(sums[sums.length - 1]! + step);
  return sums;
}

/** @param lean how far the creases may lean to either side: no two ever meet */
function strip(chance: Chance, angle: () => Degrees, lean: number): Pattern {
  const at = ends(lengths(chance, chance.whole(2, 6)));
  const vertices = at.flatMap((x): Point[] => [
    [x + chance.between(-lean, lean), 0],
    [x + chance.between(-lean, lean), 1],
  ]);
  const faces = at.slice(1).map((_, k) => [2 * k, 2 * k + 2, 2 * k + 3, 2 * k + 1]);
  return patternOf(vertices, faces, angle);
}

function gridFaces(m: number, n: number): number[][] {
  const id = (i: number, j: number) => j * (m + 1) + i;
  return Array.from({ length: m * n }, (_, k) => {
    const [i, j] = [k % m, Math.floor(k / m)];
    return [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
  });
}

const GRIDS = [
  [2, 2],
  [3, 2],
  [2, 3],
  [3, 2],
] as const;

/** Cells of unlike sizes; every second column leans, if asked, as in a Miura sheet. */
function grid(
  chance: Chance,
  [m, n]: readonly [number, number],
  gamma: number,
  angle: () => Degrees,
): Pattern {
  const [across, up] = [ends(lengths(chance, m)), ends(lengths(chance, n))];
  const rise = ends(lengths(chance, m).map((_, i) => (i % 2 ? -1 : 1) * (across[i + 1]! - across[i]!)));
  const vertices = up.flatMap((y) => across.map((x, i): Point => [x, y + rise[i]! / Math.tan(gamma)]));
  return patternOf(vertices, gridFaces(m, n), angle);
}

/** A map folded in space: angles are drawn until the panels meet round every inner vertex. */
function mapInSpace(chance: Chance): Pattern {
  const size = chance.of(GRIDS);
  return drawnUntilClosed(() => {
    // rows and columns mostly go through, as closing asks for
    const row = chance.of(IN_SPACE);
    return grid(chance, size, Math.PI / 2, () => (chance.between(0, 1) < 0.4 ? row : chance.of(IN_SPACE)));
  });
}

function drawnUntilClosed(draw: () => Pattern): Pattern {
  for (let tries = 0; tries < 20000; tries++) {
    const pattern = draw();
    if (closes(pattern)) return pattern;
  }
  throw new Error('No pattern of the kind closes.');
}

/** Fans of triangles round the origin, closed: sectors in degrees, crease k before sector k. */
function fan(chance: Chance, sectors: readonly number[], degrees: readonly Degrees[]): Pattern {
  const directions = ends(sectors).slice(0, -1);
  const reach = sectors.map(() => chance.between(1, 2));
  const vertices: Point[] = [
    [0, 0],
    ...directions.map((d, k): Point => {
      const a = (d * Math.PI) / 180;
      return [reach[k]! * Math.cos(a), reach[k]! * Math.sin(a)];
    }),
  ];
  const faces = sectors.map((_, k) => [0, k + 1, ((k + 1) % sectors.length) + 1]);
  return withDegrees(vertices, faces, new Map(degrees.map((value, k) => [key(0, k + 1), value])));
}

/** Kawasaki: every second sector sums to 180 degrees. A sector may be cut by an unfolded crease. */
function vertex(chance: Chance, degree: 4 | 6): Pattern {
  const half = () => {
    const parts = Array.from({ length: degree / 2 }, () => chance.of([1, 2, 3, chance.between(1, 3)]));
    const sum = parts.reduce((a, b) => a + b, 0);
    return parts.map((part) => (180 * part) / sum);
  };
  const [odd, even] = [half(), half()];
  const angle = halfTurns(chance);
  const sectors = odd.flatMap((sector, k) => [sector, even[k]!]);
  const degrees: Degrees[] = sectors.map(angle);
  if (degree === 4 && chance.of([true, false])) {
    const k = chance.whole(0, 3);
    const cut = chance.between(0.3, 0.7);
    sectors.splice(k, 1, sectors[k]! * cut, sectors[k]! * (1 - cut));
    degrees.splice(k + 1, 0, 0);
  }
  return fan(chance, sectors, degrees);
}

/** Unit squares joined as a tree: no two touch that are not joined, except round a corner of an L. */
function squares(chance: Chance): Pattern {
  const cells: Point[] = [[0, 0]];
  const count = chance.whole(3, 7);
  const ways = [
    [1, 0],
    [0, 1],
    [-1, 0],
    [0, -1],
  ] as const;
  const has = (x: number, y: number) => cells.some(([a, b]) => a === x && b === y);
  const fits = (x: number, y: number) => {
    const beside = ways.filter(([a, b]) => has(x + a, y + b));
    const diagonal = [-1, 1]
      .flatMap((a) => [-1, 1].map((b) => [a, b] as const))
      .filter(([a, b]) => has(x + a, y + b));
    // what touches at a corner must hang on the same square
    const held = diagonal.every(([a, b]) => has(x + a, y) || has(x, y + b));
    return !has(x, y) && beside.length === 1 && held;
  };
  for (let tries = 0; cells.length < count && tries < 200; tries++) {
    const [x, y] = chance.of(cells);
    const [a, b] = chance.of(ways);
    if (fits(x + a, y + b)) cells.push([x + a, y + b]);
  }
  const vertices: Point[] = [];
  const corner = (x: number, y: number) => {
    const found = vertices.findIndex(([a, b]) => a === x && b === y);
    return found < 0 ? vertices.push([x, y]) - 1 : found;
  };
  const faces = cells.map(([x, y]) => [
    corner(x, y),
    corner(x + 1, y),
    corner(x + 1, y + 1),
    corner(x, y + 1),
  ]);
  return patternOf(vertices, faces, () => chance.of(IN_SPACE));
}

/** Corner of a tray with a gusset: floor, two walls, the corner between them cut along its diagonal. */
function gusset(chance: Chance): Pattern {
  const [w, d, high] = [chance.of([1, 2, 3]), chance.of([1, 2, 3]), 1];
  const far = chance.of([0.5, 1, 2]);
  // floor 0-3, right wall 1 4 5 2, back wall 3 2 6 7, corner 2 5 8 6
  const vertices: Point[] = [
    [0, 0],
    [w, 0],
    [w, d],
    [0, d],
    [w + high, 0],
    [w + high, d],
    [w, d + high],
    [0, d + high],
    [w + high, d + high],
  ];
  const faces = [
    [0, 1, 2, 3],
    [1, 4, 5, 2],
    [3, 2, 6, 7],
    [2, 5, 8],
    [2, 8, 6],
  ];
  const more = (points: Point[], a: number, b: number) => {
    const first = vertices.push(...points) - points.length;
    // joined along a to b, to the right of it
    faces.push([b, a, first, first + 1]);
  };
  if (chance.of([true, false]))
    more(
      [
        [w + high + far, 0],
        [w + high + far, d],
      ],
      4,
      5,
    );
  if (chance.of([true, false]))
    more(
      [
        [-far, d],
        [-far, 0],
      ],
      3,
      0,
    );
  return drawnUntilClosed(() => patternOf(vertices, faces, () => chance.of(IN_SPACE)));
}

/** The sheet turned and shifted, so that nothing lies along an axis. */
function turnedAway(pattern: Pattern, chance: Chance): Pattern {
  const a = chance.between(0, 2 * Math.PI);
  const [c, s, dx, dy] = [Math.cos(a), Math.sin(a), chance.between(-3, 3), chance.between(-3, 3)];
  return { ...pattern, vertices: pattern.vertices.map(([x, y]) => [c * x - s * y + dx, s * x + c * y + dy]) };
}

const FLAT = {
  strip: (chance: Chance) => {
    const angle = halfTurns(chance);
    return strip(chance, () => (chance.between(0, 1) < 0.15 ? 0 : angle()), 0);
  },
  'leaning strip': (chance: Chance) => strip(chance, halfTurns(chance), 0.35),
  map: (chance: Chance) => grid(chance, chance.of(GRIDS), Math.PI / 2, halfTurns(chance)),
  Miura: (chance: Chance) => grid(chance, chance.of(GRIDS), chance.between(1.1, 1.4), halfTurns(chance)),
  'vertex of four': (chance: Chance) => vertex(chance, 4),
  'vertex of six': (chance: Chance) => vertex(chance, 6),
};

const SPACE = {
  'strip in space': (chance: Chance) => strip(chance, () => chance.of(IN_SPACE), 0),
  'leaning strip in space': (chance: Chance) => strip(chance, () => chance.of(IN_SPACE), 0.35),
  'tree of squares': squares,
  'map in space': mapInSpace,
  'box corner': (chance: Chance) =>
    drawnUntilClosed(() =>
      fan(
        chance,
        [90, 90, 45, 45, 90],
        [0, 0, 0, 0, 0].map(() => chance.of(IN_SPACE)),
      ),
    ),
  'gusset tray': gusset,
};

export const families = { ...FLAT, ...SPACE };
export type Family = keyof typeof families;

export function smallPattern(family: Family, seed: number): Pattern {
  const chance = new Chance(seed);
  const pattern = families[family](chance);
  return chance.of([true, false]) ? turnedAway(pattern, chance) : pattern;
}
