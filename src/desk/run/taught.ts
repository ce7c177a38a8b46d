/** Once it is known how the steps end, what the lesson forgets is told anew: creases that only follow are folded, too. */
import type { End } from '../around.ts';
import type { Store } from '../store.ts';

export class Taught {
  /** What was told already, and from what. */
  private told: readonly unknown[] = [];

  constructor(private readonly store: Store) {}

  begin(): End {
    return this.store.subscribe((now, before) => {
      if (now.document !== before.document || now.run !== before.run) void this.tell();
    });
  }

  private async tell(): Promise<void> {
    const { document, run } = this.store.state;
    const { lesson, sheet, checked, findings } = document;
    if (!lesson || !sheet || !checked || run.computing) return;
    const ends = run.steps.map(({ status, end }) =>
      status === 'ready' && end && !end.alone ? end.angle : undefined,
    );
    const from = [lesson, sheet, findings, ...ends];
    if (ends.every((end) => !end) || this.isTold(from)) return;
    this.told = from;
    const { taughtAgain } = await import('../../core/run/taught.ts');
    if (this.told !== from || this.store.document.findings !== findings) return;
    const again = taughtAgain(findings, lesson, sheet, ends);
    this.told = [lesson, sheet, again, ...ends];
    this.store.put({ document: { findings: again } });
  }

  private isTold(from: readonly unknown[]): boolean {
    return from.length === this.told.length && from.every((one, k) => one === this.told[k]);
  }
}
