/** What the teacher states about the lesson: its title and place, whose model it is, and what may be done with it. */
import { type Credit, uses } from '../../core/lesson/lesson.ts';
import { editLesson } from './edits.ts';

const credited = (change: Partial<Credit>, what: string) =>
  editLesson(`credit ${what}`, (lesson) => ({ ...lesson, credit: { ...lesson.credit, ...change } }), true);

export const creditActions = {
  setTitle: (title: string) => editLesson('title', (one) => ({ ...one, title }), true),
  setPlace: (place: string) => editLesson('place', (one) => ({ ...one, place }), true),
  setMaker: (maker: string) => credited({ maker }, 'maker'),
  setSource: (source: string) => credited({ source }, 'source'),
  setPermission: (permission: NonNullable<Credit['permission']>) => credited({ permission }, 'permission'),
  setAllowed: (chosen: readonly string[]) =>
    credited({ allowed: uses.filter((one) => chosen.includes(one)) }, 'allowed'),
  setDate: (date: string) => credited({ date }, 'date'),
  setStatus: (status: string) => credited({ status }, 'status'),
};
