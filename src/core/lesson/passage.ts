import { type Finding, finding } from '../finding/finding.ts';
import type { Step } from './lesson.ts';

/** The remark that a step which slips paper between layers still owes: nobody has checked that it can get there. */
export function passageOfStep(step: Step, number: number): Finding[] {
  if (step.kind !== 'tuck' && step.kind !== 'lock') return [];
  const message = `Passage not checked in step ${number} ("${step.title}"): panels are not yet kept from crossing, so try on paper whether the ${step.kind} slides in.`;
  return [finding('passage-unchecked', 'note', message)];
}
