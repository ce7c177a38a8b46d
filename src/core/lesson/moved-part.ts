/** The part of a model that a step moves, as its reader sees it: where it lies, which way it folds, how many layers it has. */

import { isWithin } from '../numeric/plane.ts';
import { LEVEL, SHIFTED, SHORT, TURNED } from '../numeric/tolerance.ts';
import { gap, type Space } from '../numeric/vector.ts';
import { type Placement, placePanels, placePoint } from '../pose/place.ts';
import { kindJoinsPanels } from '../sheet/kind.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { halfEdgeEnd, halfEdgeOrigin, panelRing } from '../sheet/walk.ts';
import { asSeen, type Seen } from './seen.ts';

/** What is known of a step's motion. */
export interface Motion {
  readonly sheet: Sheet;
  /** Fold angle per crease when it begins and when it ends, radians. */
  readonly start: Float64Array;
  readonly end: Float64Array;
  /** The panel that stays. */
  readonly still: number;
  readonly seen: Seen;
  /** What the teacher calls panels. */
  readonly names?: ReadonlyMap<number, string>;
}

/** A corner of the model: to the right, upward, toward the eye. */

export interface MovedPart {
  readonly motion: Motion;
  readonly before: Placement;
  /** Panels that move, and per panel its corners where it lies before. */
  readonly panels: ReadonlySet<number>;
  readonly outlines: readonly (readonly Space[])[];
  /** Half-edges of panels that move along creases at which the panel beyond stays. */
  readonly hinges: readonly number[];
}

export function movedPart(motion: Motion): MovedPart {
  const { sheet, start, end, still, seen } = motion;
  const [before, after] = [start, end].map((angle) => asSeen(placePanels(sheet, angle, still), seen)) as [
    Placement,
    Placement,
  ];
  const all = [...sheet.panelRings.keys()];
  const outlines = all.map((panel) => outlineOf(sheet, before, panel));
  const shifts = (panel: number) =>
    outlineOf(sheet, after, panel).some((at, k) => gap(at, outlines[panel]![k]!) > SHIFTED);
  const panels = new Set(all.filter((panel) => turns(before, after, panel) || shifts(panel)));
  const hinges = Array.from(sheet.halfEdgePanel.keys()).filter((half) => {
    const [own, beyond] = [sheet.halfEdgePanel[half]!, sheet.halfEdgePanel[half ^ 1]!];
    const folds = Math.abs(end[half >> 1]! - start[half >> 1]!) > TURNED;
    const joins = beyond !== NONE && kindJoinsPanels(sheet.creaseKind[half >> 1]!);
    return folds && joins && panels.has(own) && !panels.has(beyond);
  });
  return { motion, before, panels, outlines, hinges };
}

/** A panel has moved when it has turned by more than about a degree (cosine of half of that), */
const SAME_TURN = 0.99996;

function turns(before: Placement, after: Placement, panel: number): boolean {
  let same = 0;
  for (let k = 4 * panel; k < 4 * panel + 4; k++) same += before.rotation[k]! * after.rotation[k]!;
  return Math.abs(same) < SAME_TURN;
}

/** The name of the part: that of the one panel by which it hangs on what stays. */
export function nameOfPart({ motion: { names, sheet }, hinges }: MovedPart): string | undefined {
  const hanging = new Set(hinges.map((half) => sheet.halfEdgePanel[half]!));
  return hanging.size === 1 ? names?.get([...hanging][0]!) : undefined;
}

/** Where the part is, as its reader sees it. */
export interface Whereabouts {
  /** By how much of the model's size its middle lies to the right and upward of the model's own middle. */
  readonly off: readonly [number, number];
  /** The direction in which the fold parts it off, unit length; null where its creases look different ways. */
  readonly toward: readonly [number, number] | null;
}

export function whereabouts(part: MovedPart): Whereabouts {
  const { panels, outlines, hinges } = part;
  const off = offMiddle(
    [...panels].flatMap((panel) => outlines[panel]!),
    outlines.flat(),
  );
  let [x, y, all] = [0, 0, 0];
  for (const half of hinges) {
    const [a, b] = endsOf(part, half);
    const side = sideOf(part, half);
    x -= side * (b[1] - a[1]);
    y += side * (b[0] - a[0]);
    all += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  const length = Math.hypot(x, y);
  return { off, toward: length > ONE_WAY * all ? [x / length, y / length] : null };
}

/** Creases look one way when their directions add up to this share of their lengths. */
const ONE_WAY = 0.9;

/** Of two boxes round places: how far the middle of the first is off that of the second, in shares of its size. */
export function offMiddle(own: readonly Flat[], whole: readonly Flat[]): readonly [number, number] {
  const off = (k: 0 | 1) => {
    const [part, all] = [own, whole].map((places) => places.map((at) => at[k])) as [number[], number[]];
    const [low, high] = [Math.min(...all), Math.max(...all)];
    return high - low < LEVEL ? 0 : (Math.min(...part) + Math.max(...part) - low - high) / 2 / (high - low);
  };
  return [off(0), off(1)];
}

type Flat = readonly [number, number, ...number[]];

/** How the part turns at a hinge. */
export interface Turning {
  /** Angle there before and after, radians, positive where the part comes toward the eye. */
  readonly from: number;
  readonly to: number;
}

/** How the part turns at each hinge; null where paper that stays stands upright, with neither side to the eye. */
export function turnings({ motion: { sheet, start, end }, before, hinges }: MovedPart): (Turning | null)[] {
  return hinges.map((half) => {
    const stays = sheet.halfEdgePanel[half ^ 1]!;
    // how far its normal looks to the eye
    const [z, w] = [before.rotation[4 * stays + 2]!, before.rotation[4 * stays + 3]!];
    const looks = 2 * (z * z + w * w) - 1;
    if (Math.abs(looks) < UPRIGHT) return null;
    const crease = half >> 1;
    return { from: Math.sign(looks) * start[crease]!, to: Math.sign(looks) * end[crease]! };
  });
}

/** Paper within ten degrees of upright: sine. */
const UPRIGHT = 0.17;

/** Layers at one place beside a hinge, before the step: how many there are, and how many of them move. */
interface LayersThere {
  readonly move: number;
  readonly all: number;
}

/** The layers along all hinges of a model that lies flat; empty for one that does not. */
export function layersAtHinges(part: MovedPart): LayersThere[] {
  const { panels, outlines, hinges } = part;
  if (outlines.some((corners) => corners.some(([, , z]) => Math.abs(z - outlines[0]![0]![2]) > LEVEL)))
    return [];
  return hinges.flatMap((half) => {
    const [a, b] = endsOf(part, half);
    return placesBeside(a, b, sideOf(part, half), outlines).map(([x, y]) => {
      const here = [...outlines.keys()].filter((panel) => isWithin(outlines[panel]!, [x, y]));
      return { move: here.filter((panel) => panels.has(panel)).length, all: here.length };
    });
  });
}

/** 1: the part lies to the left of the hinge as that runs, seen by the reader; -1: to its right. */
function sideOf({ motion: { sheet }, before }: MovedPart, half: number): 1 | -1 {
  const panel = sheet.halfEdgePanel[half]!;
  const [z, w] = [before.rotation[4 * panel + 2]!, before.rotation[4 * panel + 3]!];
  return z * z + w * w > 0.5 ? 1 : -1;
}

/** A place on one side of a line for each stretch of it along which the layers are the same. */
function placesBeside(a: Space, b: Space, side: 1 | -1, outlines: MovedPart['outlines']): [number, number][] {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [wx, wy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const aside = side * SHORT * 0.1;
  const [x, y] = [a[0] - aside * wy, a[1] + aside * wx];
  const cuts = outlines.flatMap((corners) =>
    corners.flatMap(([px, py], k) => {
      const [qx, qy] = corners[(k + 1) % corners.length]!;
      const [p, q] = [(py - y) * wx - (px - x) * wy, (qy - y) * wx - (qx - x) * wy];
      if (p > 0 === q > 0) return [];
      const t = p / (p - q);
      return [(px + t * (qx - px) - x) * wx + (py + t * (qy - py) - y) * wy];
    }),
  );
  const ends = [0, ...cuts.filter((at) => at > 0 && at < length), length].sort((p, q) => p - q);
  return ends.slice(1).flatMap((to, k): [number, number][] => {
    const middle = (ends[k]! + to) / 2;
    return to - ends[k]! < SHORT ? [] : [[x + middle * wx, y + middle * wy]];
  });
}

/** The ends of a hinge where it lies before. */
function endsOf({ motion: { sheet }, before }: MovedPart, half: number): [Space, Space] {
  const panel = sheet.halfEdgePanel[half]!;
  const [a, b] = [halfEdgeOrigin(sheet, half), halfEdgeEnd(sheet, half)];
  return [placed(sheet, before, panel, a), placed(sheet, before, panel, b)];
}

function outlineOf(sheet: Sheet, placement: Placement, panel: number): Space[] {
  return panelRing(sheet, sheet.panelRings[panel]![0]!).map((half) =>
    placed(sheet, placement, panel, halfEdgeOrigin(sheet, half)),
  );
}

function placed(sheet: Sheet, placement: Placement, panel: number, v: number): Space {
  const at = new Float64Array(3);
  placePoint(at, 0, placement, panel, sheet.vertexX[v]!, sheet.vertexY[v]!);
  return [at[0]!, at[1]!, at[2]!];
}
