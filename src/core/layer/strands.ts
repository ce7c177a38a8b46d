/**
 * Conditions that keep paper from crossing itself at lines. Cut across a line at a general point: each piece of paper
 * there is a strand with two rays (a crease, or a panel that goes on across) or one (a paper edge). The state does not
 * cross itself exactly if no two two-ray strands interleave in the cyclic list of all ray ends, rays of one direction
 * in the order of their layers. For flat states this gives the published conditions (Justin 1997; Akitaya and others
 * 2016); the form for three dimensions is worked out in this project and checked against enumeration.
 */

import { kindJoinsPanels } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { NONE } from '../sheet/sheet.ts';
import type { Literal, Overlaps } from './overlaps.ts';
import { not } from './overlaps.ts';
import { cross, dot, type PlaneGroup, type Planes, type Space } from './planes.ts';

/** What a condition is about, for messages. */
export interface Origin {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
  /** What was asked, in words, where the condition comes from that. */
  readonly asked?: string;
}

/** One condition on literals. */
export type Condition =
  | { readonly kind: 'true'; readonly of: readonly [Literal]; readonly origin: Origin }
  | { readonly kind: 'never'; readonly of: readonly []; readonly origin: Origin }
  /** The exclusive or of all literals is false. */
  | { readonly kind: 'even'; readonly of: readonly Literal[]; readonly origin: Origin }
  /** Three literals that are not all alike. */
  | { readonly kind: 'mixed'; readonly of: readonly [Literal, Literal, Literal]; readonly origin: Origin };

/** A piece of a line along which nothing changes: per plane through it, the cells on both sides. */
export interface LinePiece {
  /** Unit direction of the line. */
  readonly direction: Space;
  readonly sides: readonly {
    readonly group: number;
    /** Cell to the left of the direction, seen against the group's normal, and to the right. */
    readonly left: number;
    readonly right: number;
    /** Half-edges of panels of this group that lie on the piece. */
    readonly boundary: readonly number[];
  }[];
}

interface Ray {
  /** Place in the cyclic order of directions. */
  readonly direction: number;
  readonly panel: number;
  readonly group: number;
  readonly cell: number;
  /** +1: counter-clockwise about the line means higher in the group. */
  readonly turn: number;
}

interface Strand {
  readonly rays: readonly [Ray, Ray];
  readonly crease: number;
}

export function conditionsAt(
  sheet: Sheet,
  planes: Planes,
  overlaps: Overlaps,
  piece: LinePiece,
): Condition[] {
  const strands = strandsAt(sheet, planes, piece);
  const conditions: Condition[] = [];
  for (let i = 0; i < strands.length; i++)
    for (let j = i + 1; j < strands.length; j++) {
      const condition = betweenStrands(overlaps, strands[i]!, strands[j]!);
      if (condition) conditions.push(condition);
    }
  return conditions;
}

function strandsAt(sheet: Sheet, planes: Planes, piece: LinePiece): Strand[] {
  const rayOn = rayMaker(planes.groups, piece);
  const strands: Strand[] = [];
  for (const [k, side] of piece.sides.entries()) {
    const { cover } = planes.groups[side.group]!;
    const ends = new Set(side.boundary.map((h) => sheet.halfEdgePanel[h]!));
    const right = new Set(cover[side.right]!);
    for (const panel of cover[side.left]!)
      if (right.has(panel) && !ends.has(panel))
        strands.push({ rays: [rayOn(k, 'left', panel), rayOn(k, 'right', panel)], crease: NONE });
  }
  const place = new Map<number, Ray>();
  for (const [k, side] of piece.sides.entries())
    for (const h of side.boundary) {
      const panel = sheet.halfEdgePanel[h]!;
      const onLeft = planes.groups[side.group]!.cover[side.left]!.includes(panel);
      place.set(h, rayOn(k, onLeft ? 'left' : 'right', panel));
    }
  for (const [h, ray] of place) {
    const twin = place.get(h ^ 1);
    if ((h & 1) === 0 && twin && kindJoinsPanels(sheet.creaseKind[h >> 1]!))
      strands.push({ rays: [ray, twin], crease: h >> 1 });
  }
  return strands;
}

/** Makes rays with their place in the cyclic order about the line. */
function rayMaker(groups: readonly PlaneGroup[], { direction, sides }: LinePiece) {
  const first = cross(groups[sides[0]!.group]!.normal, direction);
  const second = cross(direction, first);
  const angleOf = (u: Space) => (Math.atan2(dot(u, second), dot(u, first)) + 2 * Math.PI) % (2 * Math.PI);
  const all = sides.flatMap(({ group }, k) => {
    const left = cross(groups[group]!.normal, direction);
    const right: Space = [-left[0], -left[1], -left[2]];
    return [
      { key: 2 * k, angle: angleOf(left) },
      { key: 2 * k + 1, angle: angleOf(right) },
    ];
  });
  // a ray a hair before a whole turn is the first one
  for (const one of all) if (one.angle > 2 * Math.PI - 1e-6) one.angle = 0;
  all.sort((a, b) => a.angle - b.angle);
  const place = new Map(all.map(({ key }, index) => [key, index]));
  return (k: number, side: 'left' | 'right', panel: number): Ray => ({
    direction: place.get(2 * k + (side === 'left' ? 0 : 1))!,
    panel,
    group: sides[k]!.group,
    cell: sides[k]![side],
    turn: side === 'left' ? 1 : -1,
  });
}

/** What two strands ask for, or null where they cannot meet. */
function betweenStrands(overlaps: Overlaps, a: Strand, b: Strand): Condition | null {
  const [a1, a2] = a.rays;
  const [b1, b2] = b.rays;
  const origin: Origin = {
    panels: [...new Set([a1.panel, a2.panel, b1.panel, b2.panel])],
    creases: [a.crease, b.crease].filter((crease) => crease !== NONE),
  };
  if (a.rays.some((ray) => b.rays.some((other) => other.panel === ray.panel))) return null;
  if (a1.direction === a2.direction) return insideFold(overlaps, a, b, origin);
  if (b1.direction === b2.direction) return insideFold(overlaps, b, a, origin);
  const shared = a.rays.flatMap((ray) =>
    b.rays.filter((other) => other.direction === ray.direction).map((other) => [ray, other] as const),
  );
  if (shared.length === 2) {
    const [u, v] = shared as [readonly [Ray, Ray], readonly [Ray, Ray]];
    // nested consistently: after counter-clockwise on one side is before on the other
    const [one, other] = [later(overlaps, u[0], u[1]), later(overlaps, v[0], v[1])];
    return { kind: 'even', of: [one, not(other)], origin };
  }
  if (shared.length === 1) {
    const [mine, others] = shared[0]!;
    const restA = a.rays.find((ray) => ray !== mine)!;
    const restB = b.rays.find((ray) => ray !== others)!;
    // directions that come counter-clockwise after the shared one, then those before it
    const turned = (ray: Ray) =>
      ray.direction > mine.direction ? ray.direction : ray.direction + EVERY_DIRECTION;
    const firstIsA = turned(restA) < turned(restB);
    const bLater = later(overlaps, mine, others);
    // the strand whose other ray comes first lies outside on the shared ray
    return { kind: 'true', of: [firstIsA ? not(bLater) : bLater], origin };
  }
  const between = (x: Ray) => inside(x.direction, a1.direction, a2.direction);
  return between(b1) !== between(b2) ? { kind: 'never', of: [], origin } : null;
}

/** More than the directions at any line. */
const EVERY_DIRECTION = 1e6;

const inside = (x: number, a: number, b: number) => x > Math.min(a, b) && x < Math.max(a, b);

/** "The second ray lies counter-clockwise of the first", both in one direction. */
function later(overlaps: Overlaps, first: Ray, second: Ray): Literal {
  const above = overlaps.above(first.group, first.cell, first.panel, second.panel);
  return first.turn > 0 ? above : not(above);
}

/** `fold` lies flat on itself in one direction; what the other strand has there is not between its two layers. */
function insideFold(overlaps: Overlaps, fold: Strand, other: Strand, origin: Origin): Condition | null {
  const [f1, f2] = fold.rays;
  const there = other.rays.filter((ray) => ray.direction === f1.direction);
  if (there.length === 0) return null;
  const of = there.flatMap((ray) => [later(overlaps, f1, ray), later(overlaps, f2, ray)]);
  return { kind: 'even', of, origin };
}
