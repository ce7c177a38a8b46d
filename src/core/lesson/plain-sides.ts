import type { SideLook } from './lesson.ts';

/** Colours that a new lesson starts with. */
export const plainSides: { readonly a: SideLook; readonly b: SideLook } = {
  a: { name: 'Teal', colour: '#2f7f86' },
  b: { name: 'White', colour: '#f6f2e8' },
};
