/** Files from strangers: whatever stands in them, they are opened or refused with a place and a reason, in time. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../../src/core/finding/finding.ts';
import { Work } from '../../../src/core/storage/drawing/work.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { Refusal } from '../../../src/core/storage/refusal.ts';
import { readSvg } from '../../../src/core/storage/svg/read.ts';
import { processorTime } from '../../support/processor-time.ts';
import { said } from '../../support/said.ts';
import { bytesOf, fixture, openText, refusalOf, svg } from './help.ts';

const files = [
  's1.svg',
  'inkscape-layers.svg',
  'inkscape-plain.svg',
  'drawings/w-css-combined.svg',
  'drawings/s-clip.svg',
  'drawings/x-nonuniform.svg',
].map((name) => new TextDecoder().decode(fixture(name)));

/** A file in which much of the reader is asked. */
const rich = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="90mm" height="5em" viewBox="0 0 90 40" preserveAspectRatio="xMidYMid meet">
<style media="screen">.a > path:nth-child(2n+1), #b{stroke:hsl(3 4% 5%);&amp;.c{stroke-width:2%}} @media print{g{display:none}}</style>
<clipPath id="k" clipPathUnits="objectBoundingBox"><polygon points="0 0 1 0 .5 1" clip-rule="evenodd"/></clipPath>
<symbol id="s" viewBox="0 0 9 9" overflow="visible"><path d="M0 0L3 4" stroke="currentColor"/></symbol>
<g class="a" clip-path="url(#k)" transform="translate(3) rotate(4 5,6)"><path d="M1 1h8v7z" stroke="red" stroke-dasharray="3 1 2%"/><path id="b" d="M2 2L9 9" opacity="50%"/></g>
<use href="#s" x="5%" width="9" height="9" style="transform-origin:center;transform:scale(1.5)"/>
<switch><g systemLanguage="fr"><path d="M0 0H1"/></g><line x1="1" y2="10%" x2="2em" stroke="#00f8"/></switch>
<svg x="1" width="50%" height="9" viewBox="0 0 3 3"><rect width="2" height="2" stroke="rgb(1,2,3)" vector-effect="non-scaling-stroke"/></svg>
</svg>`;

const odd = [
  '',
  '-1',
  '0',
  '1e999',
  '-1e400',
  '5%',
  '1e',
  'NaN',
  'calc(1px + 2%)',
  'var(--x)',
  'inherit',
  'auto',
  'none',
  'url(#k)',
  'url(#',
  '#s',
  '#g',
  '(((',
  '}}}',
  '{',
  '/*',
  '&amp;',
  '"',
  '\\',
  'constructor',
  '__proto__',
  'matrix(1)',
  'rotate(1turn) translateX(2q)',
  'M0 0A1 1 0 0 1 3 3',
  'M0 0C',
  'Z',
  '1 2 3 4 5',
  '0 0 0 0',
  'xMinYMax slice',
  ':not(:has(> *)){}',
  '\u0000',
  '\ud800',
];
const names =
  'd x y width height viewBox transform clip-path stroke stroke-width stroke-dasharray opacity display style class id href points font-size preserveAspectRatio clipPathUnits systemLanguage transform-origin overflow rx r'.split(
    ' ',
  );

/** Changes that know what a file is made of: values, attributes, elements, whole pieces. */
const change = fc.record({
  how: fc.constantFrom('value', 'attribute', 'element', 'double', 'drop', 'nest'),
  at: fc.nat(10_000),
  name: fc.constantFrom(...names),
  value: fc.constantFrom(...odd),
  tag: fc.constantFrom(
    'g',
    'use',
    'svg',
    'symbol',
    'clipPath',
    'switch',
    'path',
    'circle',
    'style',
    'text',
    'defs',
  ),
});
type Change = typeof change extends fc.Arbitrary<infer One> ? One : never;

function changed(text: string, { how, at, name, value, tag }: Change): string {
  const signs = { value: /"[^"]*"/g, attribute: /(?<=<\w+)(?=[\s>/])/g, element: /<\/?\w+/g };
  const places = [...text.matchAll(how === 'value' || how === 'attribute' ? signs[how] : signs.element)];
  const place = places[at % Math.max(1, places.length)];
  if (!place) return text;
  const start = place.index;
  const before = text.slice(0, start);
  const after = text.slice(start + place[0].length);
  const element = /^<\w[^>]*>/.exec(text.slice(start))?.[0] ?? '';
  const quoted = value.replaceAll('"', '&quot;');
  switch (how) {
    case 'value':
      return `${before}"${quoted}"${after}`;
    case 'attribute':
      return `${before} ${name}="${quoted}"${after}`;
    case 'element':
      return `${before}${place[0].replace(/\w+$/, tag)}${after}`;
    case 'double':
      return `${before}${element}${text.slice(start)}`;
    case 'drop':
      return `${before}${text.slice(start + element.length)}`;
    case 'nest':
      return `${before}<${tag} ${name}="${quoted}">${element.endsWith('/>') ? element : ''}</${tag}>${text.slice(start)}`;
  }
}

/** Words that only the running program says; what a sentence quotes from the file stands in quotes. */
const ofTheProgram = /undefined|null|\[object|NaN|not a function|call stack|Cannot|TypeError|RangeError/;
const unquoted = (text: string) => text.replace(/"[^"]*"/g, '""');

/** Which of its kinds a finding is. */
const howOf = ({ values }: Finding) => (values as { readonly how?: string }).how;

test('changed files are opened, or refused by name: never by an error of the program (seed 2021)', () => {
  const counts = { drawing: 0, refused: 0 };
  const one = fc.record({
    file: fc.nat(files.length),
    changes: fc.array(change, { minLength: 1, maxLength: 4 }),
  });
  fc.assert(
    fc.property(one, ({ file, changes }) => {
      const text = changes.reduce(changed, files[file] ?? rich);
      const opened = openFile('x.svg', bytesOf(text));
      expect(['drawing', 'refused']).toContain(opened.kind);
      counts[opened.kind as keyof typeof counts]++;
      expect(opened.findings.map(howOf)).not.toContain('surprise');
      for (const finding of opened.findings) {
        expect(said([finding])).toMatch(/^[A-Z0-9][\s\S]*\.$/);
        expect(unquoted(said([finding]))).not.toMatch(ofTheProgram);
      }
      if (opened.kind === 'drawing')
        for (const { colour } of opened.groups) expect(colour).toMatch(/^#[0-9a-f]{6}$/);
    }),
    { seed: 2021, numRuns: 800 },
  );
  expect(counts.drawing).toBeGreaterThan(200);
  expect(counts.refused).toBeGreaterThan(100);
});

test('the rich file asks what it is meant to ask', () => {
  const { strokes, findings } = readSvg(rich);
  expect(strokes.length).toBeGreaterThan(8);
  expect(findings.map(howOf)).toEqual(['left-out', 'cut']);
});

const line = '<path d="M0 0H1" stroke="#000"/>';
const repeated = (letters: number, unit: (index: number) => string) => {
  let text = '';
  for (let i = 0; text.length < letters; i++) text += unit(i);
  return text;
};
const use = () => '<use href="#g"/>';
const bare = () => '<path d="M0 0H1"/>';

/** Two things that are multiplied with one another, each half of the file. */
const products: readonly (readonly [string, (half: number) => string])[] = [
  ['* rules, elements', (n) => `<style>${repeated(n, () => '*{stroke:red}')}</style>${repeated(n, bare)}`],
  [
    'different rules, elements',
    (n) => `<style>${repeated(n, (i) => `*:not(.a${i}){stroke:red}`)}</style>${repeated(n, bare)}`,
  ],
  [
    'rules of attributes, elements',
    (n) => `<style>${repeated(n, (i) => `[d^="${i}"]{stroke:red}`)}</style>${repeated(n, bare)}`,
  ],
  [
    'rules, classes',
    (n) =>
      `<style>${repeated(n, (i) => `.a${i}{stroke:red}`)}</style><path class="${repeated(n, (i) => `a${i} `)}" d="M0 0H1"/>`,
  ],
  [
    'places among siblings',
    (n) =>
      `<style>path:nth-child(3n+1){stroke:red}path:nth-last-of-type(2){stroke:red}</style>${repeated(2 * n, bare)}`,
  ],
  [
    'has, elements',
    (n) =>
      `<style>${repeated(n, (i) => `g:has(path ~ .x${i}){stroke:red}`)}</style><g>${repeated(n, (i) => `<g>${bare()}${i}</g>`)}</g>`,
  ],
  [
    'descendants, depth',
    (n) =>
      `<style>${repeated(n, (i) => `g .a${i} path{stroke:red}`)}</style>${'<g>'.repeat(n / 7)}${line}${'</g>'.repeat(n / 7)}`,
  ],
  [
    'doubling uses',
    (n) =>
      repeated(2 * n, (i) =>
        i === 0
          ? `<g id="g0">${line}</g>`
          : `<g id="g${i}"><use href="#g${i - 1}"/><use href="#g${i - 1}"/></g>`,
      ),
  ],
  ['uses, lines', (n) => `<g id="g">${repeated(n, bare)}</g>${repeated(n, use)}`],
  [
    'uses, a long path',
    (n) => `<path id="g" d="${repeated(n, () => 'M0 0')}" stroke="red"/>${repeated(n, use)}`,
  ],
  [
    'uses, a long transform',
    (n) =>
      `<path id="g" transform="${repeated(n, () => 'scale(1)')}" d="M0 0H1" stroke="red"/>${repeated(n, use)}`,
  ],
  [
    'a long dash list, lines',
    (n) => `<g stroke="red" stroke-dasharray="${repeated(n, () => '1 ')}">${repeated(n, bare)}</g>`,
  ],
  [
    'a long dash list, widths',
    (n) =>
      `<g stroke="red" stroke-dasharray="${repeated(n, () => '1 ')}">${repeated(n, (i) => `<path stroke-width="${i}" d="M0 0H1"/>`)}</g>`,
  ],
  [
    'clip shapes, lines',
    (n) =>
      `<clipPath id="k">${repeated(n, () => '<rect width="5" height="5"/>')}</clipPath>${repeated(n, () => '<path clip-path="url(#k)" stroke="red" d="M0 0H9"/>')}`,
  ],
  [
    'a comb to clip with, lines',
    (n) =>
      `<clipPath id="k"><polygon points="${repeated(n, (i) => `${i % 10} ${i % 2 ? 9 : 0} `)}"/></clipPath><g clip-path="url(#k)" stroke="red">${repeated(n, () => '<path d="M0 5H9"/>')}</g>`,
  ],
  [
    'boxes in boxes',
    (n) =>
      `<clipPath id="k" clipPathUnits="objectBoundingBox"><rect width="1" height="1"/></clipPath>${'<g clip-path="url(#k)">'.repeat(n / 14)}${line}${'</g>'.repeat(n / 14)}`,
  ],
];

function workOf(text: string): number {
  const work = new Work(text.length);
  try {
    readSvg(text, work);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
  }
  return work.spent;
}

describe('one budget: what is multiplied grows no faster than the 1.3th power of the file', () => {
  test.each(products)('%s', (_name, make) => {
    const [ten, twenty, forty] = [10_000, 20_000, 40_000].map((letters) =>
      workOf(svg(`${make(letters / 2)}${line}`)),
    );
    expect(ten).toBeGreaterThan(1000);
    expect(forty! / ten!).toBeLessThanOrEqual(4 ** 1.3);
    // the work of a budget of this size takes well under a second
    expect(Math.max(twenty!, forty!)).toBeLessThan(30_000_000);
  });

  test.each([
    ['svg-repeats', 'doubling uses', 'repeats its parts more than'],
    ['svg-styles', 'different rules, elements', 'style rules of the drawing are matched'],
    ['svg-shapes', 'a comb to clip with, lines', 'repeats long paths, clip paths or lists'],
  ])('what asks too much is refused by name: %s', (how, name, words) => {
    const [, make] = products.find(([one]) => one === name)!;
    const opened = openText('x.svg', svg(make(100_000)));
    expect(opened.findings.map(howOf)).toEqual([how]);
    expect(refusalOf(opened).message).toContain(words);
  });
});

/** Texts that a careless pattern would read again from each of their letters. */
const long: readonly (readonly [string, (letters: number) => string])[] = [
  ['a number', (n) => `<line x1="${'1'.repeat(n)}!" stroke="red"/>`],
  ['blanks after a number', (n) => `<line x1="1${' '.repeat(n)}!" stroke="red"/>`],
  ['a width', (n) => `<path stroke-width="${'1'.repeat(n)}x" d="M0 0H1" stroke="red"/>`],
  ['a dash', (n) => `<path stroke-dasharray="${'1'.repeat(n)}x" d="M0 0H1" stroke="red"/>`],
  ['a transform of one word', (n) => `<g transform="${'a'.repeat(n)}"/>`],
  ['brackets in a transform', (n) => `<g transform="${'a('.repeat(n / 2)}"/>`],
  ['a colour', (n) => `<path stroke="rgb(${'1'.repeat(n)}" d="M0 0H1"/>`],
  ['a reference', (n) => `<path stroke="url(#${' '.repeat(n)}" d="M0 0H1"/>`],
  ['styles without braces', (n) => `<style>${'a b '.repeat(n / 4)}</style>`],
  ['open braces', (n) => `<style>${'a{'.repeat(n / 2)}</style>`],
  ['open brackets', (n) => `<style>${'a('.repeat(n / 2)}</style>`],
  ['open comments', (n) => `<style>${'/*'.repeat(n / 2)}</style>`],
  ['a media list of blanks', (n) => `<style media="a${' '.repeat(n)}b">a{}</style>`],
  ['a style of rubbish', (n) => `<g style="${'a;'.repeat(n / 2)}"/>`],
  ['name spaces', (n) => `${'<g xmlns:a="b">'.repeat(n / 20)}${'</g>'.repeat(n / 20)}`],
];

describe('long texts are read once', () => {
  const timeOf = (text: string) => {
    const start = processorTime();
    openText('x.svg', svg(`${text}${line}`));
    return processorTime() - start;
  };

  // read again from each letter, a text of 400,000 would take minutes
  test.each(long)('%s', (_name, make) => {
    timeOf(make(1000));
    const [once, fourTimes] = [timeOf(make(100_000)), timeOf(make(400_000))];
    expect(fourTimes).toBeLessThan(10 * once + 300);
  });
});
