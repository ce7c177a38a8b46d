/** What a lesson forgets, told before the class notices. */

import { type Finding, finding } from '../../finding/finding.ts';
import type { OpenQuestion } from '../../finding/values/lesson.ts';
import { distanceToStretch } from '../../numeric/plane.ts';
import { MARK, SCAR } from '../../numeric/tolerance.ts';
import { distance, type Point } from '../../numeric/vector.ts';
import { onSheet } from '../../sheet/frame.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { type ClassLimits, type Lesson, type Step, usualLimits } from '../lesson.ts';
import {
  type CreaseHistory,
  finishedFolds,
  historyOf,
  type Making,
  makesItsOwn,
  unneededLength,
} from './made.ts';

/** @param ends fold angle per crease at the end of each step, radians, where motions are known; see `historyOf` */
export function checkLesson(
  lesson: Lesson,
  sheet: Sheet,
  limits: ClassLimits = lesson.limits ?? usualLimits,
  ends: readonly (Float64Array | undefined)[] = [],
): Finding[] {
  if (lesson.steps.length === 0) return [];
  const history = historyOf(lesson, sheet, ends);
  return [
    ...usedBeforeMade(lesson, sheet, history),
    ...marksMissing(lesson, sheet, history),
    ...neverUsed(lesson, sheet, history),
    ...tooLong(lesson, sheet, history),
    ...wrongWay(lesson, sheet, history),
    ...unclear(lesson, history),
    ...tooMuchAtOnce(lesson, history, limits),
    ...tooManyTurns(lesson, limits),
  ];
}

/** As findings name a step. */
const named = (lesson: Lesson, number: number) =>
  number < 0 ? null : { number, title: lesson.steps[number]!.title };

/** As findings name a line that is made. */
const lineOf = (lesson: Lesson, { made: { from, to }, step }: Making) => ({
  ...{ step: named(lesson, step), from, to },
});

/** A fold on flat paper makes its own creases; a collapse, a tuck or a lock needs them made before. */
function usedBeforeMade(
  lesson: Lesson,
  sheet: Sheet,
  { makings, turned, flatBefore }: CreaseHistory,
): Finding[] {
  const made = new Set<number>();
  const madeIn = (step: number) => {
    for (const making of makings)
      if (making.step === step) for (const crease of making.creases) made.add(crease);
  };
  madeIn(-1);
  return lesson.steps.flatMap((step, k): Finding[] => {
    madeIn(k);
    if (step.off) return [];
    const missing = turned[k]!.filter((crease) => !made.has(crease));
    for (const crease of turned[k]!) made.add(crease);
    if (missing.length === 0 || makesItsOwn(step.kind, flatBefore[k]!)) return [];
    const [how, severity] =
      makings.length === 0 ? (['none-made', 'note'] as const) : (['crease', 'warning'] as const);
    const where = { creases: missing, at: middles(sheet, missing) };
    return [finding('crease-used-before-made', severity, { how, step: named(lesson, k) }, where)];
  });
}

/** A landmark has to be there before it is used: a corner of the sheet, or a place on a line that was made. */
function marksMissing(lesson: Lesson, sheet: Sheet, { makings, turned }: CreaseHistory): Finding[] {
  const corners = lesson.pattern.outline;
  return lesson.steps.flatMap((step, k): Finding[] => {
    if (step.off) return [];
    const lines = [
      ...makings.filter((making) => making.step < k).map(({ made }) => made),
      ...turned.slice(0, k).flatMap((creases) => creases.map((crease) => ends(sheet, crease))),
    ];
    return (step.landmarkAt ?? []).flatMap((mark): Finding[] => {
      const near = sheet.frame.scale * MARK;
      if (corners.some((corner) => distance(corner, mark) < near)) return [];
      if (lines.some(({ from, to }) => distanceToStretch(from, to, mark) < near)) return [];
      const values = { how: 'mark', step: named(lesson, k), at: mark } as const;
      const where = { creases: turned[k]!, at: [onSheet(sheet, mark)] };
      return [finding('crease-used-before-made', 'warning', values, where)];
    });
  });
}

function ends({ frame, vertexX, vertexY, creaseFrom, creaseTo }: Sheet, crease: number) {
  const point = (v: number): Point => [
    frame.x + frame.scale * vertexX[v]!,
    frame.y + frame.scale * vertexY[v]!,
  ];
  return { from: point(creaseFrom[crease]!), to: point(creaseTo[crease]!) };
}

/** A crease that is made, or drawn with a finished angle, and that no step turns. */
function neverUsed(lesson: Lesson, sheet: Sheet, { makings, turned }: CreaseHistory): Finding[] {
  const used = new Set(turned.flat());
  const made = makings
    .filter(({ made: { pinch }, creases }) => !pinch && !creases.some((crease) => used.has(crease)))
    .map((making) =>
      finding(
        'crease-never-used',
        'warning',
        { how: 'made', ...lineOf(lesson, making) },
        {
          creases: making.creases,
          at: [making.made.from, making.made.to].map((point) => onSheet(sheet, point)),
        },
      ),
    );
  const drawn = finishedFolds(sheet).filter((crease) => !used.has(crease));
  const failing = lesson.steps.some(({ drives }) => drives.length > 0) && drawn.length > 0;
  if (!failing) return made;
  const where = { creases: drawn, at: middles(sheet, drawn) };
  return [...made, finding('crease-never-used', 'warning', { how: 'drawn' }, where)];
}

function tooLong(lesson: Lesson, sheet: Sheet, { makings, turned }: CreaseHistory): Finding[] {
  const used = new Set(turned.flat());
  return makings.flatMap((making): Finding[] => {
    if (making.made.pinch || !making.creases.some((crease) => used.has(crease))) return [];
    const scar = unneededLength(making, sheet, used);
    if (scar < SCAR) return [];
    const size = lesson.sheet.size;
    const values = { ...lineOf(lesson, making), by: scar * size };
    const at = [making.made.from, making.made.to].map((point) => onSheet(sheet, point));
    return [
      finding('crease-too-long', 'warning', values, {
        value: scar * size,
        limit: SCAR * size,
        creases: making.creases,
        at,
      }),
    ];
  });
}

/** A precrease is a valley on the side that faces up while it is made; some folds then have to be turned inside out. */
function wrongWay(lesson: Lesson, sheet: Sheet, { makings, turned }: CreaseHistory): Finding[] {
  const used = new Set(turned.flat());
  return makings.flatMap((making): Finding[] => {
    const { side, pinch } = making.made;
    if (!side || pinch) return [];
    const way = side === lesson.sheet.sideUp ? 1 : -1;
    const wrong = making.creases.filter((crease) => used.has(crease) && sheet.creaseAngle[crease]! * way < 0);
    if (wrong.length === 0) return [];
    const values = { ...lineOf(lesson, making), side, all: wrong.length === making.creases.length };
    return [finding('crease-wrong-way', 'warning', values, { creases: wrong, at: middles(sheet, wrong) })];
  });
}

/** The questions that a learner asks at every step: which flap, where to, and by what landmark. */
function unclear(lesson: Lesson, { makings, turned }: CreaseHistory): Finding[] {
  const marks = makings
    .filter(({ made }) => !made.landmark)
    .map((making) =>
      finding(
        'step-unclear',
        'note',
        { how: 'landmark', ...lineOf(lesson, making) },
        { creases: making.creases },
      ),
    );
  const told = new Set(makings.flatMap(({ creases }) => creases));
  const steps = lesson.steps.flatMap((step, k): Finding[] => {
    const open = questionsOpen(step, turned[k]!, told);
    for (const crease of turned[k]!) told.add(crease);
    if (open.length === 0 || step.off) return [];
    const values = { how: 'questions', step: named(lesson, k), open } as const;
    return [finding('step-unclear', 'note', values, { creases: turned[k]! })];
  });
  return [...marks, ...steps];
}

function questionsOpen(step: Step, turns: readonly number[], told: ReadonlySet<number>): OpenQuestion[] {
  if (step.kind === 'note' || step.kind === 'turn-over' || step.kind === 'rotate') return [];
  const open: OpenQuestion[] = [];
  if (!step.sentence.trim()) open.push('what');
  if (turns.length === 0 && !step.makes?.length) open.push('flap');
  // creases that are there already need no landmark
  if (step.kind === 'fold' && !step.landmark && turns.some((crease) => !told.has(crease)))
    open.push('landmark');
  return open;
}

function tooMuchAtOnce(
  lesson: Lesson,
  { turned, flatBefore }: CreaseHistory,
  { creasesAtOnce }: ClassLimits,
): Finding[] {
  const moved = new Set<number>();
  return lesson.steps.flatMap((step, k): Finding[] => {
    const fresh = turned[k]!.filter((crease) => !moved.has(crease));
    for (const crease of turned[k]!) moved.add(crease);
    if (fresh.length <= creasesAtOnce || makesItsOwn(step.kind, flatBefore[k]!)) return [];
    const values = { count: fresh.length, most: creasesAtOnce };
    return [
      finding(
        'step-too-much',
        'note',
        { how: 'creases', step: named(lesson, k), ...values },
        { value: fresh.length, limit: creasesAtOnce, creases: fresh },
      ),
    ];
  });
}

/** Turning the sheet over for each other precrease costs a class its time. */
function tooManyTurns({ precreases = [], steps, sheet }: Lesson, { turnOvers }: ClassLimits): Finding[] {
  let up = sheet.sideUp;
  let turns = 0;
  const first = steps.findIndex(({ kind }) => kind === 'collapse');
  const makes = [...precreases, ...steps.slice(0, Math.max(0, first)).flatMap((step) => step.makes ?? [])];
  for (const { side } of makes)
    if (side && side !== up) {
      up = side;
      turns++;
    }
  turns += steps.slice(0, Math.max(0, first)).filter(({ kind, off }) => kind === 'turn-over' && !off).length;
  if (turns <= turnOvers) return [];
  const values = { how: 'turns', count: turns, most: turnOvers } as const;
  return [finding('step-too-much', 'note', values, { value: turns, limit: turnOvers })];
}

function middles(sheet: Sheet, creases: readonly number[]): [number, number][] {
  return creases.map((crease) => {
    const [a, b] = [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!];
    return [(sheet.vertexX[a]! + sheet.vertexX[b]!) / 2, (sheet.vertexY[a]! + sheet.vertexY[b]!) / 2];
  });
}
