import { askAtRest, describeAtRest } from '../core/contact/at-rest.ts';
import type { Finding } from '../core/finding/finding.ts';
import { placePanels } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { findingsOfLesson } from './fold-plan.ts';
import type { Input } from './input.ts';
import { poseOf } from './layers.ts';
import type { Options } from './options.ts';
import { stillPanel } from './still.ts';

const defaultSeconds = 30;

/**
 * What folding brings to light: of a lesson, contact and layers along every step; of any other sheet, panels that cross in
 * its finished pose and whether its layers can be ordered at all.
 */
export function foldedFindings(input: Input, given: Sheet, options: Options): Finding[] {
  if (input.lesson) return findingsOfLesson(input, given, options);
  const milliseconds = 1000 * (options.seconds ?? defaultSeconds);
  const startClock = () => {
    const until = Date.now() + milliseconds;
    return () => Date.now() > until;
  };
  const still = stillPanel(input, given, options);
  const { sheet, angle } = poseOf(input, given, options);
  const answer = askAtRest(sheet, angle, placePanels(sheet, angle, still), { startClock });
  return describeAtRest(answer, { sheet, sheetSize: input.size ?? undefined });
}
