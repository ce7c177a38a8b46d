/**
 * Steps hold on to creases, not to places: when the pattern of a lesson changes, whatever the lesson says of a crease, a
 * corner or a panel goes on being said of it, wherever it lies now.
 */

import { tidy } from '../numeric/tidy.ts';
import { SNAP } from '../numeric/tolerance.ts';
import type { Point } from '../numeric/vector.ts';
import { cornerInPattern, inPattern, onSheet } from '../sheet/frame.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import { kindFolds } from '../sheet/kind.ts';
import { meshOfPanel } from '../sheet/panel-mesh.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { mainPanel, panelContaining, vertexCount } from '../sheet/walk.ts';
import { carriedNumbers, vertexAt } from './carry-numbers.ts';
import type { Drive, Lesson, MadeCrease, Step } from './lesson.ts';
import { lessonOfSheet } from './lesson-of-sheet.ts';
import { nameless } from './plain-sides.ts';
import { sheetOfLesson } from './sheet-of-lesson.ts';
import { creasesOnLine } from './stages.ts';

type Stretch = Pick<Drive, 'from' | 'to'>;

/**
 * The lesson with another pattern.
 * @param placeOf where a corner of the pattern before lies now, pattern units; left out where none was moved
 */
export function withPattern(
  lesson: Lesson,
  pattern: Lesson['pattern'],
  placeOf: (corner: Point) => Point = (corner) => corner,
): Lesson {
  const { numbers: _old, ...bare } = pattern;
  const redrawn: Lesson = { ...lesson, pattern: lesson.pattern.numbers ? bare : pattern };
  const carry = carryBetween(lesson, redrawn, placeOf);
  if (!carry) return redrawn;
  const numbers = lesson.pattern.numbers ? carriedNumbers(carry.before, redrawn, carry.places) : null;
  const { precreases, parts } = lesson;
  const still = lesson.still ? carry.point(lesson.still) : carry.stillPoint(lesson);
  return {
    ...(numbers ? { ...redrawn, pattern: { ...bare, numbers } } : redrawn),
    ...(precreases ? { precreases: carry.makings(precreases) } : {}),
    ...(still ? { still } : {}),
    ...(parts ? { parts: parts.map((one) => ({ ...one, at: carry.point(one.at) })) } : {}),
    steps: lesson.steps.map((step) => carry.step(step)),
  };
}

/** Steps of a lesson that fold a crease of which another pattern, with corners where they were, has nothing left. */
export function stepsLosing(lesson: Lesson, redrawn: Lesson): number[] {
  const carry = carryBetween(lesson, redrawn, (corner) => corner);
  if (!carry) return [];
  return [...lesson.steps.keys()].filter((step) =>
    lesson.steps[step]!.drives.some((one) => carry.loses(one)),
  );
}

function carryBetween(lesson: Lesson, redrawn: Lesson, placeOf: (corner: Point) => Point): Carry | null {
  const [before, after] = [sheetOfLesson(lesson).sheet, sheetOfLesson(redrawn).sheet];
  if (!before || !after) return null;
  const corners = Array.from({ length: vertexCount(before) }, (_, v) => cornerInPattern(before, v));
  return new Carry(
    before,
    after,
    corners,
    corners.map((corner) => settled(after, corner, placeOf(corner))),
  );
}

/** A corner that was moved, as the sheet that was built has it. */
function settled(after: Sheet, corner: Point, place: Point): Point {
  const there = place === corner ? null : vertexAt(after, onSheet(after, place));
  return there === null || there === NONE ? place : cornerInPattern(after, there);
}

/** The lesson on the same sheet with its corners moved; every number stays. */
export function withTruedSheet(lesson: Lesson, before: Sheet, after: Sheet): Lesson {
  const { pattern } = lessonOfSheet(after, { title: lesson.title, names: nameless });
  const places = new Map(
    Array.from(after.vertexX, (_, v) => [cornerInPattern(before, v).join(), cornerInPattern(after, v)]),
  );
  const moved = withPattern(lesson, pattern, (corner) => places.get(corner.join()) ?? corner);
  return { ...moved, pattern };
}

class Carry {
  private readonly moves: boolean;

  /** @param places of the corners of the sheet before, now @param corners the same, then; pattern units */
  constructor(
    readonly before: Sheet,
    private readonly after: Sheet,
    private readonly corners: readonly Point[],
    readonly places: readonly Point[],
  ) {
    this.moves = places.some((place, v) => place !== corners[v]);
  }

  /** A step that nothing happened to stays the same object. */
  step(step: Step): Step {
    const { through, makes, orders, landmarkAt } = step;
    const drives = this.drives(step.drives);
    const waysKept = (through ?? []).every((one) => this.drives(one) === one);
    const makesKept = !makes || isSame(makes, this.makings(makes));
    if (!this.moves && drives === step.drives && waysKept && makesKept) return step;
    return {
      ...step,
      drives,
      ...(through ? { through: through.map((drives) => this.drives(drives)) } : {}),
      ...(makes ? { makes: this.makings(makes) } : {}),
      ...(orders
        ? { orders: orders.map((one) => ({ ...one, layer: this.point(one.layer), of: this.point(one.of) })) }
        : {}),
      ...(landmarkAt ? { landmarkAt: landmarkAt.map((at) => this.point(at)) } : {}),
    };
  }

  /** A step that loses all its creases keeps its drives, so that they are missed: who draws the line anew has the step back. */
  private drives(drives: readonly Drive[]): readonly Drive[] {
    const kept = drives.flatMap((drive) => this.stretches(drive));
    return kept.length > 0 && !isSame(drives, kept) ? kept : drives;
  }

  /** Is there nothing left of a crease that a stretch names? */
  loses(stretch: Stretch): boolean {
    return creasesOnLine(this.before, stretch).some((crease) => this.creasesOf(crease).length === 0);
  }

  makings(makings: readonly MadeCrease[]): MadeCrease[] {
    return makings.flatMap((made) => (made.pinch ? [this.ends(made)] : this.stretches(made)));
  }

  /** A stretch as the stretches that the creases on it are now; none where these are gone. */
  private stretches<T extends Stretch>(stretch: T): T[] {
    const own = creasesOnLine(this.before, stretch);
    if (own.length === 0) return [this.ends(stretch)];
    const now = new Set(own.flatMap((crease) => this.creasesOf(crease)));
    const carried = this.ends(stretch);
    if (sameSet(creasesOnLine(this.after, carried), now)) return [carried];
    return this.runs([...now]).map((run) => ({ ...stretch, ...run }));
  }

  /** Folding creases of the sheet now that lie on a crease of the one before, or share a part of its length. */
  private creasesOf(crease: number): number[] {
    const { after } = this;
    const [from, to] = [this.before.creaseFrom[crease]!, this.before.creaseTo[crease]!];
    const [a, b] = [onSheet(after, this.places[from]!), onSheet(after, this.places[to]!)];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const along = (v: number) => (after.vertexX[v]! - a[0]) * ux + (after.vertexY[v]! - a[1]) * uy;
    const off = (v: number) => Math.abs((after.vertexX[v]! - a[0]) * uy - (after.vertexY[v]! - a[1]) * ux);
    return [...after.creaseKind.keys()].filter((one) => {
      const [p, q] = [after.creaseFrom[one]!, after.creaseTo[one]!];
      if (!kindFolds(after.creaseKind[one]!) || off(p) > SNAP || off(q) > SNAP) return false;
      const [low, high] = [Math.min(along(p), along(q)), Math.max(along(p), along(q))];
      return Math.min(high, length) - Math.max(low, 0) > SNAP;
    });
  }

  /** Creases as stretches that hold them and no others, those that follow each other in a straight line together. */
  private runs(creases: readonly number[]): Stretch[] {
    const { after } = this;
    const corner = (v: number) => cornerInPattern(after, v);
    const left = new Set(creases);
    return creases.flatMap((first): Stretch[] => {
      if (!left.delete(first)) return [];
      let run: Stretch = { from: corner(after.creaseFrom[first]!), to: corner(after.creaseTo[first]!) };
      let held = new Set([first]);
      for (let again = true; again; ) {
        again = false;
        for (const next of left) {
          const wanted = new Set([...held, next]);
          const ends = [run.from, run.to, corner(after.creaseFrom[next]!), corner(after.creaseTo[next]!)];
          const longer = furthestApart(ends);
          if (!sameSet(creasesOnLine(after, longer), wanted)) continue;
          [run, held, again] = [longer, wanted, true];
          left.delete(next);
        }
      }
      return [run];
    });
  }

  private ends<T extends Stretch>(stretch: T): T {
    const [from, to] = [this.point(stretch.from), this.point(stretch.to)];
    return from === stretch.from && to === stretch.to ? stretch : { ...stretch, from, to };
  }

  /**
   * Where no panel is named the largest stays in place. When another one becomes the largest, the model must not turn: the
   * one that was is named from then on.
   */
  stillPoint({ steps }: Lesson): Point | null {
    const { before, after } = this;
    if (steps.length === 0) return null;
    const point = this.point(inPattern(before, insidePoint(before, mainPanel(before))));
    return panelContaining(after, ...onSheet(after, point)) === mainPanel(after) ? null : point;
  }

  /** Where a point of the pattern is now: corners go to corners, the rest keeps its place in the triangle between them. */
  point(at: Point): Point {
    if (!this.moves) return at;
    const near = SNAP * this.before.frame.scale;
    const corner = this.corners.findIndex(([x, y]) => Math.hypot(at[0] - x, at[1] - y) <= near);
    if (corner >= 0) return this.places[corner]!;
    const panel = panelContaining(this.before, ...onSheet(this.before, at));
    return panel === NONE ? at : this.inPanel(panel, at);
  }

  private inPanel(panel: number, at: Point): Point {
    const { corners, triangles } = meshOfPanel(this.before, panel);
    if (corners.every((v) => this.places[v] === this.corners[v])) return at;
    let best: { least: number; point: Point } | null = null;
    for (let k = 0; k < triangles.length; k += 3) {
      const three = [0, 1, 2].map((i) => corners[triangles[k + i]!]!);
      const shares = sharesOf(at, three.map((v) => this.corners[v]!) as [Point, Point, Point]);
      const least = Math.min(...shares);
      if (best && least <= best.least) continue;
      const sum = (axis: 0 | 1) =>
        tidy(three.reduce((total, v, i) => total + shares[i]! * this.places[v]![axis], 0));
      best = { least, point: [sum(0), sum(1)] };
    }
    return best?.point ?? at;
  }
}

const isSame = (a: readonly unknown[], b: readonly unknown[]) =>
  a.length === b.length && a.every((one, k) => one === b[k]);

const sameSet = (list: readonly number[], set: ReadonlySet<number>) =>
  list.length === set.size && list.every((one) => set.has(one));

function furthestApart(points: readonly Point[]): Stretch {
  const pairs = points.flatMap((from) => points.map((to) => ({ from, to })));
  const far = ({ from, to }: Stretch) => Math.hypot(from[0] - to[0], from[1] - to[1]);
  return pairs.reduce((best, one) => (far(one) > far(best) ? one : best));
}

/** Of a point, the shares of a triangle's corners in it. */
function sharesOf([x, y]: Point, [a, b, c]: readonly [Point, Point, Point]): [number, number, number] {
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
  const toB = ((x - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (y - a[1])) / area;
  const toC = ((b[0] - a[0]) * (y - a[1]) - (x - a[0]) * (b[1] - a[1])) / area;
  return [1 - toB - toC, toB, toC];
}
