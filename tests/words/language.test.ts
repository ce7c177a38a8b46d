/** What a language has to be, and the made-up one. */
import { expect, test } from 'vitest';
import { english } from '../../src/words/english/english.ts';
import type { Words } from '../../src/words/language.ts';
import { madeUp } from '../../src/words/made-up.ts';
import { numberText, plural, spoken } from '../../src/words/numbers.ts';

const { undo, ...otherTexts } = english.screen;
const { sentences, commandLine } = madeUp('ltr');

// the build itself is the check: without this line it fails
// @ts-expect-error a language that lacks a text is none
const lacking = { ...english, sentences, commandLine, screen: otherTexts } satisfies Words;
const whole = { ...english, sentences, commandLine, screen: { ...otherTexts, undo } } satisfies Words;

test('a language that lacks a text fails the build', () => {
  expect(Object.keys(whole.screen)).toHaveLength(Object.keys(lacking.screen).length + 1);
});

/** Every text of a tree, with the way to it. */
function textsOf(tree: unknown, way = ''): [string, string][] {
  if (typeof tree === 'string') return [[way, tree]];
  if (typeof tree !== 'object' || tree === null) return [];
  return Object.entries(tree).flatMap(([name, one]) => textsOf(one, `${way}.${name}`));
}

test('the made-up language has every text of English, in brackets and two fifths longer', () => {
  const { tag: _, direction: __, measures: ___, ...texts } = english;
  const strange = new Map(textsOf(madeUp('rtl')));
  const plain = textsOf(texts).filter(([, text]) => text !== '');
  expect(plain.length).toBeGreaterThan(300);
  for (const [way, text] of plain) {
    expect(strange.get(way), way).toMatch(/^\[[\s\S]+\]$/);
    expect(strange.get(way)!.length, way).toBeGreaterThanOrEqual(1.4 * text.length);
  }
  expect(madeUp('rtl').screen.stepOf(2, 3)).toMatch(/^\[Step 2 of 3.*\]$/);
});

// source: the Unicode CLDR, as Intl has it: Polish counts one, few and many; German writes a decimal comma
test('numbers and plurals follow the tag of the language', () => {
  const forms = { one: 'one', few: 'few', other: 'many' };
  const { tag } = spoken;
  try {
    spoken.tag = 'pl';
    expect([1, 2, 5, 22].map((count) => plural(count, forms))).toEqual(['one', 'few', 'many', 'few']);
    spoken.tag = 'de';
    expect(numberText(2.5, 1)).toBe('2,5');
  } finally {
    spoken.tag = tag;
  }
  expect([1, 2, 0].map((count) => plural(count, forms))).toEqual(['one', 'many', 'many']);
  expect([numberText(2.5, 1), numberText(-0.001, 1), numberText(12345.67, 1)]).toEqual([
    '2.5',
    '0',
    '12345.7',
  ]);
});
