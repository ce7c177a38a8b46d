/**
 * How many layers each panel is held off the innermost of those that it lies on: as the layer order tells; where no order
 * is known yet, a panel lies on the side that its crease folds it to or that it came from, read off the poses before.
 */
import { boxTree } from '../contact/crossings.ts';
import { heightOver, type PosedPanels, posePanels } from '../contact/shapes.ts';
import { middleOf, outwardOf } from '../layer/leaves.ts';
import { OFF_PLANE, SAME_PLANE, TOUCH } from '../numeric/tolerance.ts';
import type { Space } from '../numeric/vector.ts';
import type { Placement } from '../pose/place.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { cosineOf, lapOf } from './lap.ts';
import type { ToldLap } from './told-sides.ts';

/** A pose whose panels take levels. */
export interface LevelledPose {
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly posed: PosedPanels;
  /** Placements at earlier moments: 0 the nearest; null when there is none further back. */
  readonly before: (back: number) => Placement | null;
}

/** Above this many panels only neighbours at a half turn are told apart where no order is known. */
const ALL_PAIRS_UP_TO = 150;
const SAME_DIRECTION = 1 - 4e-5;
const HALF_TURN = Math.PI - 0.02;

/** Panel `over` lies on the side of panel `under` that faced up at the start (1) or on the other (-1). */
type Relation = readonly [over: number, under: number, side: number];

/** Level of every panel, counted along the panel's own normal (the side that faced up at the start). */
export function levelsOf(pose: LevelledPose, told: readonly ToldLap[]): Float32Array {
  const { posed } = pose;
  return stackUp(pose, [
    ...told.map(({ f, g, side }): Relation => [f, g, side]),
    ...untoldRelations(pose, new Set(told.map(({ f, g }) => keyOf(posed, f, g)))),
  ]);
}

const keyOf = ({ shapes }: PosedPanels, a: number, b: number) =>
  Math.min(a, b) * shapes.panels + Math.max(a, b);

/** Panels that lie on each other although nobody told how. */
function untoldRelations(pose: LevelledPose, told: ReadonlySet<number>): Relation[] {
  const { posed, angle } = pose;
  const { shapes } = posed;
  const hinge = hingesOf(pose.sheet);
  const relations: Relation[] = [];
  const earlier: (PosedPanels | null)[] = [];
  const back = (k: number): PosedPanels | null => {
    const placement = k < earlier.length ? null : pose.before(k);
    if (k >= earlier.length) earlier.push(placement && posePanels(shapes, placement));
    return earlier[k]!;
  };
  const tree = boxTree(shapes);
  tree.fit(posed, posed, 2 * TOUCH);
  tree.pairs((a, b) => {
    const key = keyOf(posed, a, b);
    if (told.has(key)) return;
    const crease = hinge.get(key);
    const shut = crease !== undefined && Math.abs(angle[crease]!) > HALF_TURN;
    if (!shut && shapes.panels > ALL_PAIRS_UP_TO) return;
    if (!isCoplanar(posed, a, b) || !lapOf(posed, b, a)) return;
    const side = shut ? Math.sign(angle[crease]!) : sideCameFrom(a, b, back);
    if (side !== 0) relations.push([b, a, side]);
  });
  return relations;
}

const hingesKnown = new WeakMap<Sheet, Map<number, number>>();

/** The crease between two panels, by their key. */
function hingesOf(sheet: Sheet): Map<number, number> {
  const known = hingesKnown.get(sheet);
  if (known) return known;
  const count = sheet.panelRings.length;
  const hinges = new Map<number, number>();
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const [a, b] = [sheet.halfEdgePanel[2 * e]!, sheet.halfEdgePanel[2 * e + 1]!];
    if (a >= 0 && b >= 0 && a !== b) hinges.set(Math.min(a, b) * count + Math.max(a, b), e);
  }
  hingesKnown.set(sheet, hinges);
  return hinges;
}

function isCoplanar(posed: PosedPanels, a: number, b: number): boolean {
  if (Math.abs(cosineOf(posed, a, b)) < SAME_DIRECTION) return false;
  const { first } = posed.shapes;
  for (let c = first[b]!; c < first[b + 1]!; c++)
    if (Math.abs(heightOver(posed, a, c)) > SAME_PLANE) return false;
  return true;
}

/** 1: b came from the side that a's normal points to; -1: from the other; 0: not known. */
function sideCameFrom(a: number, b: number, back: (k: number) => PosedPanels | null): number {
  for (let k = 0; ; k++) {
    const then = back(k);
    if (then === null) return 0;
    const { first } = then.shapes;
    let sum = 0;
    for (let c = first[b]!; c < first[b + 1]!; c++) sum += heightOver(then, a, c);
    const mean = sum / (first[b + 1]! - first[b]!);
    if (Math.abs(mean) > OFF_PLANE) return Math.sign(mean);
  }
}

/** Levels from relations: in each stack the longest chain of panels below, counted outward from the model. */
function stackUp({ sheet, posed }: LevelledPose, relations: readonly Relation[]): Float32Array {
  const count = posed.shapes.panels;
  const mate = Int32Array.from({ length: count }, (_, p) => p);
  const root = (p: number): number => (mate[p] === p ? p : (mate[p] = root(mate[p]!)));
  for (const [a, b] of relations) mate[root(a)] = root(b);
  const level = new Float32Array(count);
  if (relations.length === 0) return level;
  const outward = outwardSides(sheet, posed);
  /** 1 where a panel's own normal looks outward in its stack. */
  const along = (p: number) => (Math.sign(cosineOf(posed, p, root(p))) || 1) * outward(root(p));
  const over: number[][] = Array.from({ length: count }, () => []);
  const under = new Int32Array(count);
  const open = new Set<number>();
  for (const [a, b, side] of relations) {
    const [low, high] = side * along(b) > 0 ? [b, a] : [a, b];
    over[low]!.push(high);
    under[high]!++;
    open.add(a).add(b);
  }
  while (open.size > 0) {
    // panels that lie over one another in a ring have no levels; the least covered one goes first
    let next = -1;
    for (const p of open) if (next < 0 || under[p]! < under[next]!) next = p;
    open.delete(next);
    for (const p of over[next]!) {
      if (!open.has(p)) continue;
      under[p]!--;
      level[p] = Math.max(level[p]!, level[next]! + 1);
    }
  }
  for (let p = 0; p < count; p++) if (level[p] !== 0) level[p]! *= along(p);
  return level;
}

/** 1: the normal of a panel looks away from the middle of the model. */
function outwardSides(sheet: Sheet, { placement, normal, offset }: PosedPanels) {
  const middle = middleOf(sheet, placement);
  return (p: number): 1 | -1 => {
    const own: Space = [normal[3 * p]!, normal[3 * p + 1]!, normal[3 * p + 2]!];
    return outwardOf({ normal: own, offset: offset[p]! }, middle);
  };
}
