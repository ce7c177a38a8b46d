/** Pages, view ports, uses and switches. */
import { describe, expect, test } from 'vitest';
import { openText, square, svg } from './help.ts';
import { linesOf, looksOf, notesOf } from './svg-help.ts';

const stroke = (shape: string) => `<g stroke="#000" stroke-width="0.1">${shape}</g>`;

describe('the page (SVG 2, 8.6 The viewBox attribute; 8.7 preserveAspectRatio)', () => {
  const pageOf = (attributes: string) => {
    const opened = openText('x.svg', svg(square, attributes));
    if (opened.kind !== 'drawing') throw new Error('refused');
    const [, right] = opened.drawing.strokes;
    return [right!.x1, right!.y2, opened.drawing.millimetres];
  };

  // the corner to the lower right stays at y 0, for the view box begins at 0
  test.each([
    ['width="40mm" height="20mm" viewBox="0 0 10 10"', [10, 0, 2]],
    ['width="40mm" height="20mm" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMin meet"', [10, 0, 2]],
    ['width="40mm" height="20mm" viewBox="0 0 10 10" preserveAspectRatio="xMidYMid slice"', [10, 0, 4]],
    ['width="40mm" height="20mm" viewBox="0 0 10 10" preserveAspectRatio="none"', [20, 0, 2]],
    ['width="40" height="20" viewBox="0 0 10 10" preserveAspectRatio="none"', [20, 0, null]],
    ['width="40mm" viewBox="0 0 10 10" preserveAspectRatio="none"', [10, 0, 4]],
    ['style="width:40mm" viewBox="0 0 10 10"', [10, 0, 4]],
    ['width="1in" viewBox="0 0 10 10" preserveAspectRatio="rubbish"', [10, 0, 2.54]],
    ['width="2em" font-size="10mm" viewBox="0 0 10 10"', [10, 0, 2]],
  ] as const)('%s', (attributes, [x, y, millimetres]) => {
    const found = pageOf(attributes);
    expect(found[0]).toBeCloseTo(x, 12);
    expect(found[1]).toBeCloseTo(y, 12);
    if (millimetres === null) expect(found[2]).toBeNull();
    else expect(found[2]).toBeCloseTo(millimetres, 12);
  });

  test('a page that is stretched keeps its lower left corner', () => {
    const attributes = 'width="40mm" height="20mm" viewBox="2 3 10 10" preserveAspectRatio="none"';
    expect(linesOf(stroke('<path d="M2 13H12V3"/>'), attributes)).toEqual(['2 3 22 3', '22 3 22 13']);
  });
});

describe('percentages are of the nearest view port (SVG 2, 8.9)', () => {
  test.each([
    ['a line', '<line x1="10%" y1="20%" x2="50%" y2="100%"/>', ['2 8 10 0']],
    [
      'in an inner svg',
      '<svg x="10%" y="10%" width="50%" height="50%"><line y1="50%" x2="100%" y2="50%"/></svg>',
      ['2 6.5 12 6.5'],
    ],
    [
      'in a view box',
      '<svg width="10" height="5" viewBox="0 0 100 50"><line x2="100%" y2="100%"/></svg>',
      ['0 10 10 5'],
    ],
  ])('%s', (_name, shape, wanted) => {
    expect(linesOf(stroke(shape), 'viewBox="0 0 20 10"')).toEqual(wanted);
  });

  test('dashes and widths are of the diagonal over the root of two', () => {
    // 3, 4: the diagonal is 5, so 20 % are 0.2 * 5 / sqrt(2) = 0.7071
    const opened = openText(
      'x.svg',
      svg(
        '<path stroke-width="20%" stroke-dasharray="50% 20%" d="M0 0H3" stroke="#000"/>',
        'viewBox="0 0 3 4"',
      ),
    );
    if (opened.kind !== 'drawing') throw new Error('refused');
    expect(opened.groups[0]!.width).toBeCloseTo(Math.SQRT1_2, 12);
    expect(opened.groups[0]!.dash).toBe('dashed');
  });

  test('a dash list that is none is named, and the line is whole', () => {
    const inside = '<path stroke-dasharray="3 what" d="M0 0H1" stroke="#000"/>';
    expect(looksOf(inside)).toEqual(['#000000 solid']);
    expect(notesOf(inside)[0]).toContain('1 × stroke-dasharray in the drawing not followed');
  });
});

describe('use (SVG 2, 5.6)', () => {
  const symbol = '<symbol id="s" viewBox="0 0 2 2" overflow="visible"><path d="M0 0L2 1"/></symbol>';

  test.each([
    ['a symbol fills the view port where no size is given', '<use href="#s"/>', ['0 10 10 5']],
    ['its width and height', '<use href="#s" width="4" height="8"/>', ['0 8 4 6']],
    [
      'its place is that of what is used, then its transform',
      '<use href="#l" transform="scale(2)" x="1" y="2"/>',
      ['2 6 4 6'],
    ],
    ['a size counts for svg and symbol only', '<use href="#l" width="9" height="9"/>', ['0 10 1 10']],
    ['an inner svg takes its size', '<use href="#i" width="6" height="6"/>', ['1 10 7 4']],
    ['a use of a use', '<use href="#u" y="1"/>', ['3 9 4 9']],
  ])('%s', (_name, use, wanted) => {
    const definitions = `<defs><path id="l" d="M0 0H1"/><use id="u" href="#l" x="3"/><svg id="i" x="1" width="2" height="2" viewBox="0 0 2 2"><path d="M0 0L2 2"/></svg></defs>`;
    expect(linesOf(stroke(`${symbol}${definitions}${use}`))).toEqual(wanted);
  });

  test('what is used inherits from the use, and rules fit it where it stands (SVG 2, 5.6.3)', () => {
    const inside =
      '<style>defs path{stroke-dasharray:3 2} g path{stroke:red}</style><defs><path id="l" d="M0 0H9"/></defs><g><use href="#l" stroke="blue"/></g>';
    expect(looksOf(inside)).toEqual(['#0000ff dashed']);
  });

  test.each(['#nothing', '#gradient'])('%s draws nothing, which is counted', (reference) => {
    const inside = `<linearGradient id="gradient"/><use href="${reference}"/><path d="M0 0H1" stroke="#000"/>`;
    expect(notesOf(inside)).toEqual([
      '1 × use of something that is not there in the drawing left out: it is no line of the pattern.',
    ]);
  });
});

describe('switch (SVG 2, 5.8)', () => {
  const line = (y: number, attributes = '') => `<path ${attributes} d="M0 ${y}H1"/>`;
  test.each([
    ['the first of all', `${line(1)}${line(2)}`, ['0 9 1 9']],
    [
      'the first in this language',
      `${line(1, 'systemLanguage="fr, de"')}${line(2, 'systemLanguage="fr, en-GB"')}${line(3)}`,
      ['0 8 1 8'],
    ],
    ['no extension is there', `<foreignObject requiredExtensions="x"/>${line(2)}`, ['0 8 1 8']],
    ['titles are no children of it', `<title>x</title>${line(2)}${line(3)}`, ['0 8 1 8']],
  ])('%s', (_name, children, wanted) => {
    expect(linesOf(stroke(`<switch>${children}</switch>`))).toEqual(wanted);
  });
});
