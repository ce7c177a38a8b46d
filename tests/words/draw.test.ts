/** What a place of the sheet is called. */
import { expect, test } from 'vitest';
import { drawWords } from '../../src/words/words.ts';

test('places and shares of an edge have the names that folders give them', () => {
  expect(drawWords.placeIs('middle-of-edge')).toBe('middle of the edge');
  expect(drawWords.placeIs({ share: [1, 3] })).toBe('a third of the edge');
  expect(drawWords.placeIs({ share: [1, 8] })).toBe('an eighth of the edge');
  expect(drawWords.placeIs({ share: [5, 12] })).toBe('5 twelfths of the edge');
  expect(drawWords.placeIs({ share: [3, 11] })).toBe('3/11 of the edge');
});
