/** Mends of what a lesson folds, as it would be with them, in the order to be tried. Whether they are any, trying tells. */
import { addLines, drawn, setLook } from '../../draw/edit-lines.ts';
import { movePoint } from '../../draw/move-point.ts';
import type { Finding } from '../../finding/finding.ts';
import { withPattern } from '../../lesson/carry.ts';
import { finishedFolds } from '../../lesson/check/made.ts';
import type { Mend, MendName } from '../../lesson/check/mends.ts';
import { driveCreases, driveOf, insertStep, moveStep, newStep, withStep } from '../../lesson/edit-steps.ts';
import type { Lesson } from '../../lesson/lesson.ts';
import { creasesOnLine } from '../../lesson/stages.ts';
import type { Point } from '../../numeric/vector.ts';
import { movedAlone, reAngled } from '../../sheet/blame.ts';
import { finishedAngle } from '../../sheet/check.ts';
import { cornerInPattern, inPattern } from '../../sheet/frame.ts';
import { KIND, lineKinds } from '../../sheet/kind.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { shortEnds } from '../../sheet/short-ends.ts';
import { isInterior } from '../../sheet/walk.ts';
import { planOfLesson } from '../plan.ts';

/** What a mend is proposed for. */
interface Trouble {
  readonly found: Finding;
  readonly lesson: Lesson;
  readonly sheet: Sheet;
  /** Creases that the last step to drive them brings elsewhere than the pattern has them. */
  readonly atOdds: readonly number[];
  /** The first step that does not go well, from 0; the number of steps where all do. */
  readonly failing: () => number;
}

/** The first creases and corners that a finding names are tried, no more. */
const MOST_TRIED = 3;

/** @param failing the first step that does not go well, from 0 */
export function foldMends(found: Finding, lesson: Lesson, sheet: Sheet, failing: () => number): Mend[] {
  const { stage } = planOfLesson(lesson, sheet).steps[0] ?? {};
  const trouble = { found, lesson, sheet, atOdds: stage?.atOdds ?? [], failing };
  switch (found.code) {
    case 'vertex-closure':
    case 'hole-closure':
    case 'vertex-angle-sum':
    case 'vertex-mountain-valley-count':
    case 'vertex-small-angle':
    case 'vertex-odd-degree':
      return [
        ...drawnAgain(trouble),
        ...oddCreases(trouble),
        ...otherAngles(trouble),
        ...cornersMoved(trouble),
      ];
    case 'crease-dangling':
      return drawnOn(trouble);
    case 'motion-fails':
    case 'motion-jumps':
    case 'panels-cross':
    case 'tuck-blocked':
    case 'layer-none':
      return [
        ...oddCreases(trouble),
        ...switchedOn(trouble),
        ...foldedBefore(trouble),
        ...leftToFollow(trouble),
        ...swapped(trouble),
        ...anglesOnTheWay(trouble),
      ];
    case 'crease-left-short':
      return [
        ...foldedAsDrawn(trouble, found.creases),
        ...switchedOn(trouble),
        ...swapped(trouble),
        ...foldedLast(trouble),
      ];
    case 'crease-never-used':
      return [...switchedOn(trouble), ...foldedLast(trouble)];
    case 'step-misses':
      return [...drawnAgain(trouble), ...missesLeftOut(trouble)];
    default:
      return [];
  }
}

/** All ends that stop short are drawn on together: one alone may leave a corner half drawn. */
function drawnOn({ lesson, sheet }: Trouble): Mend[] {
  const ends = shortEnds(sheet);
  if (ends.length === 0) return [];
  const moves = ends.map(({ vertex, to }) => [cornerInPattern(sheet, vertex), inPattern(sheet, to)] as const);
  let { pattern } = lesson;
  const ways: ((p: Point) => Point)[] = [];
  for (const [from, to] of moves) {
    const moved = movePoint(pattern, from, to);
    pattern = moved.pattern;
    ways.push(moved.placeOf);
  }
  const placeOf = (place: Point) => ways.reduce((at, way) => way(at), place);
  return [
    {
      name: { how: 'draw-on', count: ends.length },
      lesson: withPattern(lesson, pattern, placeOf),
      completes: true,
    },
  ];
}

const inDegrees = (angle: number) => Number(((angle * 180) / Math.PI).toFixed(4));

/** A crease that steps and pattern have elsewhere: either of them may be wrong. */
function oddCreases(trouble: Trouble): Mend[] {
  const { found, lesson, sheet, atOdds } = trouble;
  const named = atOdds.filter((crease) => found.creases.length === 0 || found.creases.includes(crease));
  return named.slice(0, MOST_TRIED).flatMap((crease) => {
    const step = lastToDrive(lesson, sheet, crease);
    const angle = drivenAngle(lesson, sheet, crease, step);
    const drawnSo: Mend = {
      name: { how: 'draw-as-folded', crease, step, angle: inDegrees(angle) },
      lesson: withFinishedAngle(lesson, sheet, crease, angle),
    };
    return [...foldedAsDrawn(trouble, [crease]), drawnSo];
  });
}

/** The last steps that drive creases bring them where the pattern has them. */
function foldedAsDrawn({ lesson, sheet }: Trouble, creases: readonly number[]): Mend[] {
  const angles = creases
    .map((crease) => ({
      crease,
      step: lastToDrive(lesson, sheet, crease),
      angle: finishedAngle(sheet, crease),
    }))
    .filter(({ step, angle }) => step >= 0 && !Number.isNaN(angle));
  const [first] = angles;
  if (!first) return [];
  const name: MendName =
    angles.length === 1
      ? { how: 'fold-as-drawn', ...first, angle: inDegrees(first.angle) }
      : { how: 'fold-all-as-drawn', creases: angles.map(({ crease }) => crease) };
  const mended = angles.reduce(
    (one, { crease, step, angle }) => driveCreases(one, step, sheet, new Map([[crease, angle]])),
    lesson,
  );
  return [{ name, lesson: mended }];
}

function otherAngles({ found, lesson, sheet, atOdds }: Trouble): Mend[] {
  const creases = found.creases.filter((crease) => !atOdds.includes(crease)).slice(0, MOST_TRIED);
  const corner = found.vertices.find((vertex) => isInterior(sheet, vertex));
  return creases.flatMap((crease): Mend[] => {
    const angle = finishedAngle(sheet, crease);
    if (Number.isNaN(angle)) return [];
    const right = corner === undefined ? null : reAngled(sheet, crease, corner);
    return [
      {
        name: { how: 'turn', crease },
        lesson: withAngle(lesson, sheet, crease, -angle),
      },
      ...(right === null
        ? []
        : [
            {
              name: { how: 'set-angle', crease, angle: inDegrees(right) } as const,
              lesson: withAngle(lesson, sheet, crease, right),
            },
          ]),
    ];
  });
}

function cornersMoved({ found, lesson, sheet }: Trouble): Mend[] {
  return found.vertices.slice(0, 1).flatMap((vertex): Mend[] => {
    const { far, to } = movedAlone(sheet, vertex);
    if (!Number.isFinite(far)) return [];
    const moved = movePoint(lesson.pattern, cornerInPattern(sheet, vertex), inPattern(sheet, to));
    return [
      {
        name: { how: 'move-corner', corner: vertex, by: far * lesson.sheet.size },
        lesson: withPattern(lesson, moved.pattern, moved.placeOf),
      },
    ];
  });
}

/** A crease that the failing step drives to an angle that the others do not allow follows them, */
function leftToFollow({ found, lesson, sheet, failing }: Trouble): Mend[] {
  const step = failing();
  const drives = lesson.steps[step]?.drives ?? [];
  const driven = new Set(drives.flatMap((drive) => creasesOnLine(sheet, drive)));
  const named = found.creases.filter((crease) => driven.has(crease)).slice(0, MOST_TRIED);
  return named.map((crease) => ({
    name: { how: 'let-follow', crease, step },
    lesson: driveCreases(lesson, step, sheet, new Map([[crease, Number.NaN]])),
  }));
}

/** or where the pattern has it. */
function anglesOnTheWay({ found, lesson, sheet, failing }: Trouble): Mend[] {
  const step = failing();
  const drives = lesson.steps[step]?.drives ?? [];
  const off = found.creases.filter((crease) => {
    const drive = drives.findLast((one) => creasesOnLine(sheet, one).includes(crease));
    return drive !== undefined && Math.abs(drive.angle - inDegrees(finishedAngle(sheet, crease))) > 1;
  });
  return off.slice(0, MOST_TRIED).map((crease) => ({
    name: { how: 'fold-to', crease, step, angle: inDegrees(finishedAngle(sheet, crease)) },
    lesson: driveCreases(lesson, step, sheet, new Map([[crease, finishedAngle(sheet, crease)]])),
  }));
}

/** Folds that no step makes are made before the step that fails. */
function foldedBefore({ lesson, sheet, failing }: Trouble): Mend[] {
  const never = finishedFolds(sheet).filter((crease) => lastToDrive(lesson, sheet, crease) < 0);
  if (never.length === 0) return [];
  const step = failing();
  const angles = new Map(never.map((crease) => [crease, finishedAngle(sheet, crease)]));
  const mended = insertStep(lesson, step, newStep('fold', ''));
  return [
    {
      name: { how: 'fold-before', creases: never, step },
      lesson: driveCreases(mended, step, sheet, angles),
      untitled: step,
    },
  ];
}

function switchedOn({ lesson }: Trouble): Mend[] {
  return lesson.steps.flatMap((step, k): Mend[] => {
    const { off, ...on } = step;
    return off
      ? [{ name: { how: 'switch-on', step: k, title: step.title }, lesson: withStep(lesson, k, on) }]
      : [];
  });
}

function swapped({ lesson }: Trouble): Mend[] {
  return lesson.steps
    .slice(1)
    .map((_, k) => ({ name: { how: 'swap', step: k + 1 }, lesson: moveStep(lesson, k, k + 1) }));
}

function foldedLast({ found: { creases }, lesson, sheet }: Trouble): Mend[] {
  const angles = creases
    .map((crease) => [crease, finishedAngle(sheet, crease)] as const)
    .filter(([, angle]) => !Number.isNaN(angle));
  if (angles.length === 0) return [];
  const end = lesson.steps.length;
  const step = newStep('fold', '');
  const mended = driveCreases(insertStep(lesson, end, step), end, sheet, new Map(angles));
  return [{ name: { how: 'fold-last' }, lesson: mended, untitled: end }];
}

/** Lines that drives lie on are drawn where no crease is, folded as the last step to drive them does, all at once. */
function drawnAgain({ lesson, sheet }: Trouble): Mend[] {
  const missing = lesson.steps
    .filter(({ off }) => !off)
    .flatMap(({ drives }) => drives)
    .filter((drive) => drive.angle !== 0 && creasesOnLine(sheet, drive).length === 0);
  if (missing.length === 0) return [];
  const lines = missing.map(({ from, to, angle }) =>
    drawn({ from, to }, angle < 0 ? 'mountain' : 'valley', Math.abs(angle)),
  );
  const name = { how: 'draw-folded', count: missing.length } as const;
  return [{ name, lesson: withPattern(lesson, addLines(lesson.pattern, lines)) }];
}

/** Drives that meet no crease are left out, all at once. */
function missesLeftOut({ lesson, sheet }: Trouble): Mend[] {
  const steps = lesson.steps.map((step) => {
    const drives = step.drives.filter((drive) => creasesOnLine(sheet, drive).length > 0);
    return drives.length < step.drives.length ? { ...step, drives } : step;
  });
  return [{ name: { how: 'leave-misses' }, lesson: { ...lesson, steps } }];
}

/** The last step that drives a crease, from 0; -1 where none does. */
function lastToDrive({ steps }: Lesson, sheet: Sheet, crease: number): number {
  return steps.findLastIndex(
    ({ drives, off }) => !off && drives.some((drive) => creasesOnLine(sheet, drive).includes(crease)),
  );
}

function drivenAngle({ steps }: Lesson, sheet: Sheet, crease: number, step: number): number {
  const drive = steps[step]!.drives.findLast((one) => creasesOnLine(sheet, one).includes(crease))!;
  return (drive.angle * Math.PI) / 180;
}

/** Another finished angle of a crease, in the last step that drives it too. */
function withAngle(lesson: Lesson, sheet: Sheet, crease: number, angle: number): Lesson {
  const step = lastToDrive(lesson, sheet, crease);
  const driven = step < 0 ? lesson : driveCreases(lesson, step, sheet, new Map([[crease, angle]]));
  return withFinishedAngle(driven, sheet, crease, angle);
}

function withFinishedAngle(lesson: Lesson, sheet: Sheet, crease: number, angle: number): Lesson {
  const stretch = driveOf(sheet, crease, angle);
  const own = lineKinds[sheet.creaseKind[crease]!]!;
  const folds = sheet.creaseKind[crease] !== KIND.unassigned && angle !== 0;
  const kind = folds ? (angle > 0 ? 'valley' : 'mountain') : own;
  return withPattern(lesson, setLook(lesson.pattern, [stretch], drawn(stretch, kind, stretch.angle)));
}
