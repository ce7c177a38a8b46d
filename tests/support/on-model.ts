/** Plain squares folded step after step by folds that are made on the model. */
import { groupByPlane } from '../../src/core/layer/planes.ts';
import type { LayerOrder } from '../../src/core/layer/problem.ts';
import { type Stacks, stacksOf } from '../../src/core/layer/stacks.ts';
import type { Lesson } from '../../src/core/lesson/lesson.ts';
import type { Folded, FoldPlan } from '../../src/core/lesson/on-model/folded.ts';
import { withFold } from '../../src/core/lesson/on-model/with-fold.ts';
import { sheetOfLesson } from '../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../src/core/lesson/stages.ts';
import type { Space } from '../../src/core/numeric/vector.ts';
import { type Placement, placePanels, placePoint } from '../../src/core/pose/place.ts';
import { layersOfStep } from '../../src/core/run/step-layers.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { sentenceOf } from '../../src/words/findings.ts';
import { words } from '../../src/words/words.ts';
import { endOf, runStep } from './folded-models.ts';

export interface Folding {
  readonly lesson: Lesson;
  readonly sheet: Sheet;
  readonly angle: Float64Array;
  readonly placement: Placement;
  readonly order: LayerOrder;
  readonly stacks: Stacks;
  readonly group: number;
  /** Per step. */
  readonly outcomes: readonly string[];
  readonly troubles: readonly string[];
  readonly ends: readonly Float64Array[];
  readonly orders: readonly LayerOrder[];
}

/** Folds all steps; gives the pose and its layers, how each step went and what is an error in it. */
export function foldAll(lesson: Lesson, still: readonly [number, number], bend = false): Folding {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) throw new Error('no sheet');
  const stillPanel = panelContaining(sheet, ...still);
  const { stages } = stagesOfLesson(lesson, sheet);
  let angle: Float64Array = new Float64Array(sheet.creaseKind.length);
  let order: LayerOrder = [];
  const outcomes: string[] = [];
  const troubles: string[] = [];
  const ends: Float64Array[] = [];
  const orders: LayerOrder[] = [];
  stages.forEach((stage, step) => {
    const track = runStep(sheet, angle, stage, bend);
    outcomes.push(track.report.outcome);
    troubles.push(...track.report.findings.map(sentenceOf));
    angle = endOf(track).slice(0, sheet.creaseKind.length);
    ends.push(angle);
    const layers = layersOfStep(
      {
        ...{ step, title: '', stepKind: 'fold', sheet, sheetSize: 150, still: stillPanel },
        ...{ poses: track.poses, before: order, asked: [] },
      },
      () => () => false,
    );
    troubles.push(...layers.findings.filter(({ severity }) => severity === 'error').map(sentenceOf));
    order = layers.order;
    orders.push(order);
  });
  const placement = placePanels(sheet, angle, stillPanel);
  const planes = groupByPlane(sheet, placement);
  const stacks = stacksOf(planes, order);
  return { lesson, sheet, angle, placement, order, stacks, group: 0, outcomes, troubles, ends, orders };
}

/** Where a point of the flat sheet is. */
export function placeOf({ sheet, placement }: Folding, x: number, y: number): Space {
  const at = new Float64Array(3);
  placePoint(at, 0, placement, panelContaining(sheet, x, y), x, y);
  return [at[0]!, at[1]!, at[2]!];
}

/** A line from `from` to `to` in the plane z = 0 as the first group takes it: what lies on its left moves. */
export function lineOn({ stacks }: Folding, from: Flat, to: Flat, toward: 1 | -1) {
  const up = stacks.planes.groups[0]!.normal[2] > 0 ? 1 : -1;
  const [a, b] = toward > 0 ? [from, to] : [to, from];
  const space = ([x, y]: Flat): Space => [x, y, 0];
  return { from: space(a), to: space(b), toward: (toward * up) as 1 | -1 };
}

type Flat = readonly [number, number];

export function planned(folded: Folded): FoldPlan {
  if ('refused' in folded) throw new Error(words.foldTrouble(folded.refused));
  return folded;
}

/** The lesson with one fold more, as its last step. */
export function folded(before: Folding, plan: FoldPlan, title = 'Fold'): Lesson {
  const { lesson, ends } = before;
  return withFold(lesson, lesson.steps.length - 1, { ...before, plan, title, ends });
}
