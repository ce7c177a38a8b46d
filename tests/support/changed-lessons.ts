/** Lessons with one thing changed, and what that was: whoever finds fault with them should point there. */

import * as edit from '../../src/core/draw/edit-lines.ts';
import { movePoint } from '../../src/core/draw/move-point.ts';
import type { Finding } from '../../src/core/finding/finding.ts';
import { withPattern } from '../../src/core/lesson/carry.ts';
import {
  driveCreases,
  duplicateStep,
  moveStep,
  removeStep,
  withStep,
} from '../../src/core/lesson/edit-steps.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { type Account, accountOf } from '../../src/core/run/mend/tried.ts';
import { planOfLesson } from '../../src/core/run/plan.ts';
import type { RunOptions } from '../../src/core/run/run.ts';
import type { Standing } from '../../src/core/run/standing.ts';
import { cornerInPattern } from '../../src/core/sheet/frame.ts';
import { lineKinds } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { sentenceOf } from '../../src/words/findings.ts';

export interface Changed {
  readonly what: string;
  readonly lesson: Lesson;
  /** Does a finding point at the change? Told by places and titles, which no renumbering touches. */
  readonly names: (finding: Finding, sheet: Sheet) => boolean;
}

type Point = readonly [number, number];

export const sheetOf = (lesson: Lesson): Sheet => sheetOfLesson(lesson).sheet!;

export const creaseEnds = (sheet: Sheet, crease: number): [Point, Point] => [
  cornerInPattern(sheet, sheet.creaseFrom[crease]!),
  cornerInPattern(sheet, sheet.creaseTo[crease]!),
];

const middleOf = ([a, b]: readonly [Point, Point]): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** A share of the sheet by which the places of one crease before and after a small change may differ. */
const NEAR = 0.012;

/** Are creases at these places among the first two that a finding names? */
function namesCreases(places: readonly (readonly [Point, Point])[]): Changed['names'] {
  return ({ creases }, sheet) =>
    creases.slice(0, 2).some((crease) => {
      const [x, y] = middleOf(creaseEnds(sheet, crease));
      return places.some((ends) => {
        const [px, py] = middleOf(ends);
        return Math.hypot(px - x, py - y) < NEAR * sheet.frame.scale;
      });
    });
}

/** Is one of these corners among the first two that a finding names, or an end of one of its first two creases? */
const namesCorners =
  (places: readonly Point[]): Changed['names'] =>
  ({ vertices, creases }, sheet) => {
    const ends = creases
      .slice(0, 2)
      .flatMap((crease) => [sheet.creaseFrom[crease]!, sheet.creaseTo[crease]!]);
    return [...vertices.slice(0, 2), ...ends].some((vertex) => {
      const [x, y] = cornerInPattern(sheet, vertex);
      return places.some(([px, py]) => Math.hypot(px - x, py - y) < NEAR * sheet.frame.scale);
    });
  };

const either =
  (...all: readonly Changed['names'][]): Changed['names'] =>
  (finding, sheet) =>
    all.some((one) => one(finding, sheet));

const namesStep =
  (title: string): Changed['names'] =>
  (found) =>
    sentenceOf(found).includes(`"${title}"`);

/** Creases that a step turns to another angle than they have before it. */
function drivenBy(lesson: Lesson, step: number): [Point, Point][] {
  const sheet = sheetOf(lesson);
  const { target } = planOfLesson(lesson, sheet).steps[step]!.stage;
  return [...target.keys()].filter((e) => !Number.isNaN(target[e]!)).map((e) => creaseEnds(sheet, e));
}

/** Every step removed, switched off, doubled, and swapped with the next. */
export function changedSteps(lesson: Lesson): Changed[] {
  return lesson.steps.flatMap((step, k): Changed[] => {
    const names = either(namesStep(step.title), namesCreases(drivenBy(lesson, k)));
    const next = lesson.steps[k + 1];
    const swapped = next && {
      what: `step ${k + 1} swapped with the next`,
      lesson: moveStep(lesson, k, k + 1),
      names: either(names, namesStep(next.title), namesCreases(drivenBy(lesson, k + 1))),
    };
    return [
      { what: `step ${k + 1} removed`, lesson: removeStep(lesson, k), names },
      { what: `step ${k + 1} switched off`, lesson: withStep(lesson, k, { ...step, off: true }), names },
      { what: `step ${k + 1} doubled`, lesson: duplicateStep(lesson, k), names },
      ...(swapped ? [swapped] : []),
    ];
  });
}

/** One crease turned to the other kind, erased, its finished angle or the angle that a step brings it to wrong by 30 degrees. */
export function changedCrease(lesson: Lesson, crease: number): Changed[] {
  const sheet = sheetOf(lesson);
  const ends = creaseEnds(sheet, crease);
  const [from, to] = ends;
  const kind = lineKinds[sheet.creaseKind[crease]!]!;
  const degrees = (Math.abs(sheet.creaseAngle[crease]!) * 180) / Math.PI;
  const wrong = degrees > 90 ? degrees - 30 : degrees + 30;
  const look = (other: typeof kind, angle: number) =>
    withPattern(lesson, edit.setLook(lesson.pattern, [{ from, to }], edit.drawn({ from, to }, other, angle)));
  const names = namesCreases([ends]);
  const step = planOfLesson(lesson, sheet).steps.findIndex(
    ({ stage }) => !Number.isNaN(stage.target[crease]!),
  );
  const target = ((kind === 'mountain' ? -wrong : wrong) * Math.PI) / 180;
  return [
    {
      what: `crease ${crease} turned to the other kind`,
      lesson: look(kind === 'mountain' ? 'valley' : 'mountain', degrees),
      names,
    },
    {
      what: `finished angle of crease ${crease} ${wrong.toFixed(0)} instead of ${degrees.toFixed(0)}`,
      lesson: look(kind, wrong),
      names,
    },
    {
      what: `crease ${crease} erased`,
      lesson: withPattern(lesson, edit.eraseStretches(lesson.pattern, [{ from, to }])),
      names: either(namesCorners(ends), ...(step < 0 ? [] : [namesStep(lesson.steps[step]!.title)])),
    },
    ...(step < 0
      ? []
      : [
          {
            what: `crease ${crease} brought to ${wrong.toFixed(0)} instead of ${degrees.toFixed(0)} by step ${step + 1}`,
            lesson: driveCreases(lesson, step, sheet, new Map([[crease, target]])),
            names: either(names, namesStep(lesson.steps[step]!.title)),
          },
        ]),
  ];
}

/** One corner moved by 2 mm, in a direction of its own. */
export function movedCorner(lesson: Lesson, vertex: number): Changed {
  const sheet = sheetOf(lesson);
  const corner = cornerInPattern(sheet, vertex);
  const far = (2 * sheet.frame.scale) / lesson.sheet.size;
  const to: Point = [corner[0] + far * Math.cos(vertex + 0.3), corner[1] + far * Math.sin(vertex + 0.3)];
  const moved = movePoint(lesson.pattern, corner, to);
  return {
    what: `corner ${vertex} moved by 2 mm`,
    lesson: withPattern(lesson, moved.pattern, moved.placeOf),
    // a corner of the outline takes those along that lie on its edges
    names: namesCorners(
      [...sheet.vertexX.keys()]
        .map((v) => cornerInPattern(sheet, v))
        .filter((at) => Math.hypot(at[0] - moved.placeOf(at)[0], at[1] - moved.placeOf(at)[1]) > far / 100)
        .map(moved.placeOf),
    ),
  };
}

export interface Judged {
  readonly account: Account;
  readonly standing: Standing['is'];
  /** Errors first. */
  readonly findings: readonly Finding[];
  readonly sheet: Sheet;
  /** Where the last step ends; undefined where there is none. */
  readonly end: Float64Array | undefined;
}

/** A lesson carried out as a whole. */
export function judged(lesson: Lesson, options: RunOptions): Judged {
  const account = accountOf(lesson, options)!;
  const { run, standing } = account;
  const rank = { error: 0, warning: 1, note: 2 };
  const findings = [...run.findings].sort((a, b) => rank[a.severity] - rank[b.severity]);
  return { account, standing, findings, sheet: run.plan.sheet, end: run.steps.at(-1)?.end.angle };
}
