/** Why something broke, as far as that is known beforehand; else as the program itself says it. */
const known: Readonly<Record<string, string>> = {
  'not-loaded': 'a part of the program could not be loaded',
  unreadable: 'an answer could not be read',
  silent: 'no answer came',
};

export const whyText = (why: string): string => known[why] ?? why;
