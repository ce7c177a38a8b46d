/** What a reader of drawings passes over, counted. */
import { type Finding, finding } from '../../finding/finding.ts';
import type { PassedOver } from '../../finding/values/file.ts';

export class PassedOverCount {
  private readonly counted = new Map<string, { readonly what: PassedOver; count: number }>();

  add(what: PassedOver | PassedOver['how']): void {
    const one = (typeof what === 'string' ? { how: what } : what) as PassedOver;
    const key = JSON.stringify(one);
    const known = this.counted.get(key);
    if (known) known.count++;
    else this.counted.set(key, { what: one, count: 1 });
  }

  /** One note for each kind of thing. */
  findings(): Finding[] {
    return [...this.counted.values()].map(({ what, count }) =>
      finding('line-ignored', 'note', { how: 'left-out', what, count }, { value: count }),
    );
  }
}
