/**
 * Sixty-three drawings by nine general programs and libraries (tests/fixtures/draw-many.mts), in three sizes, turned, mirrored, most with
 * a frame, a title block, a legend, labels and dimension lines: every line of the pattern comes back with its dashes, and none
 * of what stands round it does.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openAnyFile } from '../../../src/core/storage/open-any.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { cluttered } from '../../support/cluttered.ts';

const folder = new URL('../../fixtures/many/', import.meta.url);
const names = readdirSync(folder).filter((name) => /-\d+\.\w+$/.test(name));

/** How far an end may be off, in the sheet's longer side: gnuplot draws whole pixels, the office program hundredths of mm. */
const exactOf = (name: string) =>
  name.startsWith('gnuplot') ? 2e-3 : name.startsWith('office') ? 2e-4 : 2e-5;

type Four = readonly number[];

/** Ends in the longer side of the sheet, from its lower left corner. */
function inSheet(lines: readonly Four[]): Four[] {
  const least = [0, 1].map((axis) => Math.min(...lines.flatMap((ends) => [ends[axis]!, ends[axis + 2]!])));
  const most = [0, 1].map((axis) => Math.max(...lines.flatMap((ends) => [ends[axis]!, ends[axis + 2]!])));
  const size = Math.max(most[0]! - least[0]!, most[1]! - least[1]!);
  return lines.map((ends) => ends.map((value, k) => (value - least[k % 2]!) / size));
}

const apart = (a: Four, b: Four) => {
  const worst = (order: Four) => Math.max(...order.map((k, axis) => Math.abs(a[k]! - b[axis]!)));
  return Math.min(worst([0, 1, 2, 3]), worst([2, 3, 0, 1]));
};

test('there are sixty of them at least, by six programs at least', () => {
  expect(names.length).toBeGreaterThanOrEqual(60);
  expect(new Set(names.map((name) => name.replace(/-\d+\.\w+$/, ''))).size).toBeGreaterThanOrEqual(6);
});

test.each(names)('%s', async (name) => {
  const { pattern } = cluttered(Number(/-(\d+)\./.exec(name)![1]));
  const opened = await openAnyFile(name, new Uint8Array(readFileSync(new URL(name, folder))));
  if (opened.kind === 'refused') throw new Error(sentenceOf(opened.findings[0]!));
  if (opened.kind !== 'drawing') throw new Error(`it was answered ${opened.kind}`);
  const { strokes, groupOf, groups } = opened.drawing;
  const found = inSheet(strokes.map(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2]));
  const wanted = inSheet(pattern.map(({ ends }) => ends));
  // the office program writes no dashes into an SVG: what it drew is solid
  const dashOf = ({ dash }: { dash: string }) => (name.startsWith('office') ? 'solid' : dash);
  const off = wanted.flatMap((ends, k) => {
    const distances = found.map((one) => apart(one, ends));
    const nearest = distances.indexOf(Math.min(...distances));
    const dash = groups[groupOf[nearest]!]!.dash;
    return distances[nearest]! <= exactOf(name) && dash === dashOf(pattern[k]!)
      ? []
      : [`${pattern[k]!.dash} ${dash} ${distances[nearest]!.toExponential(1)}`];
  });
  expect({ off, strokes: found.length }).toEqual({ off: [], strokes: wanted.length });
});
