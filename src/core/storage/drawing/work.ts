import { refusal } from '../refusal.ts';

/** What an SVG file asks of its reader. */
type Labour = 'copies' | 'styles' | 'shapes' | 'cuts';

/** What one element costs, in units of about ten nanoseconds. */
const VISIT = 200;

/** What is counted in steps, and what a step costs: of matching a rule, of cutting at one side of a clip path. */
const STEP: Record<Labour, number> = { copies: 1, styles: 10, shapes: 1, cuts: 4 };

/** Every file may ask this much: 40,000 elements, copies counted. */
const FREE = 200 * 40_000;

/** And as much more for each letter: an element of a plain file costs far less. */
const PER_LETTER = 400;

/** No file may ask more: about a second. */
const MOST = 80_000_000;

/**
 * The one budget for reading an SVG file. It grows with the length of the file, so that however references, style
 * rules and long attributes are multiplied with one another, reading takes no more than in proportion to that.
 */
export class Work {
  private readonly limit: number;
  private readonly done: Record<Labour, number> = { copies: 0, styles: 0, shapes: 0, cuts: 0 };
  private total = 0;

  constructor(letters: number) {
    this.limit = Math.min(MOST, FREE + PER_LETTER * letters);
  }

  /** Work done so far. */
  get spent(): number {
    return this.total;
  }

  /** One element looked at. */
  visit(): void {
    this.spend('copies', VISIT);
  }

  /** Throws a Refusal that names what asked most when the budget is used up. */
  spend(on: Labour, steps: number): void {
    const amount = steps * STEP[on];
    this.done[on] += amount;
    this.total += amount;
    if (this.total > this.limit) throw this.refusal();
  }

  private refusal() {
    const { copies, styles, shapes, cuts } = this.done;
    const most = Math.max(copies, styles, shapes + cuts);
    const how = copies === most ? 'svg-repeats' : styles === most ? 'svg-styles' : 'svg-shapes';
    return refusal('file-too-large', { how, most: Math.floor(this.limit / VISIT) });
  }
}
