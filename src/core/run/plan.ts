/** What a run carries out: the steps of a lesson, resolved to the creases and panels of its sheet. */
import type { Finding } from '../finding/finding.ts';
import type { Asked } from '../layer/asked.ts';
import { finishedFolds } from '../lesson/check/made.ts';
import { isAssumed, type Lesson, type StepKind, usualThickness } from '../lesson/lesson.ts';
import { ordersOfStep } from '../lesson/orders.ts';
import { stageOfFinishedAngles, stagesOfLesson } from '../lesson/stages.ts';
import { MISS } from '../numeric/tolerance.ts';
import { settleAngles } from '../pose/settle-angles.ts';
import type { Stage } from '../pose/track.ts';
import { blamed } from '../sheet/blame.ts';
import { checkSheet, finishedAngle } from '../sheet/check.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { mainPanel } from '../sheet/walk.ts';
import { stagesOf, stillPanelOf } from './stages.ts';
import { taughtFindings } from './taught.ts';

export interface PlannedStep {
  readonly title: string;
  readonly kind: StepKind;
  readonly stage: Stage;
  /** Stackings that the teacher asks for at its end. */
  readonly asked: readonly Asked[];
  /**
   * The pattern came without steps, and nobody asked that its creases move together: what crosses on the way is worth a
   * warning, and its layers are not bound by that way.
   */
  readonly assumed: boolean;
  /** A lid of the same pattern that goes over the model at its end: its sheet and its paper, mm. */
  readonly lid?: { readonly size: number; readonly thickness: number };
}

export interface Plan {
  /** What is carried out; null for a bare pattern. */
  readonly lesson: Lesson | null;
  readonly sheet: Sheet;
  /** Length of the longer side, mm; null where no file or call says it. */
  readonly sheetSize: number | null;
  /** Thickness of the paper, mm. */
  readonly thickness: number;
  /** The panel that motions are told against: the one the lesson or the call names, else the largest. */
  readonly still: number;
  readonly steps: readonly PlannedStep[];
  /** Creases that the pattern folds and no step drives. */
  readonly never: readonly number[];
  /** What is said of the sheet and of the lesson before anything is folded. */
  readonly findings: readonly Finding[];
}

interface PlanOptions {
  readonly sheetSize?: number | null;
  readonly still?: number;
}

/** @param given the lesson's own sheet */
export function planOfLesson(lesson: Lesson, given: Sheet, options: PlanOptions = {}): Plan {
  const { sheet, findings: settled } = settleAngles(given);
  const { findings: missed } = stagesOfLesson(lesson, sheet);
  const stages = stagesOf(lesson, sheet);
  const atOdds = creasesAtOdds(stages, sheet);
  const { size, sizeAssumed, lidSize, thickness = usualThickness } = lesson.sheet;
  const orders = lesson.steps.map((step, k) => ordersOfStep(step, k, sheet));
  const last = lesson.steps.length - 1;
  const steps = lesson.steps.map((step, k): PlannedStep => {
    const assumed = isAssumed(step);
    return {
      title: step.title,
      kind: step.kind,
      stage: atOdds.length > 0 ? { ...stages[k]!, atOdds } : stages[k]!,
      asked: orders[k]!.asked,
      assumed,
      ...(k === last && lidSize ? { lid: { size: lidSize, thickness } } : {}),
    };
  });
  return {
    ...{ lesson, sheet, steps, thickness, never: neverDriven(stages, sheet) },
    sheetSize: options.sheetSize === undefined ? (sizeAssumed ? null : size) : options.sheetSize,
    still: options.still ?? stillPanelOf(lesson, sheet) ?? mainPanel(sheet),
    findings: [
      ...settled,
      ...missed,
      ...orders.flatMap(({ findings }) => findings),
      ...blamed(sheet, checkSheet(sheet), atOdds),
      ...taughtFindings(lesson, sheet),
    ],
  };
}

/** Creases that steps drive, the last of them to another angle than the pattern has. */
function creasesAtOdds(stages: readonly Stage[], sheet: Sheet): number[] {
  return [...sheet.creaseKind.keys()].filter((crease) => {
    const last = stages.findLast(({ target }) => !Number.isNaN(target[crease]!))?.target[crease];
    return last !== undefined && Math.abs(last - finishedAngle(sheet, crease)) > MISS;
  });
}

function neverDriven(stages: readonly Stage[], sheet: Sheet): number[] {
  return finishedFolds(sheet).filter((crease) => stages.every(({ target }) => Number.isNaN(target[crease]!)));
}

/** A pattern without steps: a lesson of one step that brings every crease to its finished angle. */
export function planOfPattern(given: Sheet, { sheetSize = null, ...options }: PlanOptions = {}): Plan {
  const { sheet, findings } = settleAngles(given);
  const still = options.still ?? mainPanel(sheet);
  const step: PlannedStep = {
    ...{ title: '', kind: 'collapse', asked: [], assumed: true },
    stage: stageOfFinishedAngles(sheet),
  };
  return {
    ...{ lesson: null, sheet, sheetSize, still, steps: [step], thickness: usualThickness, never: [] },
    findings: [...findings, ...blamed(sheet, checkSheet(sheet))],
  };
}
