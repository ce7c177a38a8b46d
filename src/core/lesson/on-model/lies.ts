/**
 * The state that a fold made on the model ends in, worked out without any motion: does it close, and is there an order
 * of its layers that keeps the order of all paper that stays together?
 */

import { type LayerOrder, LayerProblem } from '../../layer/problem.ts';
import { OutOfTime } from '../../layer/search.ts';
import type { Stacks } from '../../layer/stacks.ts';
import { multiply, turn } from '../../numeric/rotation.ts';
import { CLOSED, SAME_MOTION, SNAP } from '../../numeric/tolerance.ts';
import type { Point } from '../../numeric/vector.ts';
import { closureOfPose } from '../../pose/closure.ts';
import { type Placement, placePanels } from '../../pose/place.ts';
import { insidePoint } from '../../sheet/inside-point.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { panelContaining } from '../../sheet/walk.ts';
import type { Lesson } from '../lesson.ts';
import { sheetOfLesson } from '../sheet-of-lesson.ts';
import type { FoldPlan, NewCrease } from './folded.ts';
import { isInside, type LyingPaper, placeOf } from './in-plane.ts';
import { withFold } from './with-fold.ts';

interface FlatEnd {
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly placement: Placement;
  /** Panel of the sheet before that each panel is part of. */
  readonly came: readonly number[];
}

/** The state at the end of a fold, placed by its first panel; null where it does not close. */
function endOfFold(lesson: Lesson, before: LyingPaper, plan: FoldPlan): FlatEnd | null {
  const { sheet } = sheetOfLesson(withFold(lesson, -1, { ...before, plan, title: '' }));
  if (!sheet) return null;
  const angle = Float64Array.from(sheet.creaseKind, (_, crease) => angleAfter(sheet, crease, before, plan));
  if (closureOfPose(sheet, angle).largest > CLOSED) return null;
  const placement = placePanels(sheet, angle, 0);
  const came = Array.from(sheet.panelRings.keys(), (panel) =>
    panelContaining(before.sheet, ...insidePoint(sheet, panel)),
  );
  return { sheet, angle, placement, came };
}

function angleAfter(sheet: Sheet, crease: number, before: LyingPaper, plan: FoldPlan): number {
  const line = lineOf(sheet, crease);
  const given = [...plan.changed, ...plan.creases].find((one) => lies(line, one));
  if (given) return given.angle;
  for (let old = 0; old < before.sheet.creaseKind.length; old++)
    if (lies(line, lineOf(before.sheet, old))) return cleared(before.angle[old]!);
  return 0;
}

/**
 * Creases beside a half turn close only to the root of CLOSED; what all but lies flat is taken as flat, so that corners
 * that are new there can be judged.
 */
function cleared(angle: number): number {
  const flat = [-Math.PI, 0, Math.PI].find((one) => Math.abs(one - angle) < ALL_BUT_FLAT);
  return flat ?? angle;
}

const ALL_BUT_FLAT = 1e-4;

type Stretch = Pick<NewCrease, 'from' | 'to'>;

/** Is a crease part of a stretch? */
function lies({ from, to }: Stretch, of: Stretch): boolean {
  const [dx, dy] = [of.to[0] - of.from[0], of.to[1] - of.from[1]];
  const length = Math.hypot(dx, dy);
  const isOn = ([x, y]: Point) => {
    const along = ((x - of.from[0]) * dx + (y - of.from[1]) * dy) / length;
    const off = ((y - of.from[1]) * dx - (x - of.from[0]) * dy) / length;
    return Math.abs(off) < SNAP && along > -SNAP && along < length + SNAP;
  };
  return isOn(from) && isOn(to);
}

function lineOf({ vertexX, vertexY, creaseFrom, creaseTo }: Sheet, crease: number): Stretch {
  const corner = (v: number): Point => [vertexX[v]!, vertexY[v]!];
  return { from: corner(creaseFrom[crease]!), to: corner(creaseTo[crease]!) };
}

/**
 * An order of the layers at the end of a fold; null where there is none.
 * @throws OutOfTime
 */
function orderAfter(
  before: LyingPaper,
  plan: FoldPlan,
  end: FlatEnd,
  outOfTime: () => boolean,
): LayerOrder | null {
  const problem = new LayerProblem(end.sheet, end.angle, end.placement, outOfTime);
  return problem.first([{ keep: keptOrder(before, plan, end, problem) }], outOfTime);
}

/** Pairs that move as one keep their order: both still, or both mirrored together. */
function keptOrder(before: LyingPaper, plan: FoldPlan, end: FlatEnd, problem: LayerProblem): LayerOrder {
  const sides = sidesBefore(before.stacks);
  const apart = new Set(plan.apart);
  const motion = end.came.map((old, panel) => motionOf(before.placement, old, end.placement, panel));
  const moves = end.came.map((old, panel) =>
    isInside(plan.region, placeOf(before, old, insidePoint(end.sheet, panel))),
  );
  const count = before.sheet.panelRings.length;
  const known = new Set<string>();
  return problem.overlaps.list.flatMap(({ first, second }): LayerOrder => {
    const [f, g] = [end.came[first]!, end.came[second]!];
    const side = sides.get(f * count + g);
    const parted = moves[first]! && apart.has(f) !== apart.has(g);
    const name = `${first},${second}`;
    if (!side || parted || known.has(name) || !sameMotion(motion[first]!, motion[second]!)) return [];
    known.add(name);
    return [[first, second, side]];
  });
}

/** Side of g on which f lies, for each pair both ways round; 0 where it is told both ways. */
function sidesBefore({ planes, over }: Stacks): Map<number, 1 | -1 | 0> {
  const sides = new Map<number, 1 | -1 | 0>();
  const count = planes.groupOf.length;
  const note = (f: number, g: number, side: 1 | -1) => {
    const key = f * count + g;
    const known = sides.get(key);
    sides.set(key, known === undefined || known === side ? side : 0);
  };
  for (const cells of over)
    for (const stack of cells)
      stack.forEach((g, k) => {
        stack.slice(k + 1).forEach((f) => {
          note(f, g, planes.up[g]! > 0 ? 1 : -1);
          note(g, f, planes.up[f]! > 0 ? -1 : 1);
        });
      });
  return sides;
}

/** Rotation and translation that take a panel from its place before to its place after. */
function motionOf(before: Placement, old: number, after: Placement, panel: number): Float64Array {
  const motion = new Float64Array(7);
  const back = before.rotation.slice(4 * old, 4 * old + 4);
  for (let k = 0; k < 3; k++) back[k]! *= -1;
  multiply(motion, 0, after.rotation, 4 * panel, back, 0);
  turn(
    motion,
    4,
    motion,
    0,
    ...(before.translation.slice(3 * old, 3 * old + 3) as unknown as [number, number, number]),
  );
  for (let k = 0; k < 3; k++) motion[4 + k] = after.translation[3 * panel + k]! - motion[4 + k]!;
  return motion;
}

function sameMotion(a: Float64Array, b: Float64Array): boolean {
  const turnsAlike =
    Math.abs(a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]! + a[3]! * b[3]!) > 1 - SAME_MOTION ** 2;
  return turnsAlike && [4, 5, 6].every((k) => Math.abs(a[k]! - b[k]!) < SAME_MOTION);
}

/** Does a fold end in a state that paper can have? null: not known, for time is up. */
export function canLie(
  lesson: Lesson,
  before: LyingPaper,
  plan: FoldPlan,
  outOfTime: () => boolean,
): boolean | null {
  try {
    const end = endOfFold(lesson, before, plan);
    return end !== null && orderAfter(before, plan, end, outOfTime) !== null;
  } catch (error) {
    if (error instanceof OutOfTime) return null;
    throw error;
  }
}
