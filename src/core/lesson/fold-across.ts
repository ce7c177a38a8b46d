/**
 * A fold made on the folded model: a straight line across layers that lie in one plane, folded flat on itself. Gives the
 * lines that appear on the sheet, each with its own direction, or says in words why it cannot be done so simply.
 */
import type { Space } from '../layer/planes.ts';
import { cross, dot } from '../layer/planes.ts';
import type { Stacks } from '../layer/stacks.ts';
import { COPLANAR } from '../numeric/tolerance.ts';
import { type Placement, placePoint } from '../pose/place.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelContaining, panelRing } from '../sheet/walk.ts';

export interface FoldAcross {
  readonly sheet: Sheet;
  /** Fold angle per crease of the pose, radians. */
  readonly angle: Float64Array;
  readonly placement: Placement;
  readonly stacks: Stacks;
  readonly group: number;
  /** Two points of the plane, in the frame of the pose; what lies on the left, seen against `toward`, moves. */
  readonly from: Space;
  readonly to: Space;
  /** 1: folds over to the side the group's normal looks to; -1: to the other. */
  readonly toward: 1 | -1;
  /** Panels to fold; those that hang on them on the moving side are taken along when `whole` is set. */
  readonly panels: readonly number[];
  readonly whole: boolean;
}

/** A line that appears on the sheet: flat coordinates and fold angle, radians. */
export interface NewCrease {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly angle: number;
}

export type Folded =
  | {
      readonly creases: readonly NewCrease[];
      /** Creases that lie on the line already, unfolded, with the angle they are to fold to. */
      readonly existing: readonly { readonly crease: number; readonly angle: number }[];
      readonly panels: readonly number[];
    }
  | { readonly refused: string; readonly panels: readonly number[] };

/** Works out a fold across layers; nothing is changed. */
export function foldAcross(fold: FoldAcross): Folded {
  const { stacks, group, toward, sheet } = fold;
  const side = sideOf(fold);
  const taken = new Set(fold.panels);
  for (const panel of taken) {
    if (stacks.planes.groupOf[panel] !== group)
      return refuse(
        `Panel ${panel} stands off the plane of this fold but would have to come along: fold it flat first, or fold elsewhere.`,
        panel,
      );
    for (const beyond of hangingOn(fold, side, panel)) {
      if (taken.has(beyond)) continue;
      if (!fold.whole)
        return refuse(
          `Panel ${beyond} hangs together with panel ${panel} on the moving side: fold both, or choose another line.`,
          panel,
          beyond,
        );
      taken.add(beyond);
    }
  }
  const creases: NewCrease[] = [];
  const existing = new Map<number, number>();
  for (const panel of taken) {
    const angle = Math.PI * toward * stacks.planes.up[panel]!;
    for (const [from, to] of piecesInside(fold, panel)) creases.push({ from, to, angle });
    for (const crease of marksOnLine(fold, side, panel)) existing.set(crease, angle);
  }
  const panels = [...taken].sort((a, b) => a - b);
  if (creases.length + existing.size === 0)
    return { refused: 'This line meets none of the layers chosen: draw it across them.', panels };
  return {
    creases,
    existing: [...existing].map(([crease, angle]) => ({ crease, angle })),
    panels: panels.filter((panel) => reaches(sheet, side, panel)),
  };
}

const refuse = (refused: string, ...panels: number[]): Folded => ({ refused, panels });

/** Distance of a flat point of a panel from the line, as folded: positive on the moving side. */
type SideOf = (panel: number, x: number, y: number) => number;

function sideOf({ placement, stacks, group, from, to, toward }: FoldAcross): SideOf {
  const { normal } = stacks.planes.groups[group]!;
  const way: Space = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const length = Math.hypot(...way);
  const left = cross(normal, way);
  const at = new Float64Array(3);
  return (panel, x, y) => {
    placePoint(at, 0, placement, panel, x, y);
    return (toward * dot(left, [at[0]! - from[0], at[1]! - from[1], at[2]! - from[2]])) / length;
  };
}

const cornerOf = (sheet: Sheet, h: number): readonly [number, number] => {
  const v = halfEdgeOrigin(sheet, h);
  return [sheet.vertexX[v]!, sheet.vertexY[v]!];
};

const halfEdgesOf = (sheet: Sheet, panel: number) =>
  sheet.panelRings[panel]!.flatMap((ring) => panelRing(sheet, ring));

const reaches = (sheet: Sheet, side: SideOf, panel: number) =>
  halfEdgesOf(sheet, panel).some((h) => side(panel, ...cornerOf(sheet, h)) > COPLANAR);

/** Panels joined to one by a crease that reaches into the moving side. */
function hangingOn({ sheet }: FoldAcross, side: SideOf, panel: number): number[] {
  return halfEdgesOf(sheet, panel).flatMap((h) => {
    const beyond = sheet.halfEdgePanel[h ^ 1]!;
    if (beyond === NONE || !kindJoinsPanels(sheet.creaseKind[h >> 1]!)) return [];
    const moves = [h, sheet.halfEdgeNext[h]!].some(
      (end) => side(panel, ...cornerOf(sheet, end)) > 10 * COPLANAR,
    );
    return moves ? [beyond] : [];
  });
}

/** Unfolded creases of a panel that run along the line. */
function marksOnLine({ sheet, angle }: FoldAcross, side: SideOf, panel: number): number[] {
  return halfEdgesOf(sheet, panel).flatMap((h) => {
    const joins = sheet.halfEdgePanel[h ^ 1] !== NONE && kindJoinsPanels(sheet.creaseKind[h >> 1]!);
    if (!joins || Math.abs(angle[h >> 1]!) > UNFOLDED) return [];
    const off = [h, sheet.halfEdgeNext[h]!].map((end) => Math.abs(side(panel, ...cornerOf(sheet, end))));
    return off.every((distance) => distance <= 10 * COPLANAR) ? [h >> 1] : [];
  });
}

/** A crease flatter than this (radians) counts as unfolded. */
const UNFOLDED = 1e-6;

/** The pieces of the line that lie inside a panel, on the flat sheet. */
function piecesInside(fold: FoldAcross, panel: number) {
  const { sheet } = fold;
  const side = sideOf(fold);
  const cuts: (readonly [number, number])[] = [];
  for (const h of halfEdgesOf(sheet, panel)) {
    const [a, b] = [cornerOf(sheet, h), cornerOf(sheet, sheet.halfEdgeNext[h]!)];
    const [p, q] = [side(panel, ...a), side(panel, ...b)];
    if (Math.abs(p) <= COPLANAR) cuts.push(a);
    else if (Math.abs(q) > COPLANAR && p > 0 !== q > 0) {
      const t = p / (p - q);
      cuts.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
  }
  if (cuts.length < 2) return [];
  const far = cuts.reduce((best, cut) => (distance(cut, cuts[0]!) > distance(best, cuts[0]!) ? cut : best));
  const sorted = [...cuts].sort((a, b) => along(a, cuts[0]!, far) - along(b, cuts[0]!, far));
  return sorted.slice(1).flatMap((to, k) => {
    const from = sorted[k]!;
    const isInside = panelContaining(sheet, (from[0] + to[0]) / 2, (from[1] + to[1]) / 2) === panel;
    const onEdge = liesOnBoundary(sheet, panel, from, to);
    return distance(from, to) > 10 * COPLANAR && isInside && !onEdge ? [[from, to] as const] : [];
  });
}

type Flat = readonly [number, number];
const distance = (a: Flat, b: Flat) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const along = (p: Flat, a: Flat, b: Flat) => (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1]);

/** A line that runs along a crease is there already. */
function liesOnBoundary(sheet: Sheet, panel: number, from: Flat, to: Flat): boolean {
  const middle: Flat = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  return halfEdgesOf(sheet, panel).some((h) => {
    const [a, b] = [cornerOf(sheet, h), cornerOf(sheet, sheet.halfEdgeNext[h]!)];
    const length = distance(a, b);
    const t = along(middle, a, b) / (length * length);
    const off = (middle[0] - a[0]) * (b[1] - a[1]) - (middle[1] - a[1]) * (b[0] - a[0]);
    return Math.abs(off) / length < 10 * COPLANAR && t > 0 && t < 1;
  });
}
