/** A line is only what can be seen. */
import { describe, expect, test } from 'vitest';
import { said } from '../../support/said.ts';
import { fixture, openText, patternOf, refusalOf, sheetOf } from './help.ts';
import { linesOf, looksOf, notesOf } from './svg-help.ts';

const kept = '<path d="M0 0H1" stroke="#000"/>';
const line = '<path d="M0 5H9" stroke="#000"/>';

describe('what cannot be seen is no line, and is counted', () => {
  test.each([
    ['opacity 0', '<path opacity="0" d="M0 5H9" stroke="#000"/>'],
    ['opacity 0 % of a group', `<g style="opacity:0%"><g opacity="1">${line}</g></g>`],
    ['opacity below 0 is 0 (CSS Color 4, 11.1)', `<g opacity="-1">${line}</g>`],
    ['stroke-opacity 0, inherited (SVG 2, 13.5.2)', `<g stroke-opacity="0">${line}</g>`],
    ['rgba of alpha 0', '<path d="M0 5H9" stroke="rgba(9,9,9,0)"/>'],
    ['rgb of alpha 0, spaced', '<path d="M0 5H9" style="stroke:rgb(9 9 9 / 0%)"/>'],
    ['hsla of alpha 0', '<path d="M0 5H9" stroke="hsla(120, 50%, 50%, 0)"/>'],
    ['#rrggbb00', '<path d="M0 5H9" stroke="#12345600"/>'],
    ['#rgb0', '<path d="M0 5H9" stroke="#1230"/>'],
    ['transparent', '<path d="M0 5H9" stroke="transparent"/>'],
    ['currentColor that is transparent', '<path color="#0000" d="M0 5H9" stroke="currentColor"/>'],
    ['stroke-width 0 (SVG 2, 13.5.3)', '<path stroke-width="0" d="M0 5H9" stroke="#000"/>'],
    ['visibility hidden, inherited', `<g visibility="hidden">${line}</g>`],
    ['visibility collapse', `<g style="visibility:collapse">${line}</g>`],
    ['display none', `<g display="none"><g>${line}</g></g>`],
    ['a map onto a line (CSS Transforms 1, 13.1)', `<g transform="scale(1 0)">${line}</g>`],
    ['a condition that does not hold (SVG 2, 5.9)', `<g systemLanguage="fr">${line}</g>`],
    [
      'a named line whose group is transparent',
      '<g opacity="0"><path id="valley-90" d="M0 5H9" stroke="#000"/></g>',
    ],
  ])('%s', (_name, unseen) => {
    expect(linesOf(`${unseen}${kept}`)).toEqual(['0 10 1 10']);
    expect(notesOf(`${unseen}${kept}`)).toEqual([
      '1 × shape that cannot be seen in the drawing left out: it is no line of the pattern.',
    ]);
  });

  test.each([
    ['a little of it', '<g opacity="0.01"><path stroke-opacity="1%" d="M0 5H9" stroke="#0001"/></g>'],
    [
      'visible inside hidden (CSS 2, 11.2)',
      '<g visibility="hidden"><path visibility="visible" d="M0 5H9" stroke="#000"/></g>',
    ],
    [
      'display is not inherited by way of use',
      '<defs display="none"><path id="p" d="M0 5H9" stroke="#000"/></defs><use href="#p"/>',
    ],
    ['fill-opacity is not of the stroke', '<path fill-opacity="0" d="M0 5H9" stroke="#000"/>'],
    ['a name of our own form without a stroke', '<path id="valley-90" d="M0 5H9"/>'],
  ])('is seen: %s', (_name, seen) => {
    expect(linesOf(seen)).toEqual(['0 5 9 5']);
    expect(notesOf(seen)).toEqual([]);
  });

  test('an opacity that is no number is named, and the line kept', () => {
    expect(linesOf('<path opacity="much" d="M0 5H9" stroke="#000"/>')).toEqual(['0 5 9 5']);
    expect(notesOf('<path opacity="much" d="M0 5H9" stroke="#000"/>')).toEqual([
      '1 × opacity in the drawing not followed (first at line 1 (path)), and lines kept as if it were not there: apply or remove it in the drawing program if they look otherwise.',
    ]);
  });

  test.each(['mask="url(#m)"', 'filter="url(#f)"', 'style="rotate:30deg"', 'style="stroke-width:var(--w)"'])(
    '%s cannot be followed: named, and the line kept',
    (attribute) => {
      const inside = `<path ${attribute} d="M0 5H9" stroke="#000"/>`;
      expect(linesOf(inside)).toEqual(['0 5 9 5']);
      expect(notesOf(inside)).toHaveLength(1);
      expect(notesOf(inside)[0]).toContain('not followed (first at line 1 (path))');
    },
  );
});

describe('colours leave the reader as #rrggbb', () => {
  // CSS Color 4: named colours, section 6.1; rgb(), 5.1; hsl(), 7.1
  test.each([
    ['RebeccaPurple', '#663399'],
    ['#AbC', '#aabbcc'],
    ['#abcdef80', '#abcdef'],
    ['rgb(255, 0 , 10)', '#ff000a'],
    ['rgb(100%, 0%, 20%)', '#ff0033'],
    ['rgb(300 -5 0)', '#ff0000'],
    ['hsl(120, 100%, 25%)', '#008000'],
    ['hsl(120deg 100% 25% / .5)', '#008000'],
    ['currentColor', '#00ff00'],
  ])('%s', (colour, wanted) => {
    expect(looksOf(`<g color="lime"><path d="M0 0H1" stroke="${colour}"/></g>`)).toEqual([`${wanted} solid`]);
  });

  test.each([
    'url(http://elsewhere.invalid/x.png)',
    'url(#gradient)',
    'url("//elsewhere.invalid/a.svg#b")',
    'javascript:alert(1)',
    'lime; background: url(x)',
    'constructor',
    'var(--ink)',
    `#${'0'.repeat(5000)}`,
  ])('%s becomes black, and one note counts it', (paint) => {
    const inside = `<linearGradient id="gradient"/><g stroke='${paint}'><path d="M0 0H1"/><path d="M0 1H1"/></g>`;
    expect(looksOf(inside)).toEqual(['#000000 solid']);
    expect(notesOf(inside)).toEqual([
      '2 lines taken as black (first at line 1 (path)), as no plain colour is given: a colour that is fetched from elsewhere is not fetched.',
    ]);
  });

  test('what stands behind a reference that leads nowhere counts (SVG 2, 13.2)', () => {
    expect(looksOf('<path d="M0 0H1" stroke="url(#nothing) #0000ff"/>')).toEqual(['#0000ff solid']);
    expect(linesOf(`<path d="M0 5H9" stroke="url(#nothing) none"/>${kept}`)).toEqual(['0 10 1 10']);
  });

  test('nothing of the trial file is handed on as it is; its names are plain text', () => {
    const text = new TextDecoder().decode(fixture('drawings/outside-colour.svg'));
    const opened = openText('x.svg', text);
    if (opened.kind !== 'drawing') throw new Error('refused');
    const colours = opened.groups.map(({ colour }) => colour);
    expect(new Set(colours)).toEqual(new Set(['#000000', '#ff0000', '#0000ff']));
    expect(JSON.stringify(opened.drawing)).not.toContain('invalid');
    expect(opened.groups.at(-1)!.layer).toBe('<img src=x onerror=alert(1)>');
    expect(opened.findings.map(({ values }) => values)).toContainEqual({
      how: 'colours',
      count: 2,
      first: { how: 'line', line: 1, element: 'rect' },
    });
  });
});

describe('name spaces (Namespaces in XML 1.0, 6)', () => {
  const prefixed = (prefix: string) =>
    `<${prefix}:svg xmlns:${prefix}="http://www.w3.org/2000/svg" xmlns:l="http://www.w3.org/1999/xlink" xmlns:i="http://www.inkscape.org/namespaces/inkscape" viewBox="0 0 10 10">
      <${prefix}:defs><${prefix}:path id="p" d="M0 0H1"/></${prefix}:defs><${prefix}:g i:label="valley 90"><${prefix}:use l:href="#p" stroke="red"/></${prefix}:g><path d="M0 5H9" stroke="red"/></${prefix}:svg>`;

  test('any prefix is read; what has none is then of no vocabulary, and counted', () => {
    const opened = openText('x.svg', prefixed('ns0'));
    if (opened.kind !== 'drawing') throw new Error('refused');
    expect(opened.groups.map(({ named, count }) => [named, count])).toEqual([
      [{ kind: 'valley', angle: 90 }, 1],
    ]);
    expect(opened.findings.map(({ values }) => values)).toContainEqual({
      how: 'left-out',
      what: { how: 'foreign' },
      count: 1,
    });
  });

  test('elements of another vocabulary are counted, with all that is in them', () => {
    const inside = `<o:g xmlns:o="http://example.invalid/"><path d="M0 5H9" stroke="red"/></o:g><g xmlns="http://example.invalid/"/>${kept}`;
    expect(linesOf(inside)).toEqual(['0 10 1 10']);
    expect(notesOf(inside)).toEqual([
      '2 × element of another name space than SVG in the drawing left out: it is no line of the pattern.',
    ]);
  });

  test('a prefix holds as far as the element that declares it', () => {
    const inside = `<a:g xmlns:a="http://www.w3.org/2000/svg"><a:path d="M0 5H9" stroke="red"/></a:g><a:path d="M0 6H9" stroke="red"/>`;
    expect(linesOf(inside)).toEqual(['0 5 9 5']);
  });

  test('an svg of another vocabulary is refused by name', () => {
    const { message } = refusalOf(openText('x.svg', '<svg xmlns="http://example.invalid/"/>'));
    expect(message).toContain('another name space');
  });
});

describe('trial files: one pattern on a square of 100 mm, 4 creases, 4 panels', () => {
  // worked out by hand: half-lines from the middle to the right, to (78.8675, 0), to (78.8675, 100) and to the left
  const opened = (name: string) =>
    openText('x.svg', new TextDecoder().decode(fixture(`drawings/${name}.svg`)));
  const plain = patternOf(sheetOf(opened('u-ns0-prefix')));
  const folds = (pattern: readonly string[]) => pattern.filter((crease) => !crease.includes(' edge '));

  test('the pattern itself', () => {
    expect(folds(plain)).toEqual([
      '0.000000,0.500000 0.500000,0.500000 mountain -180.000000',
      '0.500000,0.500000 0.788675,0.000000 valley 180.000000',
      '0.500000,0.500000 0.788675,1.000000 valley 180.000000',
      '0.500000,0.500000 1.000000,0.500000 valley 180.000000',
    ]);
  });

  test.each(['w-css-combined', 'q-opacity-0', 's-clip'])('%s', (name) => {
    const drawing = opened(name);
    expect(patternOf(sheetOf(drawing))).toEqual(plain);
    expect(drawing.kind === 'drawing' && drawing.drawing.millimetres).toBe(1);
    expect(sheetOf(drawing).panelRings).toHaveLength(4);
  });

  test('x-nonuniform is 200 mm by 100 mm', () => {
    const drawing = opened('x-nonuniform');
    expect(drawing.kind === 'drawing' && drawing.drawing.millimetres).toBe(1);
    expect(folds(patternOf(sheetOf(drawing)))).toEqual([
      '0.000000,0.250000 0.500000,0.250000 mountain -180.000000',
      '0.500000,0.250000 0.788675,0.000000 valley 180.000000',
      '0.500000,0.250000 0.788675,0.500000 valley 180.000000',
      '0.500000,0.250000 1.000000,0.250000 valley 180.000000',
    ]);
  });

  test.each([
    ['q-opacity-0', 'cannot be seen'],
    ['s-clip', 'is cut or left out where a clip path'],
  ])('%s says what is left out', (name, words) => {
    const notes = opened(name).findings.filter(({ code }) => code === 'line-ignored');
    expect(notes.map((note) => said([note]))).toEqual([expect.stringContaining(words)]);
  });
});
