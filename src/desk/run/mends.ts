/** Has mends of what was found tried, one after the other, once the lesson itself is looked at. */
import type { Finding } from '../../core/finding/finding.ts';
import type { Mend } from '../../core/lesson/check/mends.ts';
import { withStep } from '../../core/lesson/edit-steps.ts';
import { words } from '../../words/words.ts';
import type { MendWork } from '../../worker/work.ts';
import type { Store } from '../store.ts';

export class Mends {
  private tried: { readonly of: readonly unknown[]; readonly mends: Map<string, Promise<Mend | null>> } = {
    of: [],
    mends: new Map(),
  };

  constructor(
    private readonly store: Store,
    private readonly work: MendWork,
  ) {}

  /** The mend of a finding about the lesson on the table that was tried and does it; null where there is none. */
  mendFor(finding: Finding): Promise<Mend | null> {
    const { lesson } = this.store.document;
    const { bend, free } = this.store.run;
    if (!lesson) return Promise.resolve(null);
    const of = [lesson, bend, free];
    if (of.some((one, k) => one !== this.tried.of[k])) {
      // of another lesson nothing is wanted any more
      this.work.cancel();
      this.tried = { of, mends: new Map() };
    }
    const key = JSON.stringify([finding.code, finding.values, finding.creases, finding.vertices]);
    const known =
      this.tried.mends.get(key) ?? this.work.mendFor(lesson, { bend, free }, finding).then(withTitle);
    this.tried.mends.set(key, known);
    return known;
  }
}

/** A step that a mend adds has a title in the words of the teacher. */
function withTitle(mend: Mend | null): Mend | null {
  if (mend?.untitled === undefined) return mend;
  const { lesson, untitled, name } = mend;
  const title = words.mendTitles[name.how === 'fold-before' ? 'fold-before' : 'fold-last'];
  return { ...mend, lesson: withStep(lesson, untitled, { ...lesson.steps[untitled]!, title }) };
}
