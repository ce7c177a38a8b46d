/** The conditions that true-up makes hold: closure at finished angles, and straight lines. */
import { multiply, rotationVector, setFoldTurn, turn } from '../numeric/rotation.ts';
import { COLLINEAR } from '../numeric/tolerance.ts';
import { finishedAngle } from './check.ts';
import { kindJoinsPanels } from './kind.ts';
import type { Loop } from './loops.ts';
import { closureLoops } from './loops.ts';
import type { Sheet } from './sheet.ts';
import {
  creaseCount,
  creaseLength,
  creasesAround,
  halfEdgeDirection,
  halfEdgeEnd,
  halfEdgeOrigin,
  isInterior,
} from './walk.ts';

/** Values that must be 0, as a function of the places of a few vertices. */
export interface Condition {
  /** How many values. */
  readonly size: number;
  /** The vertices that matter, each once. */
  readonly vertices: readonly number[];
  evaluate(x: Float64Array, y: Float64Array): Float64Array;
}

/** What is further from closing than this (radians) is no imprecision, and is left for `checkSheet` to report. */
const HOPELESS = 0.5;

/** Lines that bend more than this at a vertex (radians) are bends, however short. */
const BENT = 0.1;

/** What is held true: `must` always, `might` where it goes together with that. */
export interface Conditions {
  readonly must: readonly Condition[];
  readonly might: readonly Condition[];
  /** All straight lines: the points of each in order. */
  readonly lines: readonly (readonly number[])[];
}

/**
 * Must: closure of every vertex and hole that nearly closes, and straightness of every line that nearly is.
 * Might: angles that a folded crease nearly halves.
 */
export function trueConditions(sheet: Sheet, limit: number): Conditions {
  const closures = closureLoops(sheet)
    .map((loop) => closureCondition(sheet, loop))
    .filter((c) => c !== null)
    .filter((c) => c.evaluate(sheet.vertexX, sheet.vertexY).every((value) => Math.abs(value) < HOPELESS));
  const slack = Math.min(limit / 2, COLLINEAR);
  const lines = straightLines(sheet, slack);
  const straightness = lines.flatMap((points) =>
    points.slice(2).map((after, k) => straight(points[k]!, points[k + 1]!, after)),
  );
  return { must: [...closures, ...straightness], might: bisectors(sheet, slack), lines };
}

/**
 * A crease that is folded flat together halves the angle between its neighbours where it nearly does: a gusset's two
 * layers then end on one line, about which it can swing, and edges that meet as folded meet. Not where all creases of an
 * inner corner are folded flat: there closure says all.
 */
function bisectors(sheet: Sheet, slack: number): Condition[] {
  const conditions: Condition[] = [];
  for (let vertex = 0; vertex < sheet.vertexX.length; vertex++) {
    const inner = isInterior(sheet, vertex);
    const lines = Array.from(creasesAround(sheet, vertex)).filter(
      (h) => !kindJoinsPanels(sheet.creaseKind[h >> 1]!) || finishedAngle(sheet, h >> 1) !== 0,
    );
    const turns = lines.map((h) => Math.abs(finishedAngle(sheet, h >> 1)));
    if (inner && (turns.some(Number.isNaN) || turns.every((turn) => turn === Math.PI))) continue;
    lines.forEach((h, k) => {
      if (turns[k] !== Math.PI || !kindJoinsPanels(sheet.creaseKind[h >> 1]!)) return;
      const three = [lines.at(k - 1)!, h, lines[(k + 1) % lines.length]!];
      const halves = halved(vertex, three.map((one) => halfEdgeEnd(sheet, one)) as [number, number, number]);
      const shortest = Math.min(...three.map((one) => creaseLength(sheet, one >> 1)));
      const apart = Math.abs(halves.evaluate(sheet.vertexX, sheet.vertexY)[0]!);
      if (lines.length > 2 && apart * shortest <= 2 * slack) conditions.push(halves);
    });
  }
  return conditions;
}

/** Angle from the first to the middle line at a vertex, less that from the middle to the last; ends of lines given. */
function halved(vertex: number, ends: readonly [number, number, number]): Condition {
  const [a, b, c] = ends;
  return {
    size: 1,
    vertices: [vertex, ...ends],
    evaluate(x, y) {
      const angle = (p: number, q: number): number => {
        const [px, py] = [x[p]! - x[vertex]!, y[p]! - y[vertex]!];
        const [qx, qy] = [x[q]! - x[vertex]!, y[q]! - y[vertex]!];
        return Math.atan2(px * qy - py * qx, px * qx + py * qy);
      };
      return Float64Array.of(angle(a, b) - angle(b, c));
    },
  };
}

/** Rotation (and for holes shift) left over going round; null when nothing folds there or a crease is undecided. */
function closureCondition(sheet: Sheet, loop: Loop): Condition | null {
  const hole = loop.kind === 'hole';
  const finished = (h: number): number => {
    const angle = finishedAngle(sheet, h >> 1);
    // for the rotation left over at a vertex the two half turns are alike
    return Number.isNaN(angle) && !hole ? Math.PI : angle;
  };
  const folds = loop.halfEdges.filter((h) => finished(h) !== 0);
  const angles = Array.from(folds, finished);
  if (folds.length === 0 || angles.some(Number.isNaN)) return null;
  const origins = Array.from(folds, (h) => halfEdgeOrigin(sheet, h));
  const ends = Array.from(folds, (h) => halfEdgeEnd(sheet, h));
  const size = hole ? 6 : 3;
  const total = new Float64Array(4);
  const one = new Float64Array(4);
  const place = new Float64Array(3);
  return {
    size,
    vertices: [...new Set([...origins, ...ends])],
    evaluate(x, y) {
      const left = new Float64Array(size);
      total.set([0, 0, 0, 1]);
      for (let k = 0; k < angles.length; k++) {
        const [a, b] = [origins[k]!, ends[k]!];
        const dx = x[b]! - x[a]!;
        const dy = y[b]! - y[a]!;
        const length = Math.hypot(dx, dy);
        setFoldTurn(one, 0, dx / length, dy / length, angles[k]!);
        if (hole) shiftBy(left, total, place, x[a]!, y[a]!, 1);
        multiply(total, 0, total, 0, one, 0);
        if (hole) shiftBy(left, total, place, x[a]!, y[a]!, -1);
      }
      // a product of -1 is another trouble, which moving vertices cannot mend
      if (total[3]! < 0) for (let i = 0; i < 4; i++) total[i] = -total[i]!;
      rotationVector(left, 0, total, 0);
      return left;
    },
  };
}

/** Adds a turned point to the shift, which stands after the rotation. */
function shiftBy(
  left: Float64Array,
  total: Float64Array,
  place: Float64Array,
  x: number,
  y: number,
  sign: number,
): void {
  turn(place, 0, total, 0, x, y, 0);
  for (let i = 0; i < 3; i++) left[3 + i]! += sign * place[i]!;
}

/**
 * Straight lines: crease after crease that run on through vertices, as long as the whole line stays within `slack` of
 * the chord between its ends. A finely drawn curve leaves its chord and is let be.
 */
function straightLines(sheet: Sheet, slack: number): number[][] {
  const onward = new Int32Array(creaseCount(sheet) * 2).fill(-1);
  for (let v = 0; v < sheet.vertexX.length; v++) pairOpposite(sheet, v, slack, onward);
  const lines: number[][] = [];
  const used = new Uint8Array(creaseCount(sheet));
  for (let first = 0; first < onward.length; first++) {
    if (used[first >> 1] === 1 || onward[first ^ 1] !== -1) continue;
    const points = [halfEdgeOrigin(sheet, first)];
    for (let h = first; h !== -1; h = onward[h]!) {
      used[h >> 1] = 1;
      points.push(halfEdgeEnd(sheet, h));
    }
    if (isNearlyStraight(sheet, points, slack)) lines.push(points);
  }
  return lines;
}

/** Notes for the creases at a vertex which one runs straight on as which. */
function pairOpposite(sheet: Sheet, vertex: number, slack: number, onward: Int32Array): void {
  const around = creasesAround(sheet, vertex);
  const bend = (g: number, h: number): number => {
    const both = kindJoinsPanels(sheet.creaseKind[g >> 1]!) === kindJoinsPanels(sheet.creaseKind[h >> 1]!);
    if (g === h || !both) return Number.POSITIVE_INFINITY;
    const turned = Math.abs(halfEdgeDirection(sheet, g) - halfEdgeDirection(sheet, h));
    return Math.abs(turned - Math.PI);
  };
  const opposite = (g: number) => around.reduce((best, h) => (bend(g, h) < bend(g, best) ? h : best), g);
  for (const g of around) {
    const h = opposite(g);
    if (h === g || opposite(h) !== g || bend(g, h) > BENT) continue;
    const [long, short] = [creaseLength(sheet, g >> 1), creaseLength(sheet, h >> 1)];
    if ((bend(g, h) * long * short) / (long + short) <= slack) onward[g ^ 1] = h;
  }
}

function isNearlyStraight(sheet: Sheet, points: readonly number[], slack: number): boolean {
  const { vertexX: x, vertexY: y } = sheet;
  const [a, b] = [points[0]!, points.at(-1)!];
  const dx = x[b]! - x[a]!;
  const dy = y[b]! - y[a]!;
  const length = Math.hypot(dx, dy);
  return (
    length > 0 && points.every((p) => Math.abs(dx * (y[p]! - y[a]!) - dy * (x[p]! - x[a]!)) <= slack * length)
  );
}

/** Sine of the bend at b, on the way from a to c. */
function straight(a: number, b: number, c: number): Condition {
  return {
    size: 1,
    vertices: [a, b, c],
    evaluate(x, y) {
      const [px, py] = [x[b]! - x[a]!, y[b]! - y[a]!];
      const [qx, qy] = [x[c]! - x[b]!, y[c]! - y[b]!];
      return Float64Array.of((px * qy - py * qx) / (Math.hypot(px, py) * Math.hypot(qx, qy)));
    },
  };
}
