/**
 * A fold made on the folded model: a straight line across layers that lie in one plane, folded flat on itself. Gives the
 * lines that appear on the sheet, each with its own direction, or says in words why it cannot be done so simply.
 */
import type { Space } from '../../layer/planes.ts';
import { type Folded, type NewCrease, refuse, withoutDoubles } from './folded.ts';
import { hangingTogether } from './hang.ts';
import {
  distance,
  type Flat,
  type HalfPlane,
  jointsAlong,
  type LyingPaper,
  leftOf,
  ownPlace,
  piecesThrough,
  type Ray,
  reaches,
  UNFOLDED,
} from './in-plane.ts';

/** A line drawn on the folded model. */
export interface DrawnLine {
  /** Two points of the plane, in the frame of the pose; what lies on the left, seen against `toward`, moves. */
  readonly from: Space;
  readonly to: Space;
  /** 1: folds over to the side the group's normal looks to; -1: to the other. */
  readonly toward: 1 | -1;
}

export interface FoldAcross extends LyingPaper, DrawnLine {
  /** Panels to fold; those that hang on them on the moving side are taken along when `whole` is set. */
  readonly panels: readonly number[];
  readonly whole: boolean;
}

/** The half of the plane that moves over a drawn line, and the line. */
export function movingSide(paper: LyingPaper, { from, to, toward }: DrawnLine): { side: HalfPlane; line: Ray } {
  const [a, b] = [ownPlace(paper, from), ownPlace(paper, to)];
  return { side: toward > 0 ? leftOf(a, b) : leftOf(b, a), line: { from: a, way: wayOf(a, b), endless: true } };
}

/** Unit direction from one point to another. */
export function wayOf(a: Flat, b: Flat): Flat {
  const length = distance(a, b);
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

/** Works out a fold across layers; nothing is changed. */
export function foldAcross(fold: FoldAcross): Folded {
  const { side, line } = movingSide(fold, fold);
  const taken = hangingTogether(fold, [side], fold.panels, fold.whole);
  if ('refused' in taken) return taken;
  const creases: NewCrease[] = [];
  const changed: NewCrease[] = [];
  for (const panel of taken) {
    const across = creasesAcross(fold, panel, line, fold.toward);
    creases.push(...across.creases);
    changed.push(...across.changed);
  }
  const panels = [...taken].sort((a, b) => a - b);
  if (creases.length + changed.length === 0)
    return refuse('This line meets none of the layers chosen: draw it across them.', ...panels);
  const moving = panels.filter((panel) => reaches(fold, panel, [side]));
  return { creases, changed: withoutDoubles(changed), opened: [], panels: moving, region: [side], apart: [] };
}

/**
 * Has a panel fold along a line, half a turn.
 * @param toward 1: what moves comes to lie on the side the group's normal looks to
 */
export function creasesAcross(
  paper: LyingPaper,
  panel: number,
  line: Ray,
  toward: 1 | -1,
): { creases: NewCrease[]; changed: NewCrease[] } {
  const angle = Math.PI * toward * paper.stacks.planes.up[panel]!;
  const marks = jointsAlong(paper, panel, line).filter(
    ({ crease }) => Math.abs(paper.angle[crease]!) <= UNFOLDED,
  );
  return {
    creases: piecesThrough(paper, panel, line).map(([from, to]) => ({ from, to, angle })),
    changed: marks.map(({ from, to }) => ({ from, to, angle })),
  };
}
