/**
 * The ordered pose as pieces of paper that can be drawn, cut and pulled apart: each panel is one leaf, but for panels
 * that lie over one another in a ring, which step from cell to cell and have a leaf over each. Where paper goes on
 * from leaf to leaf, across a crease or a step, a seam joins them. Rises count layers outward from the model.
 */

import { SAME_SHARE } from '../numeric/tolerance.ts';
import { dot, type Space } from '../numeric/vector.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { originOf } from '../sheet/rings.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { layerHeights } from './heights.ts';
import { liftPoint, type PlaneGroup } from './planes.ts';
import type { Stacks } from './stacks.ts';

export interface Leaf {
  readonly panel: number;
  readonly group: number;
  /** Cells of the group that it covers. */
  readonly cells: readonly number[];
  /** How many layers it is lifted off the innermost one, along its own normal (the side that faced up at the start). */
  readonly rise: number;
  /** Boundary on the flat sheet, x and y in turn, the outer ring first. */
  readonly rings: readonly (readonly number[])[];
}

/** A stretch of a half-edge of the sheet that bounds a leaf: shares 0..1 of the crease, from its start. */
export interface LeafBorder {
  readonly halfEdge: number;
  readonly leaf: number;
  readonly from: number;
  readonly to: number;
}

/** Paper that goes on from one leaf to another. */
interface Seam {
  readonly first: number;
  readonly second: number;
  /** Ends on the flat sheet: x, y, x, y; the first leaf lies on their left. */
  readonly ends: readonly [number, number, number, number];
  /** The crease it lies on, or NONE where a panel steps over another. */
  readonly crease: number;
}

export interface Leaves {
  readonly leaves: readonly Leaf[];
  readonly borders: readonly LeafBorder[];
  readonly seams: readonly Seam[];
  /** Per group: 1 when rises count along the group's normal, -1 when against it. */
  readonly outward: readonly (1 | -1)[];
}

/**
 * Every panel as one leaf, with rises along the panels' own normals as given: for paper on the move, and for panels
 * that graze. @param groupOf plane of each panel, where they are known
 */
export function leavesOfPanels(sheet: Sheet, rise: ArrayLike<number>, groupOf?: ArrayLike<number>): Leaves {
  const leaves = sheet.panelRings.map(
    (_, panel): Leaf => ({
      panel,
      group: groupOf?.[panel] ?? panel,
      cells: [],
      rise: rise[panel]!,
      rings: ringsOf(sheet, panel),
    }),
  );
  const borders: LeafBorder[] = [];
  for (let h = 0; h < sheet.halfEdgePanel.length; h++)
    if (sheet.halfEdgePanel[h] !== NONE)
      borders.push({ halfEdge: h, leaf: sheet.halfEdgePanel[h]!, from: 0, to: 1 });
  return { leaves, borders, seams: creaseSeams(sheet, borders), outward: leaves.map(() => 1) };
}

/** The leaves of a pose whose layers are known. */
export function leavesOf(sheet: Sheet, placement: Placement, stacks: Stacks): Leaves {
  const { planes, over } = stacks;
  const middle = middleOf(sheet, placement);
  const leaves: Leaf[] = [];
  const borders: LeafBorder[] = [];
  const steps: Seam[] = [];
  const outward = planes.groups.map((group) => outwardOf(group, middle));
  planes.groups.forEach((group, g) => {
    const heights =
      outward[g]! > 0
        ? stacks.heights[g]!
        : layerHeights(over[g]!.map((panels) => [...panels].reverse())).map((cell) => [...cell].reverse());
    const cellsOf = new Map<number, number[]>(group.panels.map((panel) => [panel, []]));
    group.cover.forEach((panels, cell) => {
      for (const panel of panels) cellsOf.get(panel)!.push(cell);
    });
    for (const [panel, cells] of cellsOf) {
      const rises = cells.map(
        (cell) => heights[cell]![over[g]![cell]!.indexOf(panel)]! * outward[g]! * planes.up[panel]!,
      );
      if (rises.every((rise) => rise === rises[0])) {
        for (const ring of sheet.panelRings[panel]!)
          for (const halfEdge of panelRing(sheet, ring))
            borders.push({ halfEdge, leaf: leaves.length, from: 0, to: 1 });
        leaves.push({ panel, group: g, cells, rise: rises[0] ?? 0, rings: ringsOf(sheet, panel) });
      } else stepping(panel, g, group, cells, rises);
    }
  });
  return { leaves, borders, seams: [...creaseSeams(sheet, borders), ...steps], outward };

  /** A panel that steps from cell to cell. */
  function stepping(
    panel: number,
    g: number,
    group: PlaneGroup,
    cells: readonly number[],
    rises: readonly number[],
  ): void {
    const flatten = flattener(placement, panel, group);
    const leafOfCell = new Map(cells.map((cell, k) => [cell, leaves.length + k]));
    cells.forEach((cell, k) => {
      const leaf = leaves.length;
      const mirrored = planes.up[panel]! < 0;
      const rings = group.faces.rings[cell]!.map((first) => {
        const around = cellRing(group, first);
        const points = around.map((h) => flatten(originOf(group.net, h)));
        return (mirrored ? points.reverse() : points).flat();
      });
      leaves.push({ panel, group: g, cells: [cell], rise: rises[k]!, rings });
      for (const first of group.faces.rings[cell]!)
        for (const h of cellRing(group, first)) {
          const [a, b] = [flatten(originOf(group.net, h)), flatten(originOf(group.net, h ^ 1))];
          const own = group.boundary[h >> 1]!.filter((edge) => sheet.halfEdgePanel[edge] === panel);
          for (const halfEdge of own) {
            const [s, t] = [shareOf(sheet, halfEdge >> 1, a), shareOf(sheet, halfEdge >> 1, b)];
            borders.push({ halfEdge, leaf, from: Math.min(s, t), to: Math.max(s, t) });
          }
          const beyond = leafOfCell.get(group.faces.face[h ^ 1]!);
          if (own.length === 0 && beyond !== undefined && beyond > leaf)
            steps.push({
              first: leaf,
              second: beyond,
              ends: mirrored ? [...b, ...a] : [...a, ...b],
              crease: NONE,
            });
        }
    });
  }
}

function ringsOf(sheet: Sheet, panel: number): number[][] {
  return sheet.panelRings[panel]!.map((ring) =>
    panelRing(sheet, ring).flatMap((h) => {
      const v = halfEdgeOrigin(sheet, h);
      return [sheet.vertexX[v]!, sheet.vertexY[v]!];
    }),
  );
}

function cellRing({ faces }: PlaneGroup, first: number): number[] {
  const ring: number[] = [];
  let h = first;
  do {
    ring.push(h);
    h = faces.next[h]!;
  } while (h !== first);
  return ring;
}

/** Takes points of a group's net to the flat sheet, as a panel of the group lies in it. */
function flattener(placement: Placement, panel: number, group: PlaneGroup) {
  return (point: number): [number, number] =>
    flatPoint(placement, panel, liftPoint(group, group.net.x[point]!, group.net.y[point]!));
}

/** The point of the flat sheet that a panel has at a place of space that lies in its plane. */
export function flatPoint(
  { rotation, translation }: Placement,
  panel: number,
  [px, py, pz]: Space,
): [number, number] {
  const k = 4 * panel;
  const [x, y, z, w] = [-rotation[k]!, -rotation[k + 1]!, -rotation[k + 2]!, rotation[k + 3]!];
  const vx = px - translation[3 * panel]!;
  const vy = py - translation[3 * panel + 1]!;
  const vz = pz - translation[3 * panel + 2]!;
  const cx = y * vz - z * vy + w * vx;
  const cy = z * vx - x * vz + w * vy;
  const cz = x * vy - y * vx + w * vz;
  return [vx + 2 * (y * cz - z * cy), vy + 2 * (z * cx - x * cz)];
}

/** Where a point of the flat sheet lies along a crease, 0 its start, 1 its end. */
function shareOf(sheet: Sheet, crease: number, [x, y]: readonly [number, number]): number {
  const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
  const dx = sheet.vertexX[b]! - sheet.vertexX[a]!;
  const dy = sheet.vertexY[b]! - sheet.vertexY[a]!;
  return ((x - sheet.vertexX[a]!) * dx + (y - sheet.vertexY[a]!) * dy) / (dx * dx + dy * dy);
}

/** Where the borders of two panels on one crease face each other, paper goes on. */
function creaseSeams(sheet: Sheet, borders: readonly LeafBorder[]): Seam[] {
  const of: LeafBorder[][] = Array.from({ length: sheet.halfEdgePanel.length }, () => []);
  for (const border of borders) of[border.halfEdge]!.push(border);
  const seams: Seam[] = [];
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    if (!kindJoinsPanels(sheet.creaseKind[e]!)) continue;
    const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
    const at = (t: number): [number, number] => [
      sheet.vertexX[a]! + t * (sheet.vertexX[b]! - sheet.vertexX[a]!),
      sheet.vertexY[a]! + t * (sheet.vertexY[b]! - sheet.vertexY[a]!),
    ];
    for (const one of of[2 * e]!)
      for (const other of of[2 * e + 1]!) {
        const from = Math.max(one.from, other.from);
        const to = Math.min(one.to, other.to);
        if (to - from > SAME_SHARE)
          seams.push({ first: one.leaf, second: other.leaf, ends: [...at(from), ...at(to)], crease: e });
      }
  }
  return seams;
}

/** The same seams, each in so many parts of one length. */
export function seamsInParts(seams: readonly Seam[], parts: number): Seam[] {
  return seams.flatMap((seam) => {
    const [x1, y1, x2, y2] = seam.ends;
    const at = (part: number): [number, number] => [
      x1 + ((x2 - x1) * part) / parts,
      y1 + ((y2 - y1) * part) / parts,
    ];
    return Array.from({ length: parts }, (_, part): Seam => {
      return { ...seam, ends: [...at(part), ...at(part + 1)] };
    });
  });
}

/** Middle of the model's box. */
export function middleOf(sheet: Sheet, placement: Placement): Space {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  const point = new Float64Array(3);
  sheet.panelRings.forEach((rings, panel) => {
    for (const ring of rings)
      for (const h of panelRing(sheet, ring)) {
        const v = halfEdgeOrigin(sheet, h);
        placePoint(point, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
        for (let k = 0; k < 3; k++) {
          low[k] = Math.min(low[k]!, point[k]!);
          high[k] = Math.max(high[k]!, point[k]!);
        }
      }
  });
  return [(low[0]! + high[0]!) / 2, (low[1]! + high[1]!) / 2, (low[2]! + high[2]!) / 2];
}

/** Layers spread away from the model's middle; where the plane goes through it, upward, else toward the front. */
export function outwardOf({ normal, offset }: Pick<PlaneGroup, 'normal' | 'offset'>, middle: Space): 1 | -1 {
  const off = offset - dot(normal, middle);
  if (Math.abs(off) > 1e-3) return off > 0 ? 1 : -1;
  const lead = Math.abs(normal[2]) > 1e-3 ? normal[2] : Math.abs(normal[1]) > 1e-3 ? -normal[1] : normal[0];
  return lead > 0 ? 1 : -1;
}
