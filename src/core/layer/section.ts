/**
 * A plane cut through the ordered pose: which leaves it meets, where, and how the cut paper hangs together. Exact in
 * place; how far layers are drawn apart is left to the drawing (`section-path.ts`).
 */
import { SECTION_NUDGE } from '../numeric/tolerance.ts';
import { cross, dot, type Point, type Space } from '../numeric/vector.ts';
import { type Placement, panelNormal, placeOf } from '../pose/place.ts';
import { NONE } from '../sheet/sheet.ts';
import { type Aside, asideAt, BENT_FINENESS, type BentMesh, type BentPanel } from './aside.ts';
import { flatPoint, type Leaves, seamsInParts } from './leaves.ts';

/** The plane: places p with dot(p, normal) = offset; the normal points at who looks at the section. */
export interface SectionPlane {
  readonly normal: Space;
  readonly offset: number;
}

/**
 * A stretch along which a leaf is cut, in the section's own coordinates. Going from `from` to `to` the side that faced
 * up at the start lies on the right.
 */
export interface SectionCut {
  readonly leaf: number;
  readonly panel: number;
  readonly group: number;
  readonly from: Point;
  readonly to: Point;
  /** Both ends on the flat sheet. */
  readonly flatFrom: Point;
  readonly flatTo: Point;
  /** Layers below it as the leaf's own normal looks, see `Leaf.rise`. */
  readonly rise: number;
}

/** Paper goes on from the end of one cut to the start of another. */
interface SectionJoin {
  readonly before: number;
  readonly after: number;
  /** The crease passed, or NONE where a panel steps over another. */
  readonly crease: number;
}

export interface Section {
  readonly plane: SectionPlane;
  /** Axes of the section's coordinates: to the right and up, as seen against the plane's normal. */
  readonly across: Space;
  readonly up: Space;
  readonly cuts: readonly SectionCut[];
  readonly joins: readonly SectionJoin[];
}

/**
 * Cuts the leaves, bent aside as told: a bent leaf has a cut for each of its triangles. A plane that runs through a corner is moved by less than can be seen; paper lying in it is not
 * cut.
 */
export function sectionOf(
  placement: Placement,
  { leaves, seams }: Leaves,
  plane: SectionPlane,
  aside: Aside | null = null,
): Section {
  const { normal } = plane;
  const { across, up } = axesOf(normal);
  const offset = plane.offset + SECTION_NUDGE;
  const place = (panel: number, x: number, y: number): Space => {
    const [at, shift] = [placeOf(placement, panel, x, y), asideAt(aside, panel, x, y)];
    return [at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]];
  };
  const above = (panel: number, x: number, y: number) => dot(place(panel, x, y), normal) - offset;
  const cuts: SectionCut[] = [];
  const joins: SectionJoin[] = [];
  const starting = new Map<number, number[]>();
  leaves.forEach(({ panel, group, rise, rings }, leaf) => {
    const along = cross(normal, panelNormal(placement, panel));
    const passes = (x: number, y: number) => above(panel, x, y);
    const point = (flat: Point, within: boolean) => {
      const at = place(panel, flat[0], flat[1]);
      return { flat, at: [dot(at, across), dot(at, up)] as const, order: dot(at, along), within };
    };
    const points = [
      ...crossings(edgesOf(rings, aside?.get(panel)), passes).map((flat) => point(flat, false)),
      ...crossings(kinksOf(aside?.get(panel)), passes).map((flat) => point(flat, true)),
    ].sort((a, b) => a.order - b.order);
    const own: number[] = [];
    let inside = false;
    for (let k = 0; k + 1 < points.length; k++) {
      const [from, to] = [points[k]!, points[k + 1]!];
      if (!from.within) inside = !inside;
      if (!inside) continue;
      if (from.within) joins.push({ before: cuts.length - 1, after: cuts.length, crease: NONE });
      own.push(cuts.length);
      cuts.push({ leaf, panel, group, rise, from: from.at, to: to.at, flatFrom: from.flat, flatTo: to.flat });
    }
    starting.set(leaf, own);
  });
  for (const { first, second, ends, crease } of seamsInParts(seams, aside ? 2 ** BENT_FINENESS : 1)) {
    const panel = leaves[first]!.panel;
    const [p, q] = [above(panel, ends[0], ends[1]), above(panel, ends[2], ends[3])];
    if (p > 0 === q > 0) continue;
    const t = p / (p - q);
    const flat: Point = [ends[0] + t * (ends[2] - ends[0]), ends[1] + t * (ends[3] - ends[1])];
    const nearest = (leaf: number, end: 'flatFrom' | 'flatTo') =>
      starting
        .get(leaf)!
        .map((cut) => ({ cut, off: Math.hypot(cuts[cut]![end][0] - flat[0], cuts[cut]![end][1] - flat[1]) }))
        .filter(({ off }) => off < 100 * SECTION_NUDGE)
        .sort((a, b) => a.off - b.off)[0]?.cut;
    for (const [one, other] of [
      [first, second],
      [second, first],
    ] as const) {
      const [before, after] = [nearest(one, 'flatTo'), nearest(other, 'flatFrom')];
      if (before !== undefined && after !== undefined) joins.push({ before, after, crease });
    }
  }
  return { plane, across, up, cuts, joins };
}

/** Panels cut by the section at a point of one plane of paper, from the innermost to the outermost. */
export function layersInSection({ cuts }: Section, leaves: Leaves, group: number, at: Point): number[] {
  return cuts
    .filter((cut) => cut.group === group && covers(cut, at))
    .sort((a, b) => Math.abs(leaves.leaves[a.leaf]!.rise) - Math.abs(leaves.leaves[b.leaf]!.rise))
    .map(({ panel }) => panel);
}

/** Does a cut pass beside or through a point of its own line? */
function covers({ from, to }: SectionCut, [x, y]: Point): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const square = dx * dx + dy * dy;
  const share = ((x - from[0]) * dx + (y - from[1]) * dy) / (square || 1);
  return share >= 0 && share <= 1;
}

/** Ends of a line on the flat sheet: x, y, x, y. */
type Line = readonly [number, number, number, number];

/** Where lines pass the plane, on the flat sheet. */
function crossings(lines: readonly Line[], above: (x: number, y: number) => number): Point[] {
  const found: Point[] = [];
  for (const [x1, y1, x2, y2] of lines) {
    const [p, q] = [above(x1, y1), above(x2, y2)];
    if (p > 0 === q > 0) continue;
    const t = p / (p - q);
    found.push([x1 + t * (x2 - x1), y1 + t * (y2 - y1)]);
  }
  return found;
}

/** The boundary of a leaf; of a bent one in as many parts as its triangles have there. */
function edgesOf(rings: readonly (readonly number[])[], bent: BentPanel | undefined): Line[] {
  if (bent) return linesOf(bent.mesh, 1);
  return rings.flatMap((ring) => {
    const lines: Line[] = [];
    for (let k = 0; k < ring.length; k += 2) {
      const m = (k + 2) % ring.length;
      lines.push([ring[k]!, ring[k + 1]!, ring[m]!, ring[m + 1]!]);
    }
    return lines;
  });
}

/** Lines along which a bent panel may change its slope. */
const kinksOf = (bent: BentPanel | undefined): Line[] => (bent ? linesOf(bent.mesh, 2) : []);

/** Sides of triangles that bound so many of them. */
function linesOf({ flat, triangles }: BentMesh, sides: 1 | 2): Line[] {
  const bounds = new Map<number, number>();
  const key = (t: number) => {
    const [a, b] = [triangles[t]!, triangles[t % 3 === 2 ? t - 2 : t + 1]!];
    return Math.min(a, b) * flat.length + Math.max(a, b);
  };
  for (let t = 0; t < triangles.length; t++) bounds.set(key(t), (bounds.get(key(t)) ?? 0) + 1);
  return [...bounds]
    .filter(([, count]) => count === sides)
    .map(([line]): Line => {
      const [a, b] = [Math.floor(line / flat.length), line % flat.length];
      return [flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!];
    });
}

/** Up on the drawing is up in space, or away from who looks at a level plane. */
function axesOf(normal: Space): { across: Space; up: Space } {
  const lead: Space = Math.abs(normal[2]) > 0.999 ? [0, Math.sign(normal[2]), 0] : [0, 0, 1];
  const raw = cross(lead, normal);
  const length = Math.hypot(...raw);
  const across: Space = [raw[0] / length, raw[1] / length, raw[2] / length];
  return { across, up: cross(normal, across) };
}

/** The place in space of a point of the section. */
function spaceOfSection({ plane, across, up }: Section, [x, y]: Point): Space {
  const at = (k: 0 | 1 | 2) => plane.offset * plane.normal[k] + x * across[k] + y * up[k];
  return [at(0), at(1), at(2)];
}

/** The point of the flat sheet under a point of a cut's line. */
export function flatOfCut(section: Section, placement: Placement, cut: SectionCut, at: Point): Point {
  return flatPoint(placement, cut.panel, spaceOfSection(section, at));
}
