import { describe, expect, test } from 'vitest';
import { dashStyleOf, dashStyleOfLineType } from '../../../src/core/storage/drawing/dash.ts';
import { kindSaidBy, lineOfName, nameOfLine } from '../../../src/core/storage/drawing/line-name.ts';
import { applyMapping, completeMapping } from '../../../src/core/storage/drawing/mapping.ts';
import type { Refusal } from '../../../src/core/storage/refusal.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { said } from '../../support/said.ts';
import { openText, svg } from './help.ts';

describe('dash styles', () => {
  test.each([
    [[], 1, 'solid'],
    [[5, 0], 1, 'solid'],
    [[4, 2], 1, 'dashed'],
    [[3], 0.5, 'dashed'],
    [[1, 2], 1, 'dotted'],
    [[0, 2], 1, 'dotted'],
    [[8, 2, 1, 2], 1, 'dash-dot'],
    [[8, 2, 2, 2, 2, 2], 1, 'dash-dot-dot'],
    [[8, 2, 0, 2, 0, 2], 1, 'dash-dot-dot'],
  ] as const)('%j at width %d is %s', (pattern, width, style) => {
    expect(dashStyleOf(pattern, width)).toBe(style);
  });

  // Names in general use among drafting programs; from memory.
  test.each([
    ['CONTINUOUS', 'solid'],
    ['DASHED2', 'dashed'],
    ['HIDDEN', 'dashed'],
    ['DASHDOT', 'dash-dot'],
    ['CENTERX2', 'dash-dot'],
    ['PHANTOM', 'dash-dot-dot'],
    ['DIVIDE', 'dash-dot-dot'],
    ['DOT', 'dotted'],
    ['ACAD_ISO02W100', 'dashed'],
    ['ACAD_ISO05W100', 'dash-dot-dot'],
  ])('line type %s is %s', (name, style) => {
    expect(dashStyleOfLineType(name, [])).toBe(style);
  });
});

describe('names', () => {
  test.each([
    ['mountain', null, -180],
    ['valley', null, 74.4577],
  ])('%s written with an angle reads back', (kind, _none, angle) => {
    expect(lineOfName(nameOfLine(kind as 'mountain', angle))).toEqual({ kind, angle });
  });

  test('other names are not ours, but words in them are hints', () => {
    expect(lineOfName('valley fold')).toBeNull();
    expect(lineOfName('valley-')).toBeNull();
    expect(kindSaidBy('Valley_folds (dark)')).toBe('valley');
    expect(kindSaidBy('sheet outline')).toBe('edge');
    expect(kindSaidBy('shortcuts')).toBeNull();
  });
});

describe('the guess', () => {
  const rim = '<rect width="10" height="10" stroke="#f00" stroke-width="1"/>';
  const guessOf = (inside: string) => {
    const opened = openText('x.svg', svg(rim + inside));
    if (opened.kind !== 'drawing') throw new Error(said(opened.findings));
    return opened;
  };
  const kindsOf = (inside: string) => {
    const { groups, guess } = guessOf(inside);
    return groups.map((group) => guess[group.key]?.kind);
  };
  const path = (attributes: string, d = 'M2 0V10') => `<path d="${d}" ${attributes}/>`;

  test('dash style comes before colour: the same red is a mountain dash-dot and a valley dashed', () => {
    const drawn =
      path('stroke="#f00" stroke-dasharray="8 2 1 2"') +
      path('stroke="#f00" stroke-dasharray="4 2"', 'M3 0V10');
    expect(kindsOf(drawn)).toEqual(['edge', 'mountain', 'valley']);
  });

  test('colour alone tells no kind', () => {
    expect(kindsOf(path('stroke="#f00"') + path('stroke="#00f"', 'M3 0V10'))).toEqual([
      'edge',
      'unassigned',
      'unassigned',
    ]);
  });

  test('words in a layer name come before the dash style', () => {
    const drawn = `<g inkscape:label="All mountain folds">${path('stroke="#f00" stroke-dasharray="4 2"')}</g>`;
    expect(kindsOf(drawn)).toEqual(['edge', 'mountain']);
  });

  test('dotted lines are left out; thin solid lines among dashed ones are marks', () => {
    const drawn =
      path('stroke="#000" stroke-width="1" stroke-dasharray="1 2"') +
      path('stroke="#000"', 'M3 0V10') +
      path('stroke="#000" stroke-dasharray="4 2"', 'M4 0V10');
    expect(kindsOf(drawn)).toEqual(['edge', 'ignore', 'flat', 'valley']);
  });

  test('one note per guessed group, with its count', () => {
    const { findings } = guessOf(path('stroke="#f00" stroke-dasharray="4 2"', 'M2 0V10M3 0V10'));
    const notes = findings.filter(({ code }) => code === 'line-kind-guessed');
    expect(notes.map(({ value }) => value)).toEqual([4, 2]);
    expect(sentenceOf(notes[1]!)).toContain('drawn dashed');
  });

  test('a mapping by whole key or by some of its terms; angles in degrees', () => {
    const { drawing, groups, guess } = guessOf(path('stroke="#0f0"') + path('stroke="#00f"', 'M3 0V10'));
    const mapping = completeMapping(
      drawing,
      { 'colour=#00ff00': { kind: 'valley', angle: 45 }, [groups[2]!.key]: 'ignore' },
      guess,
    );
    expect(groups.map(({ key }) => mapping[key])).toEqual([
      { kind: 'edge' },
      { kind: 'valley', angle: 45 },
      { kind: 'ignore' },
    ]);
    const segments = applyMapping(drawing, mapping);
    expect(segments.map(({ kind }) => kind)).toEqual(['edge', 'edge', 'edge', 'edge', 'valley']);
    expect(segments[4]?.angle).toBeCloseTo(Math.PI / 4, 15);
  });

  test.each([
    [[1], 'JSON object'],
    [{ 'dash=dashed': { kind: 'fold' } }, 'dash=dashed'],
    [{ 'dash=dashed': { kind: 'valley', angle: 400 } }, '-180 to 180'],
  ])('a mapping that means nothing is refused: %j', (given, words) => {
    const { drawing, guess } = guessOf('');
    const refused = () => {
      try {
        return completeMapping(drawing, given, guess);
      } catch (error) {
        return sentenceOf((error as Refusal).finding);
      }
    };
    expect(refused()).toContain(words);
  });
});
