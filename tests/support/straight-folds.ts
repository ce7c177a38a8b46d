/**
 * Lessons of straight folds through all layers: a unit square folded along random lines, each time all of the stack on
 * one side of the line. Elementary reflections only, so that what the tool finds can be held against it.
 */
import type { Drive, Lesson, PatternLine } from '../../src/core/lesson/lesson.ts';
import { SNAP } from '../../src/core/numeric/tolerance.ts';
import { distanceTo, foldPart, type Part, type Point } from './simple-folds.ts';
import { square } from './square.ts';

export interface StraightFold {
  /** The creases that it makes, on the sheet, with the degrees they are folded to. */
  readonly creases: readonly Drive[];
  /** The part that moves goes behind the rest, else in front of it. */
  readonly behind: boolean;
  /** Every layer afterwards, from the hindmost to the foremost, seen with the side up at the start to the front. */
  readonly stack: readonly Part[];
  /** Layers of the stack that moved. */
  readonly moved: readonly Part[];
}

const corners = square.pattern.outline;

/** Folds a square `count` times. No line comes nearer to a corner or a crease that it does not cross than SNAP. */
export function straightFolds(random: () => number, count: number): StraightFold[] {
  const folds: StraightFold[] = [];
  let stack: readonly Part[] = [{ flat: corners, folded: corners, over: false }];
  while (folds.length < count) {
    const line = randomLine(stack, random);
    const fold = foldAll(stack, line, random() < 0.5);
    if (!fold) continue;
    folds.push(fold);
    stack = fold.stack;
  }
  return folds;
}

/** The lesson that folds them, a step each, which drives the creases that it makes and names no other. */
export function lessonOfFolds(folds: readonly StraightFold[]): Lesson {
  return {
    ...square,
    title: 'Straight folds',
    pattern: { ...square.pattern, lines: folds.flatMap(({ creases }) => creases.map(lineOf)) },
    steps: folds.map(({ creases, behind }, k) => ({
      title: `Fold ${k + 1}`,
      sentence: `Fold all layers over ${behind ? 'behind' : 'to the front'}.`,
      kind: 'fold',
      drives: creases,
    })),
  };
}

const lineOf = ({ from, to, angle }: Drive): PatternLine => ({
  ...{ from, to, angle },
  kind: angle > 0 ? 'valley' : 'mountain',
});

/** Signed distance from a line, and the direction in which it grows. */
interface Line {
  readonly side: (p: Point) => number;
  readonly normal: Point;
}

function randomLine(stack: readonly Part[], random: () => number): Line {
  const points = stack.flatMap(({ folded }) => folded);
  const turn = 2 * Math.PI * random();
  const normal: Point = [Math.cos(turn), Math.sin(turn)];
  const along = points.map(([x, y]) => normal[0] * x + normal[1] * y);
  const [low, high] = [Math.min(...along), Math.max(...along)];
  const offset = low + (0.1 + 0.8 * random()) * (high - low);
  return { normal, side: ([x, y]) => normal[0] * x + normal[1] * y - offset };
}

/** The stack folded over the line; undefined where the line runs too near to a corner or a crease. */
function foldAll(stack: readonly Part[], line: Line, behind: boolean): StraightFold | undefined {
  if (stack.some(({ folded }) => folded.some((p) => Math.abs(line.side(p)) <= SNAP))) return undefined;
  const kinds: { a: Point; b: Point; degrees: number }[] = [];
  const stays: Part[] = [];
  const moved: Part[] = [];
  for (const part of stack) {
    const before = kinds.length;
    const pieces = foldPart(part, line.side, line.normal, kinds);
    const crease = kinds[before];
    if (crease && [crease.a, crease.b].some((p) => !isClear(part.flat, p))) return undefined;
    // where the line crosses a part both pieces come back, else the part itself, turned over or not
    for (const piece of pieces) (piece.over === part.over ? stays : moved).push(piece);
  }
  const turned = moved.reverse();
  const degrees = behind ? -1 : 1;
  return {
    creases: kinds.map(({ a, b, degrees: valley }) => ({ from: a, to: b, angle: degrees * valley })),
    ...{ behind, moved: turned },
    stack: behind ? [...turned, ...stays] : [...stays, ...turned],
  };
}

/** A point on the rim of a part keeps off every side but its own. */
function isClear(ring: readonly Point[], point: Point): boolean {
  const near = ring.filter((a, k) => distanceTo(a, ring[(k + 1) % ring.length]!, point) <= SNAP);
  return near.length === 1;
}
