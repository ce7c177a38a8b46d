import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { applyMapping } from '../../../src/core/storage/drawing/mapping.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { processorTime } from '../../support/processor-time.ts';
import { bytesOf, dxf, openText, refusalOf, square, svg } from './help.ts';

// Every sentence says what, where it can, and what to do: it holds the words given here and ends as a sentence.
const goodFold = {
  vertices_coords: [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ],
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
    [0, 2],
  ],
  edges_assignment: ['B', 'B', 'B', 'B', 'V'],
  edges_foldAngle: [0, 0, 0, 0, 90],
};
const fold = (changes: object) => JSON.stringify({ ...goodFold, ...changes });
const lines = (count: number) =>
  Array.from({ length: count }, (_, i) => `<path d="M0 ${i}H9" stroke="#000"/>`);
const bomb = `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>`;
const million = 1_000_000;

const cases: readonly (readonly [
  name: string,
  file: string,
  content: () => Uint8Array,
  words: readonly string[],
])[] = [
  ['an empty file', 'a.svg', () => new Uint8Array(0), ['empty']],
  ['only blanks', 'a.fold', () => bytesOf(' \n\t '), ['empty']],
  [
    'a picture',
    'a.svg',
    () =>
      bytesOf('\x89PNG\r\n')
        .map((b, i) => (i === 0 ? 0x89 : b))
        .subarray(0),
    ['file'],
  ],
  ['a PDF', 'a.svg', () => bytesOf('%PDF-1.7\n'), ['PDF', 'SVG']],
  ['zero bytes among text', 'a.dxf', () => Uint8Array.of(1, 2, 3, 0, 9, 9, 0, 0), ['binary']],
  ['prose', 'a.dxf', () => bytesOf('Dear all,\nplease fold along the lines.'), ['"a.dxf"', 'none of SVG']],
  ['a web page', 'a.svg', () => bytesOf('<html><body/></html>'), ['<html>', '<svg>']],
  ['XML cut short', 'a.svg', () => bytesOf('<svg>\n<g>\n<path d="M0'), ['line 3']],
  ['XML with a wrong end', 'a.svg', () => bytesOf('<svg><g></svg>'), ['line 1']],
  ['JSON with a comma too many', 'a.fold', () => bytesOf('{\n "a": 1,\n}'), ['line 3', 'column 1']],
  ['JSON cut short', 'a.json', () => bytesOf('{"a": [1, 2'), ['line 1']],
  ['JSON of another kind', 'a.json', () => bytesOf('{"name": "x"}'), ['neither', 'lesson']],
  ['a JSON list', 'a.json', () => bytesOf('[1, 2]'), ['neither']],
  ['NaN in JSON', 'a.fold', () => bytesOf('{"vertices_coords": [[NaN, 0]]}'), ['line 1']],
  [
    '1e308 in FOLD',
    'a.fold',
    () =>
      bytesOf(
        fold({
          vertices_coords: [
            [0, 0],
            [1e308, 0],
            [1, 1],
            [0, 1],
          ],
        }),
      ),
    ['entry 1', '1e+308'],
  ],
  ['1e999 in FOLD', 'a.fold', () => bytesOf(fold({}).replace('[1,1]', '[1e999,1]')), ['entry 2', 'Infinity']],
  [
    'text for a coordinate in FOLD',
    'a.fold',
    () =>
      bytesOf(
        fold({
          vertices_coords: [
            ['x', 0],
            [1, 0],
            [1, 1],
            [0, 1],
          ],
        }),
      ),
    ['entry 0', 'not a number'],
  ],
  [
    'too few assignments',
    'a.fold',
    () => bytesOf(fold({ edges_assignment: ['B'] })),
    ['edges_assignment', '1 entries', '5 edges'],
  ],
  [
    'too many fold angles',
    'a.fold',
    () => bytesOf(fold({ edges_foldAngle: [0, 0, 0, 0, 0, 0] })),
    ['edges_foldAngle', '6 entries', '5 edges'],
  ],
  [
    'an unknown assignment',
    'a.fold',
    () => bytesOf(fold({ edges_assignment: ['B', 'B', 'B', 'B', 'X'] })),
    ['entry 4', '"X"'],
  ],
  [
    'a fold angle beyond a half turn',
    'a.fold',
    () => bytesOf(fold({ edges_foldAngle: [0, 0, 0, 0, 270] })),
    ['entry 4', '270'],
  ],
  [
    'an edge to a vertex that is not there',
    'a.fold',
    () => bytesOf(fold({ edges_vertices: [[0, 9]] })),
    ['entry 0', '"9"', '0 to 3'],
  ],
  [
    'a face of a vertex that is not there',
    'a.fold',
    () => bytesOf(fold({ faces_vertices: [[0, 1, -2]] })),
    ['faces_vertices', '"-2"'],
  ],
  [
    'FOLD without edges',
    'a.fold',
    () => bytesOf(JSON.stringify({ vertices_coords: [[0, 0]] })),
    ['edges_vertices'],
  ],
  [
    'FOLD of a folded shape only',
    'a.fold',
    () =>
      bytesOf(
        fold({
          vertices_coords: [
            [0, 0, 0],
            [1, 0, 0],
            [1, 1, 1],
            [0, 1, 0],
          ],
        }),
      ),
    ['no flat pattern'],
  ],
  [
    'FOLD frames that inherit in a ring',
    'a.fold',
    () => bytesOf('{"file_spec": 1, "file_frames": [{"frame_inherit": true, "frame_parent": 1}]}'),
    ['itself'],
  ],
  [
    '1e308 in SVG',
    'a.svg',
    () => bytesOf(svg('<path d="M0 0L1e308 5" stroke="#000"/>')),
    ['line 1', 'larger'],
  ],
  ['NaN in SVG', 'a.svg', () => bytesOf(svg('<line id="odd" x1="NaN" stroke="#000"/>')), ['"odd"', 'NaN']],
  ['a path of nonsense', 'a.svg', () => bytesOf(svg('<path id="odd" d="hello" stroke="#000"/>')), ['"odd"']],
  [
    'a percentage of a page without a size',
    'a.svg',
    () => bytesOf(svg('<line id="odd" x1="5%" stroke="#000"/>', '')),
    ['"odd"', '5%'],
  ],
  ['an SVG without lines', 'a.svg', () => bytesOf(svg('<text>hi</text>')), ['No line']],
  ['an entity bomb', 'a.svg', () => bytesOf(bomb), ['entity "b"']],
  [
    'an entity that opens a file',
    'a.svg',
    () => bytesOf('<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg>&x;</svg>'),
    ['entity "x"', 'never opened'],
  ],
  ['uses within uses, doubling', 'a.svg', () => bytesOf(svg(doublingUses(40))), ['times']],
  ['a use of itself', 'a.svg', () => bytesOf(svg('<g id="g"><use href="#g"/></g>')), ['repeats']],
  [
    'a million lines in SVG',
    'a.svg',
    () => bytesOf(svg(lines(million / 4).join('') + lines(million / 4).join(''))),
    ['200000'],
  ],
  [
    'a million lines in one path',
    'a.svg',
    () => bytesOf(svg(`<path d="M0 0${'l1 1'.repeat(million)}" stroke="#000"/>`)),
    ['200000'],
  ],
  [
    'a million lines in DXF',
    'a.dxf',
    () =>
      bytesOf(
        dxf([]).replace('ENTITIES\n', `ENTITIES\n${'0\nLINE\n10\n1\n20\n1\n11\n2\n21\n3\n'.repeat(million)}`),
      ),
    ['at most 32 MB|200000'],
  ],
  [
    'a million edges in FOLD',
    'a.fold',
    () => bytesOf(`{"vertices_coords":[[0,0],[1,0]],"edges_vertices":[${'[0,1],'.repeat(million)}[0,1]]}`),
    ['1000001 edges', '200000'],
  ],
  [
    'a file beyond the size limit',
    'a.svg',
    () => new Uint8Array(40 * 1024 * 1024).fill(32),
    ['40 MB', '32 MB'],
  ],
  [
    'a DXF with a broken line',
    'a.dxf',
    () => bytesOf('0\nSECTION\n2\nENTITIES\nfold here\nLINE\n'),
    ['line 5', 'fold here'],
  ],
  [
    'a lesson of a later version',
    'a.json',
    () => bytesOf('{"format": "creaseway-lesson", "version": 99}'),
    ['version 99'],
  ],
];

function doublingUses(depth: number): string {
  const levels = Array.from(
    { length: depth },
    (_, i) => `<g id="g${i + 1}"><use href="#g${i}"/><use href="#g${i}"/></g>`,
  );
  return `<defs><g id="g0"/>${levels.join('')}</defs><use href="#g${25}"/>`;
}

describe('each bad file is answered with one sentence within two seconds', () => {
  test.each(cases)('%s', (_name, file, content, words) => {
    const bytes = content();
    const start = processorTime();
    const { message } = refusalOf(openFile(file, bytes));
    const took = processorTime() - start;
    for (const word of words) expect(message).toMatch(new RegExp(word.split('|').map(asPattern).join('|')));
    expect(message).toMatch(/^[A-Z].{20,300}\.$/s);
    expect(took).toBeLessThan(2000);
  });
});

function asPattern(word: string): string {
  return word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}

describe('deep nesting does not overflow the stack', () => {
  const deep = 100_000;

  test('SVG groups 100,000 deep are read', () => {
    const opened = openText('a.svg', svg(`${'<g>'.repeat(deep)}${square}${'</g>'.repeat(deep)}`));
    expect(opened.kind).toBe('drawing');
  });

  test('JSON lists 100,000 deep are refused', () => {
    const nest = `${'['.repeat(deep)}${']'.repeat(deep)}`;
    expect(refusalOf(openText('a.json', nest)).message).toContain('neither');
    expect(
      refusalOf(openText('a.fold', `{"vertices_coords": ${nest}, "edges_vertices": [[0, 0]]}`)).message,
    ).toContain('entry 0');
    expect(
      refusalOf(openText('a.json', `{"format": "creaseway-lesson", "version": 1, "title": ${nest}}`)).message,
    ).toContain('title');
  });
});

describe('harmless oddities are read', () => {
  const codesOf = (bytes: Uint8Array) => {
    const opened = openFile('a', bytes);
    return [opened.kind, ...opened.findings.map(({ code }) => code)];
  };

  test('byte order marks and UTF-16, both ways round', () => {
    const text = svg(square);
    const wide = (little: boolean, mark: boolean) => {
      const all = mark ? `\ufeff${text}` : text;
      const view = new DataView(new ArrayBuffer(all.length * 2));
      for (let i = 0; i < all.length; i++) view.setUint16(2 * i, all.charCodeAt(i), little);
      return new Uint8Array(view.buffer);
    };
    for (const bytes of [bytesOf(`\ufeff${text}`), wide(true, true), wide(false, true), wide(true, false)]) {
      expect(codesOf(bytes)).toEqual(['drawing']);
    }
    expect(codesOf(bytesOf(`\ufeff${fold({})}`))).toEqual(['sheet']);
  });

  test('plain entities that drawing programs declare', () => {
    const head =
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://example.invalid/svg.dtd" [<!ENTITY ns "http://example.invalid/ns">]>';
    expect(
      codesOf(bytesOf(`<?xml version="1.0"?>${head}<svg xmlns:i="&ns;" viewBox="0 0 10 10">${square}</svg>`)),
    ).toEqual(['drawing']);
  });

  test('scripts, event handlers and outside references are passed over and leave no trace', () => {
    const trap = globalThis as { sprung?: boolean };
    const traps = `<script>globalThis.sprung = true</script><g onload="globalThis.sprung = true">${square}</g><use href="http://example.invalid/a.svg#b"/><image href="http://example.invalid/x"/><style>@import "http://example.invalid/y.css";</style>`;
    const opened = openText('a.svg', svg(traps));
    expect(trap.sprung).toBeUndefined();
    expect(opened.kind === 'drawing' && opened.drawing.strokes.length).toBe(5);
    expect(opened.findings.every(({ code }) => code === 'line-ignored')).toBe(true);
  });

  test('zero-length and repeated lines come through as findings of the sheet', () => {
    const odd = '<path class="valley-90" d="M5 0V10M5 2V8M3 3L3 3" stroke="#000"/>';
    const opened = openText('a.svg', svg(`<rect class="edge" width="10" height="10"/>${odd}`));
    if (opened.kind !== 'drawing') throw new Error('refused');
    const { sheet, findings } = buildSheet(applyMapping(opened.drawing, opened.guess));
    expect(sheet?.panelRings.length).toBe(2);
    expect(findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['crease-overlap', 'crease-too-short']),
    );
  });
});
