/** Tabs that pass through a slit. */

import { ON_LINE } from '../../numeric/tolerance.ts';
import { dot, flatDot, type Point } from '../../numeric/vector.ts';
import { KIND, kindJoinsPanels } from '../../sheet/kind.ts';
import { NONE, type Sheet } from '../../sheet/sheet.ts';
import { endsOf } from './lines.ts';
import { gradeOf, type Lock } from './lock.ts';
import { back, inPlane, square, trianglesOf } from './measure.ts';
import { carrierOf, flapOf, movedFirst } from './movers.ts';
import { type Parts, panelsOf } from './parts.ts';
import { type Folded, inSpace } from './sides.ts';

/** A tab that passes through a slit is held by friction, by as much of it as is through. */
export function slitLocks(folded: Folded, parts: Parts, sheetSize: number): Lock[] {
  const { sheet } = folded;
  const tabs = [...new Set(parts.partOf)];
  return Array.from(sheet.creaseKind.keys())
    .filter((crease) => sheet.creaseKind[crease] === KIND.cut)
    .flatMap((slit) => {
      const around = [2 * slit, 2 * slit + 1].map((h) => parts.partOf[sheet.halfEdgePanel[h]!]!);
      return tabs
        .filter((tab) => !around.includes(tab))
        .flatMap((tab) => slitLock(folded, parts, { slit, around, tab }, sheetSize));
    });
}

interface Passing {
  readonly slit: number;
  /** Parts on its two sides, often the same. */
  readonly around: readonly number[];
  readonly tab: number;
}

function slitLock(folded: Folded, parts: Parts, passing: Passing, sheetSize: number): Lock[] {
  const { slit, around, tab } = passing;
  const { planes } = folded.stacks;
  const plane = planes.groups[planes.groupOf[tab]!]!;
  const ends = endsOf(folded, slit);
  if (ends.some((end) => Math.abs(dot(end, plane.normal) - plane.offset) > ON_LINE)) return [];
  const [start, end] = ends.map((place) => inPlane(plane, place)) as [Point, Point];
  const length = Math.hypot(end[0] - start[0], end[1] - start[1]);
  const ahead: Point = [(end[0] - start[0]) / length, (end[1] - start[1]) / length];
  const beyond = ([x, y]: Point) => flatDot(square(ahead), [x - start[0], y - start[1]]);
  const triangles = trianglesOf(folded, parts, plane, tab);
  const through = triangles.flatMap((triangle) => crossing(triangle, beyond)).map((p) => flatDot(ahead, p));
  const [from, to] = [Math.min(...through), Math.max(...through)];
  const base = flatDot(ahead, start);
  if (!(from > base - ON_LINE && to < base + length + ON_LINE)) return [];
  if (planes.groupOf[around[0]!] === planes.groupOf[tab] && !changesSides(folded, parts, passing)) return [];
  const hinges = hingeMiddles(folded, parts, tab).map((place) => beyond(inPlane(plane, place)));
  const side = hinges.every((off) => off < ON_LINE) ? 1 : hinges.every((off) => off > -ON_LINE) ? -1 : 0;
  if (side === 0) return [];
  const depth = Math.max(...triangles.flat().map((point) => side * beyond(point)));
  const out = side > 0 ? back(square(ahead)) : square(ahead);
  const flap = flapOf(folded, parts, tab, { without: (part) => around.includes(part) });
  const figures = { depth, frictionLength: to - from };
  return [
    {
      ...figures,
      grade: gradeOf('friction', figures, sheetSize),
      by: 'slit',
      tab: panelsOf(parts, [tab]),
      pocket: panelsOf(parts, around),
      pocketDepth: depth,
      closedSides: 2,
      opens: inSpace(plane, out),
      ...movedFirst(folded, flap ? carrierOf(folded, flap) : { panels: [], creases: [] }),
    },
  ];
}

/** Where the sides of a triangle cross a line, given how far points lie beyond it. */
function crossing(triangle: readonly Point[], beyond: (point: Point) => number): Point[] {
  return triangle.flatMap((p, k): Point[] => {
    const q = triangle[(k + 1) % triangle.length]!;
    const [offP, offQ] = [beyond(p), beyond(q)];
    if (offP > 0 === offQ > 0) return [];
    const share = offP / (offP - offQ);
    return [[p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]];
  });
}

/** Does a tab in the plane of a slit lie over the paper on one side of it and under the paper on the other? */
function changesSides({ sheet, stacks }: Folded, parts: Parts, { slit, tab }: Passing): boolean {
  const group = stacks.planes.groupOf[sheet.halfEdgePanel[2 * slit]!]!;
  const { boundary, faces } = stacks.planes.groups[group]!;
  return boundary.some((halfEdges, line) => {
    if (!halfEdges.some((h) => h >> 1 === slit)) return false;
    const beside = halfEdges.filter((h) => h >> 1 === slit).map((h) => sheet.halfEdgePanel[h]!);
    const over = [2 * line, 2 * line + 1].map((h) => {
      const stack = stacks.over[group]![faces.face[h]!]!;
      const [own, paper] = [
        stack.findIndex((panel) => parts.partOf[panel] === tab),
        stack.findIndex((panel) => beside.includes(panel)),
      ];
      return own < 0 || paper < 0 ? 0 : Math.sign(own - paper);
    });
    return over[0]! * over[1]! < 0;
  });
}

/** Middles, as folded, of the creases on which a part hangs. */
function hingeMiddles(folded: Folded, parts: Parts, part: number) {
  const { sheet } = folded;
  return Array.from(sheet.creaseKind.keys())
    .filter((crease) => hangsBy(sheet, parts, part, crease))
    .map((crease) => {
      const [a, b] = endsOf(folded, crease);
      return [(a![0] + b![0]) / 2, (a![1] + b![1]) / 2, (a![2] + b![2]) / 2] as const;
    });
}

function hangsBy({ halfEdgePanel, creaseKind }: Sheet, parts: Parts, part: number, crease: number): boolean {
  const sides = [halfEdgePanel[2 * crease]!, halfEdgePanel[2 * crease + 1]!];
  if (!kindJoinsPanels(creaseKind[crease]!) || sides.includes(NONE)) return false;
  const own = sides.filter((panel) => parts.partOf[panel] === part);
  return own.length === 1;
}
