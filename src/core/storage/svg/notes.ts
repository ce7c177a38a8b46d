import { type Finding, finding } from '../../finding/finding.ts';
import type { Unfollowed } from '../../finding/values/file.ts';
import type { FilePlace } from '../../finding/values/place.ts';
import { PassedOverCount } from '../drawing/passed-over.ts';

/** What a person is told of a drawing that was read: what is left out, cut, or kept though it may look otherwise. */
export class SvgNotes {
  readonly passedOver = new PassedOverCount();
  private readonly unfollowed = new Map<Unfollowed, { count: number; readonly first: FilePlace }>();
  private readonly counted = { cut: 0, colours: 0 };
  private readonly first: { cut?: FilePlace; colours?: FilePlace } = {};

  /** Something that may move or hide lines is not followed: they are kept as if it were not there. */
  notFollowed(what: Unfollowed, place: FilePlace): void {
    const known = this.unfollowed.get(what);
    if (known) known.count++;
    else this.unfollowed.set(what, { count: 1, first: place });
  }

  /** A line is cut, or a colour is not read. */
  add(what: 'cut' | 'colours', place: FilePlace): void {
    this.counted[what]++;
    this.first[what] ??= place;
  }

  /** All notes; `leftOut` counts rules of style sheets. */
  findings(leftOut: number): Finding[] {
    const notes: Finding[] = [...this.passedOver.findings()];
    const note = (count: number, values: Parameters<typeof finding<'line-ignored'>>[2]) =>
      notes.push(finding('line-ignored', 'note', values, { value: count }));
    for (const how of ['cut', 'colours'] as const) {
      const count = this.counted[how];
      if (count > 0) note(count, { how, count, first: this.first[how]! });
    }
    for (const [what, { count, first }] of this.unfollowed)
      note(count, { how: 'unfollowed', what, count, first });
    if (leftOut > 0) note(leftOut, { how: 'style-rules', count: leftOut });
    return notes;
  }
}
