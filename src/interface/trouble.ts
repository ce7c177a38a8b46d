/** What the screen must say about the whole lesson, in one line: the worst of what is known. */
import type { Finding } from '../core/finding/finding.ts';
import type { State, StepState } from './store.ts';
import { words } from './words.ts';

export interface Remark {
  readonly tone: 'bad' | 'look' | 'plain';
  readonly text: string;
}

const rank = { error: 0, warning: 1, note: 2 } as const;

/** Findings of the file, the checks and all motions, the worst first. */
export function allFindings(state: Pick<State, 'findings' | 'steps'>): Finding[] {
  const all = [
    ...state.findings,
    ...state.steps.flatMap((one) => [...(one.report?.findings ?? []), ...(one.layers?.findings ?? [])]),
  ];
  return all.sort((a, b) => rank[a.severity] - rank[b.severity]);
}

/** How far a step that fails got, as a sentence. */
export function failureText({ reached, report }: StepState): string {
  if (report?.outcome === 'stopped') return words.searchEnds(reached);
  return reached < 0.005 ? words.heldAtStart : words.heldAt(reached);
}

/** The line that a phone shows under the step's sentence. @param here number of the shown step, from 0 */
export function remarkOn(
  state: Pick<State, 'findings' | 'steps' | 'lesson' | 'verdict' | 'trueUp'>,
  here: number,
): Remark | null {
  const failed = state.steps.find((one) => one.status === 'fails');
  if (failed) return { tone: 'bad', text: failureText(failed) };
  const worst = allFindings(state).find((one) => one.severity !== 'note');
  if (worst?.severity === 'error') return { tone: 'bad', text: worst.message };
  if (state.steps[here]?.layers?.asks) return { tone: 'look', text: words.whichStacking };
  if (state.trueUp !== null) return { tone: 'look', text: words.trueUpOffer(state.trueUp) };
  const remarks = allFindings(state).filter((one) => one.severity === 'warning').length;
  if (worst) return { tone: 'look', text: remarks === 1 ? worst.message : words.remarks(remarks) };
  const asking = state.steps.findIndex(({ layers }) => layers?.asks);
  return asking >= 0 ? { tone: 'look', text: words.stackingIn(asking + 1) } : null;
}
