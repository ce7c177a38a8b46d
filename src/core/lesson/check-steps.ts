/** The steps of a lesson held against what paper can do, each from the layers that the one before left. */
import { describeContacts } from '../contact/findings.ts';
import { contactsOfTrack } from '../contact/track.ts';
import type { Finding } from '../finding/finding.ts';
import type { LayerOrder } from '../layer/problem.ts';
import type { StartClock } from '../layer/roll.ts';
import type { Stage, StepTrack } from '../pose/track.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Lesson } from './lesson.ts';
import { ordersOfStep } from './orders.ts';
import { layersOfStep } from './step-layers.ts';

export interface LessonMotion {
  readonly lesson: Lesson;
  readonly sheet: Sheet;
  readonly still: number;
  /** Length of the sheet's longer side, mm. */
  readonly sheetSize: number;
  readonly stages: readonly Stage[];
  /** Tracks of the first steps, as many as are known. */
  readonly tracks: readonly StepTrack[];
  /** Starts a clock for each question about the layers of a step. */
  readonly startClock: StartClock;
}

/** Per step: panels that cross, that are tight, that stand where the layers do not have them, or out of reach. */
export function checkSteps(motion: LessonMotion): Finding[][] {
  const { lesson, sheet, sheetSize, still, stages, tracks, startClock } = motion;
  let before: LayerOrder = [];
  return tracks.map((track, step) => {
    const { title, kind, ...rest } = lesson.steps[step]!;
    const { asked, findings } = ordersOfStep({ title, ...rest }, step + 1, sheet);
    if (track.sheet !== sheet) return [...findings, ...contactOfBentPaper(motion, step, track)];
    const layers = layersOfStep(
      {
        ...{ step, title, stepKind: kind, sheet, sheetSize, still, before, asked },
        ...{ poses: track.poses, thickness: lesson.sheet.thickness },
        target: stages[step]!.target,
      },
      startClock,
    );
    before = layers.known;
    return [...findings, ...layers.findings];
  });
}

/** Bent panels have no layers to go by; what they pass through shows all the same. */
function contactOfBentPaper(
  { lesson, sheet, sheetSize, still }: LessonMotion,
  step: number,
  { sheet: bent, panelOf, poses }: StepTrack,
): Finding[] {
  const paper = { sheetSize, thickness: lesson.sheet.thickness };
  const { contacts } = contactsOfTrack({
    ...{ sheet: bent, poses, paper },
    still: Math.max(0, panelOf.indexOf(still)),
  });
  const whole = contacts.flatMap((contact) => {
    const [a, b] = [panelOf[contact.panels[0]]!, panelOf[contact.panels[1]]!];
    return a === b ? [] : [{ ...contact, panels: [a, b] as const, mover: panelOf[contact.mover]! }];
  });
  const { title, kind } = lesson.steps[step]!;
  return describeContacts(whole, {
    ...{ sheet, ...paper },
    name: `Step ${step + 1} ("${title}")`,
    tucks: kind === 'tuck' || kind === 'lock',
  });
}
