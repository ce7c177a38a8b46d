/** Orders that a lesson or a teacher asks for, as conditions on the unknowns of a pose. */
import type { AskedName, LayerWhy } from '../finding/values/layer.ts';
import { SNAP } from '../numeric/tolerance.ts';
import { dot, type Space } from '../numeric/vector.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { type Literal, not, type Overlaps } from './overlaps.ts';
import { cellAt } from './pieces.ts';
import type { PlaneGroup, Planes } from './planes.ts';

/** Asked: `over` lies above `under`, seen from the side up of `under` at the start, wherever the two overlap. */
export interface AskedOrder {
  readonly over: number;
  readonly under: number;
}

/** Asked: `panel` lies between two others, wherever all three lie together. */
interface AskedBetween {
  readonly panel: number;
  readonly between: readonly [number, number];
}

/**
 * [f, g, 1]: panel f lies on the side of g that faced up at the start, -1 on the other side. A pair that overlaps in
 * several areas stands once for each.
 */
export type OrderedPair = readonly [number, number, 1 | -1];

/**
 * Asked: these orders stay. A pair that stands as often as it has areas is held area by area, in their order; one
 * that stands always the same way is held in all its areas; one that stands both ways and has other areas now is left
 * open, as is one that no longer overlaps.
 */
interface AskedKept {
  readonly keep: readonly OrderedPair[];
  /** Gives way, area by area, to what is asked before it. */
  readonly weak?: true;
}

/**
 * Asked: this order at one place, given on the flat sheet as either panel has it. Where the two places lie on each other
 * it is held in the area of the two there (a tab may lie over one side of a slit and under the other); else, and where the
 * two overlap in one area only, wherever they overlap.
 */
export interface AskedHere {
  readonly order: OrderedPair;
  readonly at: readonly [readonly [number, number], readonly [number, number]];
}

export type Asked = AskedOrder | AskedBetween | AskedKept | AskedHere;

/** One thing asked: the exclusive or of the literals is false. */
export interface AskedCondition {
  readonly of: readonly Literal[];
  readonly panels: readonly number[];
  readonly name: AskedName;
}

/** What a pose is, as far as orders are asked of it. */
interface AskedPose {
  readonly planes: Planes;
  readonly overlaps: Overlaps;
  readonly placement: Placement;
}

/** What is asked, as conditions; and what cannot be asked in this pose. */
interface AskedConditions {
  readonly conditions: readonly AskedCondition[];
  readonly senseless: readonly Senseless[];
}

/** Something asked of panels that do not lie together. */
interface Senseless {
  readonly panels: number[];
  readonly why: LayerWhy;
}

export function askedConditions(pose: AskedPose, asked: readonly Asked[]): AskedConditions {
  const { planes, overlaps } = pose;
  const conditions: AskedCondition[] = [];
  const senseless: Senseless[] = [];
  for (const one of asked) {
    if ('keep' in one) {
      const before = new Set(one.weak ? conditions.flatMap(unknownsOf) : []);
      const own = kept(planes, overlaps, one.keep);
      conditions.push(...own.filter((condition) => !unknownsOf(condition).some((k) => before.has(k))));
      continue;
    }
    if ('order' in one) {
      conditions.push(...here(pose, one));
      continue;
    }
    const own = 'between' in one ? between(planes, overlaps, one) : over(planes, overlaps, one);
    conditions.push(...own);
    if (own.length === 0) senseless.push(whySenseless(one));
  }
  return { conditions, senseless };
}

const unknownsOf = ({ of }: AskedCondition) => of.map((literal) => literal >> 1);

function whySenseless(one: AskedOrder | AskedBetween): Senseless {
  if ('between' in one) {
    const asked: AskedName = { how: 'between', panel: one.panel, of: one.between };
    return { panels: [one.panel, ...one.between], why: { how: 'senseless', asked } };
  }
  const asked: AskedName = { how: 'over', panel: one.over, of: one.under };
  return { panels: [one.over, one.under], why: { how: 'senseless', asked } };
}

/** "f lies on the side of g that faced up at the start", for one of the unknowns of the two. */
function onUpperSide(planes: Planes, f: number, g: number, unknown: number): Literal {
  const secondIsAbove = f > g === planes.up[g]! > 0;
  return 2 * unknown + (secondIsAbove ? 0 : 1);
}

function over(planes: Planes, overlaps: Overlaps, { over, under }: AskedOrder): AskedCondition[] {
  const name: AskedName = { how: 'over', panel: over, of: under };
  return overlaps.between(over, under).map((unknown) => ({
    of: [not(onUpperSide(planes, over, under, unknown))],
    panels: [over, under],
    name,
  }));
}

function between(
  planes: Planes,
  overlaps: Overlaps,
  { panel, between: [g, h] }: AskedBetween,
): AskedCondition[] {
  if (panel === g || panel === h || g === h) return [];
  const name: AskedName = { how: 'between', panel, of: [g, h] };
  const group = planes.groupOf[panel]!;
  const conditions = new Map<string, AskedCondition>();
  planes.groups[group]!.cover.forEach((cover, cell) => {
    if (!cover.includes(panel) || !cover.includes(g) || !cover.includes(h)) return;
    const of = [overlaps.above(group, cell, g, panel), overlaps.above(group, cell, panel, h)];
    conditions.set(of.join(), { of, panels: [panel, g, h], name });
  });
  return [...conditions.values()];
}

/** In the area at the place, or in all. */
function here({ planes, overlaps, placement }: AskedPose, { order, at }: AskedHere): AskedCondition[] {
  const [f, g, side] = order;
  const all = overlaps.between(f, g);
  const own = all.length > 1 ? areaAt(planes, overlaps, placement, order, at) : null;
  return (own === null ? all : [own]).map((unknown): AskedCondition => {
    const upper = onUpperSide(planes, f, g, unknown);
    const name: AskedName = { how: side > 0 ? 'over' : 'under', panel: f, of: g };
    return { of: [side > 0 ? not(upper) : upper], panels: [f, g], name };
  });
}

/** The unknown of two panels in the area where the two places lie on each other; null where they do not. */
function areaAt(
  planes: Planes,
  overlaps: Overlaps,
  placement: Placement,
  [f, g]: OrderedPair,
  [onF, onG]: AskedHere['at'],
): number | null {
  const group = planes.groups[planes.groupOf[f]!]!;
  const [p, q] = [placeOn(group, placement, f, onF), placeOn(group, placement, g, onG)];
  if (Math.hypot(p[0] - q[0], p[1] - q[1]) > SNAP) return null;
  const cell = cellAt(group, p[0], p[1]);
  const cover = group.cover[cell]!;
  if (!cover.includes(f) || !cover.includes(g)) return null;
  return overlaps.above(planes.groupOf[f]!, cell, f, g) >> 1;
}

/** A flat point of a panel, where it lies in a plane's own coordinates. */
function placeOn(
  { across, along }: PlaneGroup,
  placement: Placement,
  panel: number,
  [x, y]: readonly [number, number],
): readonly [number, number] {
  const at = new Float64Array(3);
  placePoint(at, 0, placement, panel, x, y);
  const point: Space = [at[0]!, at[1]!, at[2]!];
  return [dot(point, across), dot(point, along)];
}

function kept(planes: Planes, overlaps: Overlaps, orders: readonly OrderedPair[]): AskedCondition[] {
  const byPair = new Map<string, OrderedPair[]>();
  for (const order of orders) {
    const name = `${Math.min(order[0], order[1])},${Math.max(order[0], order[1])}`;
    const list = byPair.get(name);
    if (list) list.push(order);
    else byPair.set(name, [order]);
  }
  return [...byPair.values()].flatMap((list) => {
    const [[f, g]] = list as [OrderedPair];
    const unknowns = overlaps.between(f, g);
    const literals = list.map(([a, b, side]) => (unknown: number) => {
      const upper = onUpperSide(planes, a, b, unknown);
      return side > 0 ? upper : upper ^ 1;
    });
    const alike = new Set(literals.map((literal) => literal(0))).size === 1;
    if (list.length !== unknowns.length && !alike) return [];
    return unknowns.map((unknown, k): AskedCondition => {
      const literal = (literals.length === unknowns.length ? literals[k]! : literals[0]!)(unknown);
      const how = literal === onUpperSide(planes, f, g, unknown) ? 'over' : 'under';
      return { of: [not(literal)], panels: [f, g], name: { how, panel: f, of: g, kept: true } };
    });
  });
}
