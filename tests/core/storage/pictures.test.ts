/** Pictures in a lesson file: apart from the lesson, and left out with a sentence where they cannot be shown. */

import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { PICTURES_LIMIT, picturesThatFit } from '../../../src/core/storage/lesson/pictures.ts';
import { checkSum } from '../../../src/core/storage/lesson/png.ts';
import { writeLesson } from '../../../src/core/storage/lesson/write.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { said } from '../../support/said.ts';
import { fixture, openText } from './help.ts';

const START = 'data:image/png;base64,';

/** A PNG picture drawn by pngjs; one of noise cannot be pressed small. */
function picture(width = 8, height = 6, noise = false): Buffer {
  const png = new PNG({ width, height });
  let state = 1;
  png.data.forEach((_, k) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    png.data[k] = noise ? state >>> 24 : (k * 7) & 255;
  });
  return PNG.sync.write(png);
}

const url = (bytes: Buffer) => START + bytes.toString('base64');

const opened = openText('a.json', new TextDecoder().decode(fixture('lessons/version-2-every-entry.json')));
const lesson = (opened as { lesson: Lesson }).lesson;
const steps = lesson.steps.length;

function openWith(pictures: unknown) {
  const text = JSON.stringify({ ...lesson, pictures });
  const again = openText('a.json', text);
  if (again.kind !== 'lesson') throw new Error(said(again.findings));
  return again;
}

/** Only the first picture is given. */
function trouble(first: unknown): string {
  const { pictures, findings, lesson: read } = openWith([first]);
  expect(pictures).toEqual([null]);
  expect(read).toEqual(lesson);
  expect(findings).toHaveLength(1);
  expect(findings[0]).toMatchObject({ code: 'picture-left-out', severity: 'note' });
  return sentenceOf(findings[0]!);
}

test('pictures come back as they were saved, and are no part of the lesson', () => {
  const own = [url(picture()), null, url(picture(9, 9)), null];
  const again = openText('a.json', writeLesson(lesson, own));
  if (again.kind !== 'lesson') throw new Error('no lesson');
  expect(again.pictures).toEqual(own);
  expect(again.lesson).toEqual(lesson);
  expect(again.lesson).not.toHaveProperty('pictures');
  expect(writeLesson(lesson, [null, null, null, null])).toBe(writeLesson(lesson));
});

describe('left out with a sentence, the lesson opens:', () => {
  const whole = picture();
  const flipped = Buffer.from(whole);
  flipped[45] = flipped[45]! ^ 1;

  test.each([
    ['a picture cut short', url(whole.subarray(0, whole.length - 20)), 'step 1 in this file is broken'],
    ['a picture with a bit turned over', url(flipped), 'is broken'],
    ['a picture with more behind it', url(Buffer.concat([whole, Buffer.from('x')])), 'is broken'],
    ['letters that are no base64', `${START}%%%`, 'is broken'],
    ['nothing', START, 'no PNG'],
    ['a picture of another kind', START + Buffer.from('GIF89a').toString('base64'), 'no PNG'],
    ['an address', 'https://example.org/a.png', 'no PNG'],
    ['a drawing that could hold a script', 'data:image/svg+xml;base64,PHN2Zy8+', 'no PNG'],
    ['a number', 7, 'no PNG'],
    ['a picture of too many pixels', url(picture(2001, 1)), '2000 pixels'],
    ['a picture that is too large', url(picture(400, 300, true)), 'larger than 500 kB'],
  ])('%s', (_what, given, said) => {
    expect(trouble(given)).toContain(said);
  });

  test('a list that is none', () => {
    const { pictures, findings } = openWith('none');
    expect(pictures).toBeUndefined();
    expect(sentenceOf(findings[0]!)).toContain('are no list');
  });

  test('pictures of steps that are not there', () => {
    const one = url(picture());
    const { pictures, findings } = openWith(Array(steps + 3).fill(one));
    expect(pictures).toEqual(Array(steps).fill(one));
    expect(findings).toEqual([]);
  });

  test('more than fits: the finished model and the first steps stay', () => {
    const large = url(picture(180, 180, true));
    expect(large.length).toBeGreaterThan(PICTURES_LIMIT / 4);
    expect(large.length).toBeLessThan(PICTURES_LIMIT / 2);
    const { pictures, findings } = openWith([large, large, large, large]);
    const fits = Math.floor(PICTURES_LIMIT / large.length);
    expect(pictures!.map((one) => one !== null)).toEqual([fits > 1, fits > 2, false, true]);
    expect(findings.map(sentenceOf)).toEqual([expect.stringContaining('more than 500 kB together')]);
  });
});

test('what is saved stays below the limit, however many steps there are', () => {
  const large = url(picture(100, 100, true));
  const fit = picturesThatFit(Array(60).fill(large));
  const letters = fit.reduce((sum, one) => sum + (one?.length ?? 0), 0);
  expect(letters).toBeLessThanOrEqual(PICTURES_LIMIT);
  expect(letters + large.length).toBeGreaterThan(PICTURES_LIMIT);
  expect(fit.at(-1)).toBe(large);
  expect(picturesThatFit([])).toEqual([]);
});

test('the check sum is that of the PNG specification: of the letters "IEND" it is ae426082', () => {
  expect(checkSum(new TextEncoder().encode('IEND')).toString(16)).toBe('ae426082');
});
