/**
 * A base with a slit, closed or open to an edge, and a tab hinged to its side that may have a slit too: folded flat, or in
 * space so that the tab comes down on the base. As the sheet is drawn, and cut into convex parts for the oracle of layers:
 * there a slit is a line whose two sides have corners of their own.
 */
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import type { Pattern } from '../oracles/layers.ts';
import { PatternMaker, radians } from './patterns.ts';

type Point = readonly [number, number];
type Degrees = number | undefined;

/** A slit along y at `x`, from `low` to `high`; it is open where it reaches an edge. */
interface Slit {
  readonly x: number;
  readonly low: number;
  readonly high: number;
}

export interface TabAndSlit {
  readonly width: number;
  readonly height: number;
  readonly slit: Slit | null;
  /** One more, closed. */
  readonly second?: Slit;
  /** The tab leaves the base's right side from `low` to `high`. */
  readonly low: number;
  readonly high: number;
  /** Lengths of its panels, and the fold before each; undefined: a half turn, either way. */
  readonly lengths: readonly number[];
  readonly degrees: readonly Degrees[];
  /** A slit across one of the tab's panels. */
  readonly tabSlit: Slit | null;
}

const pick = <T>(random: () => number, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
const whole = (random: () => number, low: number, high: number) =>
  low + Math.floor(random() * (high - low + 1));

/** Mostly on a lattice of halves, so that edges come to lie in slits and on each other; else a little off it. */
function draw(random: () => number): { on: (low: number, high: number) => number; slitX: number } {
  const lattice = random() < 0.7;
  const on = (low: number, high: number) =>
    lattice ? whole(random, 2 * low, 2 * high) / 2 : low + (high - low) * random();
  return { on, slitX: lattice ? whole(random, 1, 3) : 0.5 + 2.5 * random() };
}

function baseOf(random: () => number) {
  const { on, slitX } = draw(random);
  const low = pick(random, [0, on(0.5, 1.5)]);
  const slit = { x: slitX, low, high: on(low === 0 ? 1.5 : 2, 3.5) };
  const tabLow = on(0.5, 1.5);
  return { width: 4, height: 4, slit, low: tabLow, high: tabLow + on(0.5, 2), on };
}

/** Half turns throughout. */
export function flatTab(random: () => number): TabAndSlit {
  const { on, ...base } = baseOf(random);
  const panels = whole(random, 1, 2);
  const lengths = Array.from({ length: panels }, () => on(1, 4));
  const degrees = lengths.map(() => pick<Degrees>(random, [180, -180, undefined]));
  const slotted = random() < 0.4;
  const x = base.width + lengths[0]! * pick(random, [0.25, 0.5, 0.75]);
  const middle = (base.low + base.high) / 2;
  const tabSlit = slotted
    ? {
        x,
        ...pick(random, [
          { low: base.low, high: middle },
          { low: middle, high: base.high },
        ]),
      }
    : null;
  return { ...base, slit: random() < 0.85 ? base.slit : null, lengths, degrees, tabSlit };
}

/**
 * The tab is led round, mostly so that its last panel comes down in the plane of the slit; a slit of its own may meet the
 * base's half-way, as in slotted tabs.
 */
export function tabInSpace(random: () => number): TabAndSlit {
  const { on, ...base } = baseOf(random);
  const back = random() < 0.75 ? base.width - base.slit.x : on(0.5, 3.5);
  const up = on(0.5, 2);
  const sign = pick(random, [1, -1]);
  const tip = on(0.5, 3);
  if (random() < 0.4) return slottedTab(random, base, [up, back, up + tip], sign);
  const [lengths, degrees] = pick<readonly [number[], number[]]>(random, [
    [
      [up, back, tip],
      [90, 90, 90],
    ],
    [
      [back, tip],
      [120, 120],
    ],
    // a square round, with an end that turns away or back under the base
    [
      [up, back, up + tip, tip],
      [90, 90, 90, pick(random, [90, -90])],
    ],
  ]);
  return {
    ...base,
    slit: random() < 0.85 ? base.slit : null,
    lengths,
    degrees: degrees.map((d) => sign * d),
    tabSlit: null,
  };
}

/** Led round at right angles and down through the base; the tab has a slit where it meets the base, from one side. */
function slottedTab(
  random: () => number,
  base: Pick<TabAndSlit, 'width' | 'height' | 'low' | 'high'> & { slit: Slit },
  lengths: readonly [number, number, number],
  sign: number,
): TabAndSlit {
  const { width, low, high, slit } = base;
  const middle = low + (high - low) * pick(random, [0.25, 0.5]);
  const x = width + lengths[0] + lengths[1] + lengths[0];
  // the base's slit takes up where the tab's ends, or a little later: then paper stands in paper
  const from = middle + pick(random, [0, 0, 0.2]);
  return {
    ...base,
    slit: { ...slit, low: from, high: pick(random, [high, high + 0.3]) },
    lengths,
    degrees: [90, 90, 90].map((d) => sign * d),
    tabSlit: { x, low, high: middle },
  };
}

/** Where each panel of the tab begins, and where the last ends. */
function endsOf({ width, lengths }: TabAndSlit): number[] {
  const ends = [width];
  for (const length of lengths) ends.push(ends.at(-1)! + length);
  return ends;
}

/** The sheet as a teacher draws it: panels whole, slits as cuts. */
export function sheetOfTab(tab: TabAndSlit): Sheet {
  const maker = new PatternMaker();
  const points = new Map<string, number>();
  const at = (x: number, y: number) => {
    const known = points.get(`${x},${y}`) ?? maker.point(x, y);
    points.set(`${x},${y}`, known);
    return known;
  };
  const { width, height, slit, tabSlit, low, high } = tab;
  const ends = endsOf(tab);
  const along = (y: number, xs: readonly number[]) => {
    const sorted = [...new Set(xs)].sort((a, b) => a - b);
    sorted.slice(1).forEach((x, k) => {
      maker.line(at(sorted[k]!, y), at(x, y), 'edge');
    });
  };
  const openAt = (one: Slit | null, y: number) => (one && (one.low === y || one.high === y) ? [one.x] : []);
  along(0, [0, width, ...openAt(slit, 0)]);
  along(height, [0, width]);
  maker.line(at(0, 0), at(0, height), 'edge');
  maker.line(at(width, 0), at(width, low), 'edge');
  maker.line(at(width, high), at(width, height), 'edge');
  for (const y of [low, high]) along(y, [...ends, ...openAt(tabSlit, y)]);
  maker.line(at(ends.at(-1)!, low), at(ends.at(-1)!, high), 'edge');
  tab.degrees.forEach((degrees, k) => {
    const kind = degrees === undefined ? 'unassigned' : degrees > 0 ? 'valley' : 'mountain';
    maker.line(at(ends[k]!, low), at(ends[k]!, high), kind, (degrees ?? 180) * radians);
  });
  for (const one of [slit, tabSlit, tab.second])
    if (one) maker.line(at(one.x, one.low), at(one.x, one.high), 'cut');
  return maker.sheet();
}

/** The same in convex parts, for the oracle. */
export function partsOfTab(tab: TabAndSlit): Pattern {
  const { width, height, slit, tabSlit, low, high } = tab;
  const ends = endsOf(tab);
  const vertices: Point[] = [];
  const names = new Map<string, number>();
  const at = (x: number, y: number, side = '') => {
    const name = `${x},${y}${side}`;
    const known = names.get(name) ?? vertices.push([x, y]) - 1;
    names.set(name, known);
    return known;
  };
  const ys = sorted([
    0,
    height,
    low,
    high,
    ...[slit, tabSlit].flatMap((one) => (one ? [one.low, one.high] : [])),
  ]);
  const isCut = (x: number, y: number) =>
    [slit, tabSlit].some((one) => one && one.x === x && y > one.low && y < one.high);
  const faces: number[][] = [];
  const fill = (xs: readonly number[], rows: readonly number[]) => {
    xs.slice(1).forEach((right, i) => {
      rows.slice(1).forEach((top, j) => {
        const [left, bottom] = [xs[i]!, rows[j]!];
        const middle = (bottom + top) / 2;
        faces.push([
          at(left, bottom),
          at(right, bottom),
          ...(isCut(right, middle) ? [at(right, middle, 'left of the slit')] : []),
          at(right, top),
          at(left, top),
          ...(isCut(left, middle) ? [at(left, middle, 'right of the slit')] : []),
        ]);
      });
    });
  };
  fill(sorted([0, width, ...(slit ? [slit.x] : [])]), ys);
  const tabRows = ys.filter((y) => y >= low && y <= high);
  ends.slice(1).forEach((end, k) => {
    const start = ends[k]!;
    const across = tabSlit && tabSlit.x > start && tabSlit.x < end ? [tabSlit.x] : [];
    fill(sorted([start, end, ...across]), tabRows);
  });
  const degreesOf = (a: number, b: number): Degrees => {
    const [[x, y], [u, v]] = [vertices[a]!, vertices[b]!];
    const crease = x === u && y !== v ? ends.indexOf(x) : -1;
    return crease >= 0 && crease < tab.degrees.length ? tab.degrees[crease] : 0;
  };
  return { vertices, faces, degreesOf };
}

const sorted = (values: readonly number[]) => [...new Set(values)].sort((a, b) => a - b);
