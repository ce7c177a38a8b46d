/**
 * What a learner's paper looks like when a step went wrong in a likely way, each really folded. Likeliest
 * first, by this rule (common practice, no source): the longest lines folded the other way, then precreases forgotten,
 * then the wrong number of layers, then the wrong side up at the start.
 */

import { historyOf } from '../lesson/check/made.ts';
import type { Lesson } from '../lesson/lesson.ts';
import { stagesOfLesson } from '../lesson/stages.ts';
import { TURNED } from '../numeric/tolerance.ts';
import { foldStep } from '../pose/fold-step.ts';
import type { Stage } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { creaseLength, creasesInLine } from '../sheet/walk.ts';

type WrongKind = 'other-way' | 'forgotten' | 'layers' | 'side-up';

/** A way to go wrong in a step. */
export interface WrongFold {
  readonly kind: WrongKind;
  /** Creases that are folded wrongly. */
  readonly creases: readonly number[];
  /** Step to go back to, from 0; -1 to what comes before the first. */
  readonly back: number;
  readonly stage: Stage;
}

/** How it comes out. */
export interface WrongLook {
  /** Where the paper comes to rest: a pose that closes. */
  readonly angle: Float64Array;
  /** Did every crease get to where the wrong fold sends it? If not, no motion was found beyond. */
  readonly arrives: boolean;
  /** Degrees that the furthest crease stops short. */
  readonly short: number;
}

/** At most so many of one kind, and in all. */
const MOST_OF_A_KIND = 3;
const MOST = 6;

/** Likely wrong folds of a step. @param start pose at its start */
export function wrongFolds(lesson: Lesson, step: number, sheet: Sheet, start: Float64Array): WrongFold[] {
  const { stages } = stagesOfLesson(lesson, sheet);
  const { target } = stages[step]!;
  const { makings, turned } = historyOf(lesson, sheet);
  const turns = turned[step]!;
  const lines = linesOf(sheet, turns);
  const found: WrongFold[] = [];
  for (const creases of lines.slice(0, MOST_OF_A_KIND))
    found.push(wrong('other-way', creases, step, target, (crease) => -target[crease]!));
  const needed = makings.filter(({ creases }) => creases.some((crease) => turns.includes(crease)));
  for (const { creases, step: back } of needed.slice(0, MOST_OF_A_KIND)) {
    const own = creases.filter((crease) => turns.includes(crease));
    found.push(wrong('forgotten', own, back, target, (crease) => start[crease]!));
  }
  const [first] = lines;
  if (first && first.length > 1)
    found.push(wrong('layers', first.slice(1), step, target, (crease) => start[crease]!));
  const distinct = found.filter(
    ({ stage }, k) => found.findIndex((other) => sameTargets(other.stage, stage)) === k,
  );
  // the wrong side up moves the same, but shows the other colours
  const otherSide: WrongFold = { kind: 'side-up', creases: [], back: -1, stage: { target } };
  return [...distinct.slice(0, MOST - 1), otherSide];
}

function wrong(
  kind: WrongKind,
  creases: readonly number[],
  back: number,
  target: Float64Array,
  angleOf: (crease: number) => number,
): WrongFold {
  const changed = target.slice();
  // a learner folds what is wrong all the way; the rest goes as far as that lets it
  const exact = new Uint8Array(target.length);
  for (const crease of creases) {
    changed[crease] = angleOf(crease);
    exact[crease] = 1;
  }
  return { kind, creases, back, stage: { target: changed, exact } };
}

/** Straight lines of the sheet along which the step turns creases, whichever way each of them goes; the longest first. */
function linesOf(sheet: Sheet, turns: readonly number[]): number[][] {
  const lines: number[][] = [];
  for (const crease of turns) {
    const line = lines.find(([first]) => creasesInLine(sheet, [first!]).includes(crease));
    if (line) line.push(crease);
    else lines.push([crease]);
  }
  const length = (creases: readonly number[]) =>
    creases.reduce((sum, crease) => sum + creaseLength(sheet, crease), 0);
  return lines.sort((a, b) => length(b) - length(a));
}

const sameTargets = (a: Stage, b: Stage) =>
  a.target.every(
    (angle, crease) => Object.is(angle, b.target[crease]) || Math.abs(angle - b.target[crease]!) < TURNED,
  );

/** Folds it: kinds do not bound the sense of a crease, and a few starts are enough for a look. */
export function foldWrongly(sheet: Sheet, start: Float64Array, { stage }: WrongFold): WrongLook {
  const motion = foldStep(sheet, start, stage, { bend: false, free: true, startLimit: 2 });
  for (;;) {
    const { value, done } = motion.next();
    if (!done) continue;
    const { poses, report } = value;
    return {
      angle: poses.at(-1)!.angle.slice(0, sheet.creaseKind.length),
      arrives: report.outcome === 'rigid',
      short: report.deviation,
    };
  }
}
