/** Has mends of what was found tried in a worker of their own, one after the other, once the lesson itself is looked at. */
import type { Finding } from '../../core/finding/finding.ts';
import type { Mend } from '../../core/lesson/check/mends.ts';
import type { Lesson } from '../../core/lesson/lesson.ts';
import { Door } from '../../worker/door.ts';
import type { MendAnswer, MendRequest } from '../../worker/mend.worker.ts';
import { get } from '../store.ts';

const door = new Door<MendRequest, MendAnswer>(
  () => new Worker(new URL('../../worker/mend.worker.ts', import.meta.url), { type: 'module' }),
);

let tried: { readonly of: readonly unknown[]; readonly mends: Map<string, Promise<Mend | null>> } = {
  of: [],
  mends: new Map(),
};

/** The mend of a finding about the lesson on the table that was tried and does it; null where there is none. */
export function mendFor(finding: Finding): Promise<Mend | null> {
  const { lesson, bend, free } = get();
  if (!lesson) return Promise.resolve(null);
  const of = [lesson, bend, free];
  if (of.some((one, k) => one !== tried.of[k])) {
    // of another lesson nothing is wanted any more
    if (door.busy) door.close();
    tried = { of, mends: new Map() };
  }
  const key = `${finding.code} ${finding.message}`;
  const known = tried.mends.get(key) ?? ask(lesson, { bend, free }, finding);
  tried.mends.set(key, known);
  return known;
}

async function ask(lesson: Lesson, choices: MendRequest['choices'], finding: Finding): Promise<Mend | null> {
  const answer = await door.ask({ kind: 'mend', lesson, choices, finding });
  return answer.kind === 'mended' ? answer.mend : null;
}
