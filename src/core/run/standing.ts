/** How a whole lesson stands, from what is known of its steps: the one place that may say that all is well. */
import type { Finding } from '../finding/finding.ts';
import { type StepKnown, verdictOfStep } from './step-known.ts';
import {
  isRefused,
  isSound,
  type Question,
  questions,
  type Reply,
  type Verdict,
  worstOf,
} from './verdict.ts';

/**
 * sound: every question of every step was looked into and answered with yes, nothing else is wrong, and the steps end
 * where the pattern does. short: the same, but they end elsewhere. open: something is not looked at yet. refused: a no, or
 * a question that stays without answer. nothing: there are no steps.
 */
export interface Standing {
  readonly is: 'sound' | 'short' | 'open' | 'refused' | 'nothing';
  readonly verdict: Verdict;
  /** The first step with the worst answer, from 0, and the question; null where every answer is yes. */
  readonly worst: { readonly step: number; readonly question: Question; readonly reply: Reply } | null;
  /** Degrees by which panels bend at most, and mm (or percent of a sheet without size) that paper gives at most. */
  readonly bends: number;
  readonly tight: number;
}

/**
 * @param findings of the sheet and of the lesson; null while nobody has looked for them
 * @param short creases that the last step leaves away from their finished angles
 */
export function standingOf(
  steps: readonly StepKnown[],
  findings: readonly Finding[] | null,
  short: readonly number[],
): Standing {
  const verdicts = steps.map(verdictOfStep);
  const verdict = worstOf(verdicts);
  const facts = { verdict, worst: worstAnswer(verdicts, verdict), ...prices(steps) };
  if (isRefused(verdict)) return { is: 'refused', ...facts };
  if (findings?.some(({ severity }) => severity === 'error')) return { is: 'refused', ...facts };
  if (steps.length === 0) return { is: findings === null ? 'open' : 'nothing', ...facts };
  if (!isSound(verdict) || findings === null) return { is: 'open', ...facts };
  return { is: short.length > 0 ? 'short' : 'sound', ...facts };
}

/** Paper that passes through paper has no layers either: contact is what there is to say. */
const telling = questions.toSorted((a, b) => Number(a === 'layers') - Number(b === 'layers'));

function worstAnswer(verdicts: readonly Verdict[], all: Verdict): Standing['worst'] {
  if (isSound(all)) return null;
  const order = ['no', 'broke', 'gave-up', 'not-looked'] as const;
  for (const reply of order)
    for (const [step, verdict] of verdicts.entries())
      for (const question of telling) if (verdict[question] === reply) return { step, question, reply };
  return null;
}

function prices(steps: readonly StepKnown[]): Pick<Standing, 'bends' | 'tight'> {
  let [bends, tight] = [0, 0];
  for (const { motion, look } of steps) {
    if (motion && 'report' in motion) bends = Math.max(bends, motion.report.bendDegrees);
    if (look && 'replies' in look && look.replies.contact === 'tight')
      for (const { code, value = 0 } of look.findings)
        if (code === 'panels-tight') tight = Math.max(tight, value);
  }
  return { bends, tight };
}
