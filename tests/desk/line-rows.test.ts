/** The looks of a drawing gathered for the question what they mean. */
import { expect, test } from 'vitest';
import type { StrokeGroup } from '../../src/core/storage/drawing/mapping.ts';
import {
  firstGathering,
  type Gathering,
  lineRows,
  meaningOfRow,
  usefulGatherings,
} from '../../src/desk/document/line-rows.ts';

function look(dash: StrokeGroup['dash'], colour: string, layer: string, count: number): StrokeGroup {
  const place = dash === 'solid' ? 'rim' : 'inside';
  const key = `${dash} ${colour} ${layer} ${place}`;
  return { dash, colour, layer, count, place, key, width: 1, sample: [] };
}

const groups = [
  look('solid', '#000000', 'sheet', 4),
  look('dashed', '#000000', 'base', 3),
  look('dashed', '#aa0000', 'base', 7),
  look('dash-dot', '#aa0000', 'top', 2),
];

test.each<[Gathering, readonly (readonly number[])[]]>([
  ['look', [[2], [0], [1], [3]]],
  ['dash', [[1, 2], [0], [3]]],
  ['colour', [[2, 3], [0], [1]]],
  ['layer', [[1, 2], [0], [3]]],
])('by %s: the row of most lines first, what lies on the rim apart', (by, rows) => {
  expect(lineRows(groups, by).map((row) => row.groups)).toEqual(rows);
});

test('a row tells what all its looks share, and what they stand for where they agree', () => {
  const [dashed] = lineRows(groups, 'dash');
  expect(dashed).toMatchObject({ dash: 'dashed', colour: null, layer: 'base', count: 10, onRim: false });
  const valley = { kind: 'valley' } as const;
  expect(meaningOfRow(dashed!, groups, { [groups[1]!.key]: valley, [groups[2]!.key]: valley })).toBe(
    'valley',
  );
  expect(meaningOfRow(dashed!, groups, { [groups[1]!.key]: valley })).toBeNull();
});

test('only ways that tell lines apart and ask less are offered', () => {
  expect(usefulGatherings(groups)).toEqual(['look', 'dash', 'colour', 'layer']);
  const plain = groups.map((one) => ({ ...one, layer: '', colour: '#000000' }));
  expect(usefulGatherings(plain.filter((_, k) => k !== 2))).toEqual(['look']);
});

test('many looks begin with the way of fewest rows', () => {
  expect(firstGathering(groups)).toBe('look');
  const many = Array.from({ length: 40 }, (_, k) => look('dashed', `#0000${k + 10}`, `layer ${k % 8}`, 1));
  expect(firstGathering([...many, look('dash-dot', '#000000', 'top', 1)])).toBe('dash');
});
