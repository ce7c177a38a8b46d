/**
 * A fold made on the folded model: a straight line across layers that lie in one plane, folded flat on itself. Gives the
 * lines that appear on the sheet, each with its own direction, or says in words why it cannot be done so simply.
 */
import { FOLDED_FLAT } from '../../numeric/tolerance.ts';
import { distance, type Point, type Space } from '../../numeric/vector.ts';
import { type Folded, type NewCrease, type Refusal, refuse, withoutDoubles } from './folded.ts';
import { hangingTogether } from './hang.ts';
import {
  type HalfPlane,
  jointsAlong,
  type LyingPaper,
  leftOf,
  ownPlace,
  piecesThrough,
  type Ray,
  type Region,
  reaches,
} from './in-plane.ts';

/** A line drawn on the folded model. */
export interface DrawnLine {
  /** Two points of the plane, in the frame of the pose; what lies on the left, seen against `toward`, moves. */
  readonly from: Space;
  readonly to: Space;
  /** 1: folds over to the side the group's normal looks to; -1: to the other. */
  readonly toward: 1 | -1;
}

interface FoldAcross extends LyingPaper, DrawnLine {
  /** Panels to fold; those that hang on them on the moving side are taken along when `whole` is set. */
  readonly panels: readonly number[];
  readonly whole: boolean;
}

/** The half of the plane that moves over a drawn line, and the line. */
export function movingSide(
  paper: LyingPaper,
  { from, to, toward }: DrawnLine,
): { side: HalfPlane; line: Ray } {
  const [a, b] = [ownPlace(paper, from), ownPlace(paper, to)];
  return {
    side: toward > 0 ? leftOf(a, b) : leftOf(b, a),
    line: { from: a, way: wayOf(a, b), endless: true },
  };
}

/** Unit direction from one point to another. */
export function wayOf(a: Point, b: Point): Point {
  const length = distance(a, b);
  return [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
}

/** Works out a fold across layers; nothing is changed. */
export function foldAcross(fold: FoldAcross): Folded {
  const { side, line } = movingSide(fold, fold);
  const taken = hangingTogether(fold, [[side]], fold.panels, fold.whole);
  if ('refused' in taken) return taken;
  const creases: NewCrease[] = [];
  const changed: NewCrease[] = [];
  const panels = [...taken].sort((a, b) => a - b);
  for (const panel of panels) {
    const across = creasesAcross(fold, panel, line, fold.toward, { side: [side], moving: taken });
    if ('refused' in across) return across;
    creases.push(...across.creases);
    changed.push(...across.changed);
  }
  if (creases.length + changed.length === 0) return refuse({ how: 'meets-no-layer' }, ...panels);
  const moving = panels.filter((panel) => reaches(fold, panel, [side]));
  return {
    creases,
    changed: withoutDoubles(changed),
    closed: [],
    through: [],
    panels: moving,
    region: [side],
    apart: [],
  };
}

/**
 * Has a panel fold along a line, half a turn. Where it hangs there, folded, on paper that stays, it unfolds.
 * @param toward 1: what moves comes to lie on the side the group's normal looks to
 * @param beyond where the paper beyond the line lies, and the panels that move
 */
export function creasesAcross(
  paper: LyingPaper,
  panel: number,
  line: Ray,
  toward: 1 | -1,
  beyond: { readonly side: Region; readonly moving: ReadonlySet<number> },
): { readonly creases: readonly NewCrease[]; readonly changed: readonly NewCrease[] } | Refusal {
  const angle = Math.PI * toward * paper.stacks.planes.up[panel]!;
  const changed: NewCrease[] = [];
  for (const joint of jointsAlong(paper, panel, line)) {
    const now = paper.angle[joint.crease]!;
    const isFolded = Math.abs(now) > FOLDED_FLAT;
    if (isFolded && (beyond.moving.has(joint.beyond) || !reaches(paper, panel, beyond.side))) continue;
    if (isFolded && now * angle > 0) return refuse({ how: 'folded-already', panel }, panel);
    changed.push({ from: joint.from, to: joint.to, angle: isFolded ? 0 : angle });
  }
  return { creases: piecesThrough(paper, panel, line).map(([from, to]) => ({ from, to, angle })), changed };
}
