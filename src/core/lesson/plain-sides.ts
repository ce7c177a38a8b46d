import type { Lesson } from './lesson.ts';

/** Colours that a new lesson starts with. */
export const plainColours = { a: '#2f7f86', b: '#f6f2e8' } as const;

/** How what a sheet says nothing of is called in the lesson that is made of it; the words know. */
export interface LessonNames {
  /** Of a file without a name. */
  readonly untitled: string;
  readonly sides: { readonly a: string; readonly b: string };
  /** The one step of a pattern without steps. */
  readonly step: { readonly title: string; readonly sentence: string };
}

/** For a lesson of which only the pattern is wanted. */
export const nameless: LessonNames = {
  untitled: '',
  sides: { a: '', b: '' },
  step: { title: '', sentence: '' },
};

/** The sides of plain paper. */
export const plainSides = (names: LessonNames['sides']): Lesson['sheet']['sides'] => ({
  a: { name: names.a, colour: plainColours.a },
  b: { name: names.b, colour: plainColours.b },
});
