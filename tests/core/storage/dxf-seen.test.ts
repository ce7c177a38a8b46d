/** What of a DXF drawing is seen, what is counted and left out, and at which height it lies. */
import DxfParser from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { KIND } from '../../../src/core/sheet/kind.ts';
import { applyMapping } from '../../../src/core/storage/drawing/mapping.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { said } from '../../support/said.ts';
import { dxf, fixture, openText, refusalOf } from './help.ts';

// AutoCAD DXF reference, from memory: group codes 8 layer, 30 z, 38 elevation, 60 visibility, 62 colour, 67 paper space,
// 70 flags, 230 normal.
type Pair = readonly [number, string | number];

const line = (y: number, ...more: Pair[]): Pair[] => [
  [0, 'LINE'],
  [10, 0],
  [20, y],
  [11, 1],
  [21, y],
  ...more,
];
const flatPolyline = (y: number, ...more: Pair[]): Pair[] => [
  [0, 'LWPOLYLINE'],
  ...more,
  [10, 0],
  [20, y],
  [10, 1],
  [20, y],
];
const polyline = (flags: number, first: number, second: number, ...more: Pair[]): Pair[] => [
  [0, 'POLYLINE'],
  [70, flags],
  ...more,
  [0, 'VERTEX'],
  [10, 0],
  [20, 3],
  [30, first],
  [0, 'VERTEX'],
  [10, 1],
  [20, 3],
  [30, second],
  [0, 'SEQEND'],
];
const insert = (name: string, ...more: Pair[]): Pair[] => [[0, 'INSERT'], [2, name], ...more];

const section = (name: string, pairs: readonly Pair[]) =>
  `0\nSECTION\n2\n${name}\n${pairs.map(([code, value]) => `${code}\n${value}\n`).join('')}0\nENDSEC\n`;
const layer = (name: string, ...more: Pair[]): Pair[] => [[0, 'LAYER'], [2, name], ...more];
const block = (name: string, pairs: readonly Pair[], ...more: Pair[]) =>
  section('BLOCKS', [[0, 'BLOCK'], [2, name], ...more, ...pairs, [0, 'ENDBLK']]);

/** Heights y of the lines that are read, and the notes on what is left out. */
function read(pairs: readonly Pair[], before = '') {
  const opened = openText('x.dxf', dxf(pairs, before));
  if (opened.kind !== 'drawing') throw new Error(said(opened.findings));
  const left = opened.findings.filter(({ code }) => code === 'line-ignored').map(sentenceOf);
  const { strokes, groups } = opened.drawing;
  return { at: strokes.map(({ y1 }) => y1), left, layers: groups.map((group) => group.layer) };
}

const refused = (pairs: readonly Pair[], before = '') =>
  refusalOf(openText('x.dxf', dxf(pairs, before))).message;

/** Creases, panels and vertices of a fixture. */
function countsOf(name: string) {
  const opened = openFile(name, fixture(name));
  if (opened.kind !== 'drawing') throw new Error(said(opened.findings));
  const { sheet } = buildSheet(applyMapping(opened.drawing, opened.guess));
  const creases = sheet!.creaseKind.filter((kind) => kind !== KIND.edge).length;
  return { creases, panels: sheet!.panelRings.length, vertices: sheet!.vertexX.length };
}

describe('the saved drawings, one pattern counted by hand', () => {
  test.each(['dxf-blocks-case.dxf', 'dxf-invisible.dxf', 'dxf-z-dust.dxf'])('%s', (name) => {
    expect(countsOf(`drawings/${name}`)).toEqual({ creases: 4, panels: 4, vertices: 9 });
  });

  test('dxf-poly3d-steep.dxf is refused by the name and line of its first steep polyline', () => {
    const name = 'drawings/dxf-poly3d-steep.dxf';
    const lines = new TextDecoder().decode(fixture(name)).split(/\r?\n/);
    const at = lines.indexOf('POLYLINE');
    expect(refusalOf(openFile(name, fixture(name))).message).toBe(
      `The POLYLINE at line ${at} leaves the drawing plane: flatten the drawing and save it again.`,
    );
  });

  test('an independent reader (dxf-parser) sees the same lines as visible', () => {
    const name = 'drawings/dxf-invisible.dxf';
    const witness = new DxfParser().parseSync(new TextDecoder().decode(fixture(name)))!;
    const seen = witness.entities.filter((entity) => entity.visible !== false);
    const opened = openFile(name, fixture(name));
    expect(witness.entities).toHaveLength(9);
    expect(opened.kind === 'drawing' && opened.drawing.strokes).toHaveLength(seen.length);
  });
});

describe('names do not mind case (AutoCAD DXF reference, symbol table names)', () => {
  test('of blocks', () => {
    expect(read(insert('both'), block('Both', line(4)))).toMatchObject({ at: [4], left: [] });
  });

  test('of layers: told as the table writes them, one group', () => {
    const table = section('TABLES', layer('Fold Lines', [62, 5]));
    const lines = [
      ...line(1, [8, 'FOLD LINES']),
      ...line(2, [8, 'fold lines']),
      ...line(3, [8, 'fold lines']),
    ];
    expect(new Set(read(lines, table).layers)).toEqual(new Set(['Fold Lines']));
  });

  test('of line types', () => {
    const table = section('TABLES', [
      [0, 'LTYPE'],
      [2, 'oddOne'],
      [49, 5],
      [49, -3],
    ]);
    const opened = openText('x.dxf', dxf([...line(1, [6, 'ODDoNE']), ...line(2)], table));
    const dashes = opened.kind === 'drawing' && opened.groups.map(({ dash }) => dash);
    expect(dashes).toEqual(['dashed', 'solid']);
  });
});

describe('what cannot be seen is counted and left out', () => {
  const hidden = section('TABLES', [
    ...layer('Off', [62, -3]),
    ...layer('Frozen', [62, 3], [70, 1]),
    ...layer('Locked', [62, 3], [70, 4]),
  ]);

  test('an invisible line, polyline and block (group 60)', () => {
    const all = [...line(1), ...line(2, [60, 1]), ...flatPolyline(3, [60, 1]), ...insert('B', [60, 1])];
    expect(read([...all, ...line(5, [60, 0])], block('B', line(4)))).toMatchObject({
      at: [1, 5],
      left: ['3 × invisible entity in the drawing left out: it is no line of the pattern.'],
    });
  });

  test('layers that are off (negative group 62) or frozen (group 70, bit 1), in any case', () => {
    const all = [...line(1, [8, 'OFF']), ...line(2, [8, 'frozen']), ...line(3, [8, 'Locked'])];
    expect(read(all, hidden)).toMatchObject({
      at: [3],
      left: ['2 × line on a hidden layer in the drawing left out: it is no line of the pattern.'],
    });
  });

  test('a block on a frozen layer is not drawn; on one that is off, what lies on other layers is', () => {
    const stamp = block('B', [...line(1), ...line(2, [8, 'Locked'])]);
    expect(read([...line(7), ...insert('B', [8, 'Frozen'])], hidden + stamp).at).toEqual([7]);
    expect(read([...line(7), ...insert('B', [8, 'Off'])], hidden + stamp).at).toEqual([7, 2]);
  });

  test('lines on the paper of a layout (group 67)', () => {
    expect(read([...line(1), ...line(2, [67, 1])])).toMatchObject({
      at: [1],
      left: [
        '1 × line of a page layout (paper space) in the drawing left out: it is no line of the pattern.',
      ],
    });
  });

  test('a curve that cannot be seen does not stand in the way', () => {
    expect(read([...line(1), [0, 'ARC'], [60, 1], [0, 'CIRCLE'], [8, 'Off']], hidden).at).toEqual([1]);
  });
});

describe('what is no line is counted by its name', () => {
  test.each([
    ...[
      'HATCH',
      'DIMENSION',
      'TEXT',
      'MTEXT',
      'LEADER',
      'MULTILEADER',
      'POINT',
      'VIEWPORT',
      'IMAGE',
      'WIPEOUT',
    ],
    ...['SOLID', 'TRACE', '3DFACE', '3DSOLID', 'REGION', 'BODY', 'MESH', 'MLINE', 'RAY', 'XLINE', 'ATTDEF'],
    ...['ATTRIB', 'TOLERANCE', 'SHAPE', 'OLE2FRAME', 'ACAD_TABLE', 'ACAD_PROXY_ENTITY', 'VERTEX'],
  ])('%s', (name) => {
    const twice: Pair[] = [
      [0, name],
      [0, name],
    ];
    expect(read([...line(1), ...twice])).toMatchObject({
      at: [1],
      left: [`2 × ${name} in the drawing left out: it is no line of the pattern.`],
    });
  });

  test('a VIEWPORT on the paper of a layout too', () => {
    expect(read([...line(1), [0, 'VIEWPORT'], [67, 1]]).left).toEqual([
      '1 × VIEWPORT in the drawing left out: it is no line of the pattern.',
    ]);
  });

  test('a net in space, a block that is not there, a block of another file', () => {
    const net = polyline(64, 0, 5);
    const elsewhere = block('X', line(9), [70, 4]);
    const left = ['mesh', 'insert of a block that is not there', 'reference to another file'];
    expect(read([...line(1), ...net, ...insert('none'), ...insert('X')], elsewhere)).toMatchObject({
      at: [1],
      left: left.map((what) => `1 × ${what} in the drawing left out: it is no line of the pattern.`),
    });
  });

  test('names without end are told up to sixty, the rest together', () => {
    const odd = Array.from({ length: 65 }, (_, i): Pair => [0, `ODD${i}`]);
    const { left } = read([...line(1), ...odd, ...odd]);
    expect(left).toHaveLength(61);
    expect(left.at(-1)).toBe(
      '10 × entity of yet another kind in the drawing left out: it is no line of the pattern.',
    );
  });
});

describe('heights', () => {
  test('one height for all, of whatever entity, is flat', () => {
    const all = [
      ...line(1, [30, 5], [31, 5]),
      ...flatPolyline(2, [38, 5]),
      ...polyline(8, 5, 5),
      ...polyline(0, 0, 0, [30, 5]),
      ...polyline(0, 5, 5),
      ...insert('B', [30, 2]),
      ...insert('B', [30, 3.5], [43, 0.5]),
    ];
    const stamp = block('B', line(4, [30, 4], [31, 4]), [30, 1]);
    expect(read(all, stamp).at).toEqual([1, 2, 3, 3, 3, 4, 4]);
  });

  test('dust beside the size of the drawing is flat', () => {
    expect(read([...line(1, [31, 1e-9]), ...line(2, [30, -1e-9])]).at).toEqual([1, 2]);
  });

  test('3D polylines and lines stand in world coordinates: a normal from behind mirrors neither', () => {
    const opened = openText('x.dxf', dxf([...polyline(8, 0, 0, [230, -1]), ...line(1, [230, -1])]));
    const ends = opened.kind === 'drawing' && opened.drawing.strokes.map(({ x2 }) => x2);
    expect(ends).toEqual([1, 1]);
  });

  const leaves = 'leaves the drawing plane: flatten the drawing and save it again.';
  test.each([
    ['a LINE', [...line(1), ...line(2, [31, 0.01])], `The LINE at line 15 ${leaves}`],
    ['a 3D POLYLINE', polyline(8, 0, 1), `The POLYLINE at line 5 ${leaves}`],
    ['a plane POLYLINE whose vertices rise', polyline(0, 0, 1, [30, 7]), `The POLYLINE at line 5 ${leaves}`],
  ])('%s that rises is refused by name and line', (_, pairs, sentence) => {
    expect(refused(pairs)).toBe(sentence);
  });

  const other = (height: number) =>
    `at height ${height}, but the drawing begins at height 0: bring all lines to one height and save it again.`;
  test.each([
    ['a LINE', line(2, [30, 5], [31, 5]), `The LINE at line 15 lies ${other(5)}`],
    ['an LWPOLYLINE', flatPolyline(2, [38, 0.5]), `The LWPOLYLINE at line 15 lies ${other(0.5)}`],
    [
      'an LWPOLYLINE from behind',
      flatPolyline(2, [38, 2], [230, -1]),
      `The LWPOLYLINE at line 15 lies ${other(-2)}`,
    ],
    ['a POLYLINE', polyline(0, 0, 0, [30, 3]), `The POLYLINE at line 15 lies ${other(3)}`],
  ])('%s at another height is refused by name and line', (_, pairs, sentence) => {
    expect(refused([...line(1), ...pairs])).toBe(sentence);
  });

  test('a block put at another height is refused by the line within it', () => {
    // its LINE begins 6 lines after the head of the section
    const message = refused([...line(1), ...insert('B', [30, 2])], block('B', line(4)));
    expect(message).toBe(`The LINE at line 9 lies ${other(2)}`);
  });

  test('what is not seen may stand at any height', () => {
    expect(read([...line(1), ...line(2, [31, 9], [60, 1])]).at).toEqual([1]);
  });
});

describe('what is broken is refused with its place', () => {
  test.each([
    ['a LINE without an end', line(1).slice(0, 3), 'The LINE at line 5 lacks a coordinate (group 11)'],
    [
      'an LWPOLYLINE with half a point',
      flatPolyline(1).slice(0, -1),
      'The LWPOLYLINE at line 5 lacks a coordinate (group 20)',
    ],
    ['a flag that is no whole number', line(1, [60, 'yes']), 'At line 16 (LINE), "yes" is not a number'],
    ['a colour beyond all bounds', line(1, [62, '9'.repeat(400)]), 'At line 16 (LINE), "9999'],
    ['a group code beyond all bounds', [[1e21, 'x']] as Pair[], 'The DXF file is broken at line 5'],
  ])('%s', (_, pairs, start) => {
    expect(refused(pairs).startsWith(start)).toBe(true);
  });

  test('dashes of a line type that are no numbers', () => {
    const table = section('TABLES', [
      [0, 'LTYPE'],
      [2, 'ODD'],
      [49, 'long'],
    ]);
    expect(refused(line(1), table)).toContain('At line 10 (LTYPE), "long" is not a number');
  });
});
