/** Colours that a new lesson starts with. */
export const plainColours = { a: '#2f7f86', b: '#f6f2e8' } as const;
