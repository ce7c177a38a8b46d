/**
 * A plane cut through the ordered pose: which leaves it meets, where, and how the cut paper hangs together. Exact in
 * place; how far layers are drawn apart is left to the drawing (`section-path.ts`).
 */
import { SECTION_NUDGE } from '../numeric/tolerance.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { flatPoint, type Leaves } from './leaves.ts';
import { cross, dot, type Space } from './planes.ts';

/** The plane: places p with dot(p, normal) = offset; the normal points at who looks at the section. */
export interface SectionPlane {
  readonly normal: Space;
  readonly offset: number;
}

export type Flat = readonly [number, number];

/**
 * A stretch along which a leaf is cut, in the section's own coordinates. Going from `from` to `to` the side that faced
 * up at the start lies on the right.
 */
export interface SectionCut {
  readonly leaf: number;
  readonly panel: number;
  readonly group: number;
  readonly from: Flat;
  readonly to: Flat;
  /** Both ends on the flat sheet. */
  readonly flatFrom: Flat;
  readonly flatTo: Flat;
  /** Layers below it as the leaf's own normal looks, see `Leaf.rise`. */
  readonly rise: number;
}

/** Paper goes on from the end of one cut to the start of another. */
export interface SectionJoin {
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

/** Cuts the leaves. A plane that runs through a corner is moved by less than can be seen; paper lying in it is not cut. */
export function sectionOf(placement: Placement, { leaves, seams }: Leaves, plane: SectionPlane): Section {
  const { normal } = plane;
  const { across, up } = axesOf(normal);
  const offset = plane.offset + SECTION_NUDGE;
  const above = (panel: number, x: number, y: number) => dot(place(placement, panel, x, y), normal) - offset;
  const cuts: SectionCut[] = [];
  const starting = new Map<number, number[]>();
  leaves.forEach(({ panel, group, rise, rings }, leaf) => {
    const along = cross(normal, panelNormalOf(placement, panel));
    const points = rings
      .flatMap((ring) => crossings(ring, (x, y) => above(panel, x, y)))
      .map((flat) => {
        const at = place(placement, panel, flat[0], flat[1]);
        return { flat, at: [dot(at, across), dot(at, up)] as const, order: dot(at, along) };
      })
      .sort((a, b) => a.order - b.order);
    const own: number[] = [];
    for (let k = 0; k + 1 < points.length; k += 2) {
      const [from, to] = [points[k]!, points[k + 1]!];
      own.push(cuts.length);
      cuts.push({ leaf, panel, group, rise, from: from.at, to: to.at, flatFrom: from.flat, flatTo: to.flat });
    }
    starting.set(leaf, own);
  });
  const joins: SectionJoin[] = [];
  for (const { first, second, ends, crease } of seams) {
    const panel = leaves[first]!.panel;
    const [p, q] = [above(panel, ends[0], ends[1]), above(panel, ends[2], ends[3])];
    if (p > 0 === q > 0) continue;
    const t = p / (p - q);
    const flat: Flat = [ends[0] + t * (ends[2] - ends[0]), ends[1] + t * (ends[3] - ends[1])];
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
export function layersInSection({ cuts }: Section, leaves: Leaves, group: number, at: Flat): number[] {
  return cuts
    .filter((cut) => cut.group === group && covers(cut, at))
    .sort((a, b) => Math.abs(leaves.leaves[a.leaf]!.rise) - Math.abs(leaves.leaves[b.leaf]!.rise))
    .map(({ panel }) => panel);
}

/** Does a cut pass beside or through a point of its own line? */
function covers({ from, to }: SectionCut, [x, y]: Flat): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const square = dx * dx + dy * dy;
  const share = ((x - from[0]) * dx + (y - from[1]) * dy) / (square || 1);
  return share >= 0 && share <= 1;
}

/** Where the boundary of a leaf passes the plane, on the flat sheet. */
function crossings(ring: readonly number[], above: (x: number, y: number) => number): Flat[] {
  const found: Flat[] = [];
  for (let k = 0; k < ring.length; k += 2) {
    const m = (k + 2) % ring.length;
    const [x1, y1, x2, y2] = [ring[k]!, ring[k + 1]!, ring[m]!, ring[m + 1]!];
    const [p, q] = [above(x1, y1), above(x2, y2)];
    if (p > 0 === q > 0) continue;
    const t = p / (p - q);
    found.push([x1 + t * (x2 - x1), y1 + t * (y2 - y1)]);
  }
  return found;
}

function place(placement: Placement, panel: number, x: number, y: number): Space {
  const point = new Float64Array(3);
  placePoint(point, 0, placement, panel, x, y);
  return [point[0]!, point[1]!, point[2]!];
}

function panelNormalOf(placement: Placement, panel: number): Space {
  const [o, p] = [place(placement, panel, 0, 0), place(placement, panel, 1, 0)];
  const q = place(placement, panel, 0, 1);
  return cross([p[0] - o[0], p[1] - o[1], p[2] - o[2]], [q[0] - o[0], q[1] - o[1], q[2] - o[2]]);
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
export function spaceOfSection({ plane, across, up }: Section, [x, y]: Flat): Space {
  const at = (k: 0 | 1 | 2) => plane.offset * plane.normal[k] + x * across[k] + y * up[k];
  return [at(0), at(1), at(2)];
}

/** The point of the flat sheet under a point of a cut's line. */
export function flatOfCut(section: Section, placement: Placement, cut: SectionCut, at: Flat): Flat {
  return flatPoint(placement, cut.panel, spaceOfSection(section, at));
}
