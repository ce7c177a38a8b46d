/** What the screen must say about the whole lesson, in one line: the worst of what is known. */

import type { Finding } from '../../core/finding/finding.ts';
import { STIRRED } from '../../core/numeric/tolerance.ts';
import { creasesShort, shortFindings } from '../../core/run/short.ts';
import { type Standing, standingOf } from '../../core/run/standing.ts';
import type { StepKnown } from '../../core/run/step-known.ts';
import { words } from '../../words/words.ts';
import type { RunState, State, StepState } from '../store.ts';
import { callingOf, type ToldFinding, toldFindings } from './told-findings.ts';

export interface Remark {
  readonly tone: 'bad' | 'look' | 'plain';
  readonly text: string;
}

/** Of the session, what the lesson's standing depends on. */
type Known = Pick<State, 'document' | 'run'>;

const rank = { error: 0, warning: 1, note: 2 } as const;

/** What is known of a step, as the run has it. */
function knownOf({ status, report, end, layers, lookBroke }: StepState, broke: string | null): StepKnown {
  const motion = report && end ? { report, end } : broke !== null && status !== 'ready' ? { broke } : null;
  return { motion, look: lookBroke !== null ? { broke: lookBroke } : layers };
}

/** How the lesson on the table stands. */
export function standingNow({ document: { sheet, checked, findings }, run }: Known): Standing {
  const end = endReached(run);
  return standingOf(
    run.steps.map((one) => knownOf(one, run.broke)),
    checked ? findings : null,
    sheet && end ? creasesShort(sheet, end) : [],
  );
}

/** Where the last step ends, once paper got there. */
function endReached({ steps }: RunState): Float64Array | null {
  const last = steps.at(-1);
  return last?.status === 'ready' && last.end ? last.end.angle : null;
}

/** Findings of the file, the checks and all motions as they are told, the worst first. */
export const findingsNow = (state: Known): ToldFinding[] =>
  toldFindings(allFindings(state), callingOf(state.document));

function allFindings({ document: { sheet, findings }, run }: Known): Finding[] {
  const end = endReached(run);
  const all = [
    ...findings,
    ...(sheet && end ? shortFindings(sheet, end, findings) : []),
    ...run.steps.flatMap((one) => [...(one.report?.findings ?? []), ...(one.layers?.findings ?? [])]),
  ];
  return all.sort((a, b) => rank[a.severity] - rank[b.severity]);
}

/** How far a step that fails got, as a sentence. */
export function failureText({ reached, report }: StepState): string {
  if (report?.outcome === 'stopped') return words.searchEnds(reached);
  return reached < 0.005 ? words.heldAtStart : words.heldAt(reached);
}

interface Summary {
  readonly tone: 'well' | 'bad' | 'plain';
  readonly text: string;
  /** What broke can be tried again, from this step on. */
  readonly again?: number;
}

/** How the lesson stands, in a sentence; praise only where every question of every step was answered with yes. */
export function summaryOf(state: Known): Summary {
  const standing = standingNow(state);
  const { lesson } = state.document;
  const { steps } = state.run;
  const { worst } = standing;
  const title = lesson?.steps[worst?.step ?? 0]?.title ?? '';
  switch (standing.is) {
    case 'nothing':
      return { tone: 'plain', text: words.nothingFolds };
    case 'sound':
      return anythingMoves(state)
        ? { tone: 'well', text: words.allWell(standing.bends, standing.tight) }
        : { tone: 'plain', text: words.nothingFolds };
    case 'short':
      return { tone: 'plain', text: words.endsShort };
    case 'open': {
      const busy = steps.some(({ status }) => status === 'computing');
      const text = busy || !worst ? words.stillChecking : words.notLooked[worst.question](title);
      return { tone: 'plain', text: busy ? words.stillComputing : text };
    }
    case 'refused':
      return worst ? refusal(state, worst, title) : { tone: 'plain', text: words.allWellBut };
  }
}

function refusal(
  { run }: Known,
  { step, question, reply }: NonNullable<Standing['worst']>,
  title: string,
): Summary {
  if (reply === 'broke') return { tone: 'bad', text: brokenText(run, step, title), again: step };
  if (reply === 'gave-up') return { tone: 'plain', text: words.gaveUp[question](title) };
  const how = question === 'moves' ? ` ${failureText(run.steps[step]!)}` : '';
  return { tone: 'bad', text: `${words.refused[question](title)}${how}` };
}

const brokenText = ({ broke, steps }: RunState, step: number, title: string) =>
  broke !== null ? words.broken.motion(title, broke) : words.broken.look(title, steps[step]?.lookBroke ?? '');

/** Nothing is praised on which nothing moves. */
const anythingMoves = ({ document, run }: Known): boolean =>
  document.stages.some(({ through }) => (through?.length ?? 0) > 0) ||
  run.steps.some(({ end }) => end?.angle.some((one) => Math.abs(one) > STIRRED));

/** The line that a phone shows under the step's sentence. @param here number of the shown step, from 0 */
export function remarkOn(state: Known, here: number): Remark | null {
  const summary = summaryOf(state);
  if (summary.again !== undefined) return { tone: 'bad', text: summary.text };
  const { steps } = state.run;
  const failed = steps.find((one) => one.status === 'fails');
  if (failed) return { tone: 'bad', text: failureText(failed) };
  const findings = findingsNow(state);
  const worst = findings.find(({ finding }) => finding.severity !== 'note');
  if (worst?.finding.severity === 'error') return { tone: 'bad', text: worst.sentence };
  if (steps[here]?.layers?.asks) return { tone: 'look', text: words.whichStacking };
  const { trueUp } = state.document;
  if (trueUp !== null) return { tone: 'look', text: words.trueUpOffer(trueUp) };
  const remarks = findings.filter(({ finding }) => finding.severity === 'warning').length;
  if (worst) return { tone: 'look', text: remarks === 1 ? worst.sentence : words.remarks(remarks) };
  const asking = steps.findIndex(({ layers }) => layers?.asks);
  return asking >= 0 ? { tone: 'look', text: words.stackingIn(asking + 1) } : null;
}
