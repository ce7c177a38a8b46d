/**
 * Conditions that keep paper from crossing itself at lines. Cut across a line at a general point: each piece of paper
 * there is a strand with two rays (a crease, or a panel that goes on across) or one (a paper edge). The state does not
 * cross itself exactly if no two two-ray strands interleave in the cyclic list of all ray ends, rays of one direction
 * in the order of their layers. For flat states this gives the published conditions (Justin 1997; Akitaya and others
 * 2016); the form for three dimensions is worked out in this project and checked against enumeration.
 */

import { SAME_WAY } from '../numeric/tolerance.ts';
import { cross, dot, type Space } from '../numeric/vector.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { NONE } from '../sheet/sheet.ts';
import { type ConditionTable, NO_LITERAL } from './condition-table.ts';
import type { Literal, Overlaps } from './overlaps.ts';
import { not, placeIn } from './overlaps.ts';
import { type PlaneGroup, type Planes, panelsEndingAt } from './planes.ts';

/** A piece of a line along which nothing changes: per plane through it, the cells on both sides. */
export interface LinePiece {
  /** Unit direction of the line. */
  readonly direction: Space;
  readonly sides: readonly {
    readonly group: number;
    /** How far the plane lies above the line, as its normal looks: within the tolerance, but it tells which is higher. */
    readonly height: number;
    /** Cell to the left of the direction, seen against the group's normal, and to the right. */
    readonly left: number;
    readonly right: number;
    /** Half-edges of panels of this group that lie on the piece. */
    readonly boundary: readonly number[];
  }[];
}

/**
 * Does a raw edge of one of two panels reach through the other by less than counts? Then it ends there, and nothing is
 * asked of the two where their planes meet.
 */
export type Grazes = (a: number, b: number) => boolean;

interface Ray {
  /** Place in the cyclic order of directions. */
  readonly direction: number;
  readonly panel: number;
  readonly group: number;
  readonly cell: number;
  /** Place of the panel among those over the cell. */
  readonly place: number;
  /** +1: counter-clockwise about the line means higher in the group. */
  readonly turn: number;
}

interface Strand {
  readonly one: Ray;
  readonly two: Ray;
  readonly crease: number;
}

/** Adds what the strands through a piece of line ask of each other. @param tick called now and then; may throw */
export function addStrandConditions(
  table: ConditionTable,
  sheet: Sheet,
  planes: Planes,
  overlaps: Overlaps,
  piece: LinePiece,
  grazes: Grazes,
  tick: () => void,
): void {
  const strands = strandsAt(sheet, planes, piece);
  for (let i = 0; i < strands.length; i++, tick())
    for (let j = i + 1; j < strands.length; j++)
      betweenStrands(table, overlaps, strands[i]!, strands[j]!, grazes);
}

function strandsAt(sheet: Sheet, planes: Planes, piece: LinePiece): Strand[] {
  const rayOn = rayMaker(planes.groups, piece);
  const strands: Strand[] = [];
  for (const [k, side] of piece.sides.entries()) {
    const { cover } = planes.groups[side.group]!;
    const ends = new Set(panelsEndingAt(sheet, side.boundary));
    const [left, right] = [cover[side.left]!, cover[side.right]!];
    for (let i = 0, j = 0; i < left.length && j < right.length; )
      if (left[i] === right[j]) {
        const panel = left[i]!;
        if (!ends.has(panel))
          strands.push({
            one: rayOn(k, 'left', panel, i),
            two: rayOn(k, 'right', panel, j),
            crease: NONE,
          });
        i++;
        j++;
      } else if (left[i]! < right[j]!) i++;
      else j++;
  }
  const rays = new Map<number, Ray>();
  for (const [k, side] of piece.sides.entries())
    for (const h of side.boundary) {
      const panel = sheet.halfEdgePanel[h]!;
      if (panel === sheet.halfEdgePanel[h ^ 1]) continue;
      const { cover } = planes.groups[side.group]!;
      const onLeft = placeIn(cover[side.left]!, panel);
      const onRight = placeIn(cover[side.right]!, panel);
      // a panel on neither side is thinner than the tolerance here
      if (onLeft >= 0) rays.set(h, rayOn(k, 'left', panel, onLeft));
      else if (onRight >= 0) rays.set(h, rayOn(k, 'right', panel, onRight));
    }
  for (const [h, one] of rays) {
    const two = rays.get(h ^ 1);
    if ((h & 1) === 0 && two && kindJoinsPanels(sheet.creaseKind[h >> 1]!))
      strands.push({ one, two, crease: h >> 1 });
  }
  return strands;
}

/** Makes rays with their place in the cyclic order about the line. */
function rayMaker(groups: readonly PlaneGroup[], { direction, sides }: LinePiece) {
  const first = cross(groups[sides[0]!.group]!.normal, direction);
  const second = cross(direction, first);
  const angleOf = (u: Space) => (Math.atan2(dot(u, second), dot(u, first)) + 2 * Math.PI) % (2 * Math.PI);
  const all = sides.flatMap(({ group, height }, k) => {
    const left = cross(groups[group]!.normal, direction);
    const right: Space = [-left[0], -left[1], -left[2]];
    // about the line, counter-clockwise is up on the left and down on the right
    return [
      { key: 2 * k, angle: angleOf(left), rise: height },
      { key: 2 * k + 1, angle: angleOf(right), rise: -height },
    ];
  });
  // a ray a hair before a whole turn is the first one
  for (const one of all) if (one.angle > 2 * Math.PI - SAME_WAY) one.angle = 0;
  // of planes that all but lie in one, the order is that of their heights
  all.sort((a, b) => (Math.abs(a.angle - b.angle) < SAME_WAY ? a.rise - b.rise : a.angle - b.angle));
  const place = new Map(all.map(({ key }, index) => [key, index]));
  return (k: number, side: 'left' | 'right', panel: number, at: number): Ray => ({
    direction: place.get(2 * k + (side === 'left' ? 0 : 1))!,
    panel,
    group: sides[k]!.group,
    cell: sides[k]![side],
    place: at,
    turn: side === 'left' ? 1 : -1,
  });
}

/** What two strands ask of each other: nothing where they cannot meet. */
function betweenStrands(
  table: ConditionTable,
  overlaps: Overlaps,
  a: Strand,
  b: Strand,
  grazes: Grazes,
): void {
  const [a1, a2, b1, b2] = [a.one, a.two, b.one, b.two];
  if (a1.panel === b1.panel || a1.panel === b2.panel || a2.panel === b1.panel || a2.panel === b2.panel)
    return;
  if (a1.direction === a2.direction) insideFold(table, overlaps, a, b);
  else if (b1.direction === b2.direction) insideFold(table, overlaps, b, a);
  else if (a1.direction === b1.direction) sharing(table, overlaps, a, b, [a1, a2], [b1, b2]);
  else if (a1.direction === b2.direction) sharing(table, overlaps, a, b, [a1, a2], [b2, b1]);
  else if (a2.direction === b1.direction) sharing(table, overlaps, a, b, [a2, a1], [b1, b2]);
  else if (a2.direction === b2.direction) sharing(table, overlaps, a, b, [a2, a1], [b2, b1]);
  else if (a.crease !== NONE || b.crease !== NONE || !grazes(a1.panel, b1.panel)) apart(table, a, b);
}

/** Without a common direction two strands cross, or do not, whatever the layers. */
function apart(table: ConditionTable, a: Strand, b: Strand): void {
  const [a1, a2, b1, b2] = [a.one, a.two, b.one, b.two];
  const between = (x: Ray) => inside(x.direction, a1.direction, a2.direction);
  if (between(b1) !== between(b2))
    table.never.push({
      panels: [...new Set([a1.panel, a2.panel, b1.panel, b2.panel])],
      creases: [a.crease, b.crease].filter((crease) => crease !== NONE),
    });
}

const inside = (x: number, a: number, b: number) => x > Math.min(a, b) && x < Math.max(a, b);

/** "The second ray lies counter-clockwise of the first", both in one direction. */
function later(overlaps: Overlaps, first: Ray, second: Ray): Literal {
  const above = overlaps.aboveAt(first.group, first.cell, first.place, second.place);
  return first.turn > 0 ? above : not(above);
}

/** Two strands with their first rays in one direction. */
function sharing(
  table: ConditionTable,
  overlaps: Overlaps,
  a: Strand,
  b: Strand,
  [sharedA, restA]: readonly [Ray, Ray],
  [sharedB, restB]: readonly [Ray, Ray],
): void {
  const bLater = later(overlaps, sharedA, sharedB);
  if (restA.direction === restB.direction) {
    // both bend alike: after counter-clockwise on one side is before on the other
    const onRest = not(later(overlaps, restA, restB));
    table.addEven(bLater, onRest, NO_LITERAL, NO_LITERAL, a.crease, b.crease);
    return;
  }
  // the strand whose other ray comes first counter-clockwise lies outside on the shared direction
  const turned = (ray: Ray) =>
    ray.direction > sharedA.direction ? ray.direction : ray.direction + EVERY_DIRECTION;
  table.addTrue(turned(restA) < turned(restB) ? not(bLater) : bLater, a.crease, b.crease);
}

/** More than the directions at any line. */
const EVERY_DIRECTION = 1e6;

/** `fold` lies flat on itself in one direction; what the other strand has there is not between its two layers. */
function insideFold(table: ConditionTable, overlaps: Overlaps, fold: Strand, other: Strand): void {
  const { one, two } = fold;
  const first = other.one.direction === one.direction;
  const second = other.two.direction === one.direction;
  if (!first && !second) return;
  const ray = first ? other.one : other.two;
  const [p, q] = [later(overlaps, one, ray), later(overlaps, two, ray)];
  if (!first || !second) table.addEven(p, q, NO_LITERAL, NO_LITERAL, fold.crease, other.crease);
  else
    table.addEven(
      p,
      q,
      later(overlaps, one, other.two),
      later(overlaps, two, other.two),
      fold.crease,
      other.crease,
    );
}
