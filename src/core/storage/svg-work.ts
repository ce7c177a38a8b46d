import { refusal } from './refusal.ts';

/** What an SVG file asks of its reader. */
type Labour = 'copies' | 'styles' | 'shapes';

/** What one element costs, where one step of matching a style rule costs 1. */
const VISIT = 200;

/** Every file may ask this much: 40,000 elements, copies counted. */
const FREE = 200 * 40_000;

/** And as much more for each letter: an element of a plain file costs far less. */
const PER_LETTER = 400;

/** No file may ask more: about a second. */
const MOST = 100_000_000;

/**
 * The one budget for reading an SVG file. It grows with the length of the file, so that however references, style
 * rules and long attributes are multiplied with one another, reading takes no more than in proportion to that.
 */
export class Work {
  private readonly limit: number;
  private readonly done: Record<Labour, number> = { copies: 0, styles: 0, shapes: 0 };
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
  spend(on: Labour, amount: number): void {
    this.done[on] += amount;
    this.total += amount;
    if (this.total <= this.limit) return;
    const { copies, styles, shapes } = this.done;
    const how =
      copies >= Math.max(styles, shapes) ? 'svg-repeats' : styles > shapes ? 'svg-styles' : 'svg-shapes';
    throw refusal('file-too-large', { how, most: Math.floor(this.limit / VISIT) });
  }
}
