/**
 * PDF files of six general programs (tests/fixtures/print-pdf.mts): the same lines as were drawn, at true scale, and their
 * dashes. The programs write by ISO 32000 and share no code with the reader.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openAnyFile } from '../../../src/core/storage/open-any.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { type PrintedLine, printedLines } from '../../support/printed.ts';

const folder = new URL('../../fixtures/pdf/', import.meta.url);
const bytesOf = (name: string) => new Uint8Array(readFileSync(new URL(name, folder)));
const names = readdirSync(folder).filter((name) => /-\d+\.pdf$/.test(name));

/** Millimetres that an end may be off; the office program rounds each corner to hundredths, the one that all are moved by too. */
const exactOf = (name: string) => (name.startsWith('office') ? 0.02 : 0.01);

/** The strokes of a page, moved so that the lowest and leftmost end lies where that of the drawing does. */
async function strokesOf(name: string, wanted: readonly PrintedLine[], page?: number) {
  const opened = await openAnyFile(name, bytesOf(name), { region: 'all', page });
  if (opened.kind !== 'drawing') throw new Error(`${name} was answered ${opened.kind}`);
  const { strokes, groupOf, groups, millimetres } = opened.drawing;
  expect(millimetres).toBe(1);
  const ends = strokes.map(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2]);
  const least = (lists: readonly (readonly number[])[], axis: number) =>
    Math.min(...lists.flatMap((list) => [list[axis]!, list[axis + 2]!]));
  const shift = [0, 1].map(
    (axis) =>
      least(
        wanted.map((line) => line.ends),
        axis,
      ) - least(ends, axis),
  );
  return ends.map((four, k) => ({
    ends: four.map((value, axis) => value + shift[axis % 2]!),
    dash: groups[groupOf[k]!]!.dash,
  }));
}

const apart = (a: readonly number[], b: readonly number[]) => {
  const worst = (order: readonly number[]) => Math.max(...order.map((k, axis) => Math.abs(a[k]! - b[axis]!)));
  return Math.min(worst([0, 1, 2, 3]), worst([2, 3, 0, 1]));
};

describe('every line comes back with both ends and its dashes', () => {
  test.each([
    ...names.map((name) => [name, Number(/-(\d+)\.pdf$/.exec(name)![1]), undefined] as const),
    ...Array.from({ length: 20 }, (_, k) => ['chromium-many.pdf', 21 + k, 1 + k] as const),
  ])('%s, pattern %i', async (name, seed, page) => {
    const { lines } = printedLines(seed);
    const found = await strokesOf(name, lines, page);
    const off = lines.flatMap((line) => {
      const nearest = found.reduce((best, one) =>
        apart(one.ends, line.ends) < apart(best.ends, line.ends) ? one : best,
      );
      const distance = apart(nearest.ends, line.ends);
      return distance <= exactOf(name) && nearest.dash === line.dash
        ? []
        : [{ ...line, distance, is: nearest.dash }];
    });
    expect(off).toEqual([]);
    expect(found).toHaveLength(lines.length);
  });
});

test('of a file with lines on two of its pages one is asked for, and can be said', async () => {
  const name = 'chromium-pages.pdf';
  const opened = await openAnyFile(name, bytesOf(name));
  expect(opened.kind === 'pages' && opened.pages.map(({ page }) => page)).toEqual([1, 3]);
  const { lines } = printedLines(2);
  expect(await strokesOf(name, lines, 3)).toHaveLength(lines.length);
  const refused = await openAnyFile(name, bytesOf(name), { page: 2 });
  expect(refused.kind === 'refused' && sentenceOf(refused.findings[0]!)).toBe(
    'There are no lines on page 2: this file has them on pages 1, 3.',
  );
});

test.each([
  ['breaks off', (bytes: Uint8Array) => bytes.slice(0, 300)],
  ['holds nothing but its mark', () => new TextEncoder().encode('%PDF-1.7\n')],
])('a file that %s is refused in one sentence', async (_, damage) => {
  const opened = await openAnyFile('x.pdf', damage(bytesOf('chromium-1.pdf')));
  expect(opened.kind === 'refused' && sentenceOf(opened.findings[0]!)).toBe(
    'The PDF file is broken or breaks off: save it again from its program.',
  );
});
