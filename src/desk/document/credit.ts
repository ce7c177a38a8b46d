/** What the teacher states about the lesson: its title and place, whose model it is, and what may be done with it. */
import { type Credit, type Lesson, uses } from '../../core/lesson/lesson.ts';
import type { Edits } from './edits.ts';

export class CreditEdits {
  constructor(private readonly edits: Edits) {}

  setTitle = (title: string) => this.change('title', (one) => ({ ...one, title }));
  setPlace = (place: string) => this.change('place', (one) => ({ ...one, place }));
  setMaker = (maker: string) => this.credit('maker', { maker });
  setSource = (source: string) => this.credit('source', { source });
  setPermission = (permission: NonNullable<Credit['permission']>) =>
    this.credit('permission', { permission });
  setAllowed = (chosen: readonly string[]) =>
    this.credit('allowed', { allowed: uses.filter((one) => chosen.includes(one)) });
  setDate = (date: string) => this.credit('date', { date });
  setStatus = (status: string) => this.credit('status', { status });

  private credit(what: string, change: Partial<Credit>): void {
    this.change(`credit ${what}`, (lesson) => ({ ...lesson, credit: { ...lesson.credit, ...change } }));
  }

  private change(what: string, change: (lesson: Lesson) => Lesson): void {
    this.edits.lesson(what, change, true);
  }
}
