/** Tries mends, off the page and beside everything else. */
import type { Finding } from '../core/finding/finding.ts';
import type { Mend } from '../core/lesson/check/mends.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import { type Account, accountOf, triedMend } from '../core/run/mend/tried.ts';
import type { Alive, Broke } from './answers.ts';
import { signOfLife } from './door.ts';
import type { FoldChoices } from './protocol.ts';

export interface MendRequest {
  readonly kind: 'mend';
  readonly job: number;
  readonly lesson: Lesson;
  readonly choices: FoldChoices;
  readonly finding: Finding;
}

export interface MendAnswer {
  readonly kind: 'mended';
  readonly job: number;
  /** Null where nothing that was tried mends it. */
  readonly mend: Mend | null;
}

interface WorkerScope {
  postMessage(answer: MendAnswer | Alive | Broke): void;
  onmessage: ((event: { data: MendRequest }) => void) | null;
}

const scope = globalThis as unknown as WorkerScope;

/** Each question of a trial gets so long. */
const SECONDS = 3;

let last: { readonly key: string; readonly account: Account | null } | null = null;

scope.onmessage = ({ data: { job, lesson, choices, finding } }) => {
  try {
    const alive = signOfLife(job, (sign) => scope.postMessage(sign));
    const options = { ...choices, seconds: SECONDS, alive };
    const key = JSON.stringify([lesson, choices]);
    const before = () => {
      if (last?.key !== key) last = { key, account: accountOf(lesson, options) };
      return last.account;
    };
    const mend = triedMend(finding, lesson, before, options);
    scope.postMessage({ kind: 'mended', job, mend });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    scope.postMessage({ kind: 'broke', job, message });
  }
};
