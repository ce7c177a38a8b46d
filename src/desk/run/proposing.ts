/** Words that steps propose for themselves. What finds them is fetched when they are first asked for. */

import type { Playhead } from '../play/playhead.ts';
import type { Store } from '../store.ts';

export class Proposing {
  private fetched: typeof import('./proposed.ts') | null = null;

  constructor(
    private readonly store: Store,
    private readonly playhead: Playhead,
  ) {}

  get isFetched(): boolean {
    return this.fetched !== null;
  }

  fetch = async (): Promise<void> => {
    if (!this.fetched) this.take(await import('./proposed.ts'));
  };

  take(fetched: typeof import('./proposed.ts')): void {
    this.fetched = fetched;
  }

  /** A sentence for a step; empty before it is known. */
  sentenceFor(step: number): string {
    const { lesson, sheet } = this.store.document;
    const { board } = this.playhead;
    return (lesson && sheet && board && this.fetched?.proposedFor(lesson, sheet, board, step)) || '';
  }

  /** A title for a fold of creases to their finished angles in a step after the given one; -1: the first step. */
  titleFor(after: number, creases: readonly number[]): string {
    const { lesson, sheet } = this.store.document;
    const { board } = this.playhead;
    return (lesson && sheet && this.fetched?.titleFor(lesson, sheet, board, after, creases)) || '';
  }
}
