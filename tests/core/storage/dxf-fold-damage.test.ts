/** DXF and FOLD files from strangers: damaged token by token, and small ones that ask for endless work. */
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { DxfRecord } from '../../../src/core/storage/dxf/groups.ts';
import { type Opened, openFile } from '../../../src/core/storage/open.ts';
import { sentenceOf } from '../../../src/words/findings.ts';
import { processorTime } from '../../support/processor-time.ts';
import { bytesOf, fixture, openText, refusalOf } from './help.ts';

const text = (name: string) => new TextDecoder().decode(fixture(name));

/** Every entry that the reader of DXF looks at, once at least. */
const drawing =
  `0 SECTION 2 HEADER 9 $INSUNITS 70 4 0 ENDSEC 0 SECTION 2 TABLES 0 LTYPE 2 odd 49 5 49 -2 49 0 49 -2
0 LAYER 2 fold 62 5 6 odd 70 0 0 LAYER 2 off 62 -1 420 255 0 ENDSEC
0 SECTION 2 BLOCKS 0 BLOCK 2 inner 10 1 20 0 30 0 70 0 0 LINE 8 0 10 1 20 0 30 0 11 2 21 0 31 0 60 0 62 0 6 BYBLOCK
0 ENDBLK 0 BLOCK 2 outer 10 0 20 0 0 INSERT 2 INNER 10 0 20 0 30 0 41 1 42 1 43 1 50 90 70 2 71 1 44 1 45 0 230 -1
0 ENDBLK 0 ENDSEC 0 SECTION 2 ENTITIES 0 INSERT 2 Outer 8 fold 10 2 20 2
0 LWPOLYLINE 8 edge 70 1 38 0 10 0 20 0 10 4 20 0 42 0 10 4 20 4 10 0 20 4 210 0 220 0 230 1
0 POLYLINE 8 valley_90 70 8 30 0 0 VERTEX 10 0 20 0 30 0 0 VERTEX 10 4 20 4 30 0 42 0 0 SEQEND
0 LINE 8 off 67 0 370 25 420 255 10 0 20 4 11 4 21 0 0 TEXT 1 hello 0 ENDSEC 0 EOF
`.replace(/\s/g, '\n');

/** The same for FOLD. */
const frames = JSON.stringify({
  file_spec: 1.2,
  file_title: 'Frames',
  frame_classes: ['foldedForm'],
  frame_unit: 'mm',
  edges_vertices: [...[0, 1, 2, 3].map((at) => [at, (at + 1) % 4]), [0, 2]],
  edges_assignment: ['B', 'B', 'B', 'B', 'M'],
  edges_foldAngle: [null, null, null, null, -90],
  faces_vertices: [
    [0, 1, 2],
    [0, 2, 3],
  ],
  file_frames: [
    {
      frame_inherit: true,
      frame_parent: 0,
      vertices_coords: [
        [0, 0, 3],
        [2, 0, 3],
        [2, 2, 3],
        [0, 2, 3],
      ],
    },
    { frame_inherit: true, frame_parent: 1, frame_classes: ['creasePattern'], frame_title: 'Flat' },
  ],
});

const words = (json: string) => json.match(/"[^"]*"|[-\w.]+|[^\w"]/g)!;
const lines = (dxf: string) => dxf.match(/[^\n]*\n/g)!;
/** Group codes, each with its value. */
const groups = (dxf: string) => dxf.match(/[^\n]*\n[^\n]*\n/g)!;

const saved = text('s4.dxf').replaceAll('\r', '');
const files = [
  ...[drawing, saved].flatMap((whole) => [lines(whole), groups(whole), groups(whole)]),
  ...[frames, text('drawings/fold-z5.fold')].map(words),
];

/** What may stand in the place of a token. */
const nasty = [
  ...[
    '',
    '0',
    '-1',
    '1',
    '2',
    '8',
    '64',
    '70',
    '100',
    '1e999',
    '-1e308',
    '1e-320',
    '0x10',
    'NaN',
    'Infinity',
  ],
  ...['9'.repeat(500), '0.'.padEnd(900, '7'), '99999999999', '"constructor"', 'constructor', '__proto__'],
  ...['"__proto__"', '"toString"', '"', 'null', 'true', '[]', '{}', '[[[]]]', '{"__proto__":[]}', 'INSERT'],
  ...['POLYLINE', 'VERTEX', 'LINE', 'ENDSEC', 'outer', 'BYLAYER', '\u0000', '\ud800', 'İ', '\r', '\n', ' '],
];

const damages = fc.record({
  file: fc.nat(files.length - 1),
  changes: fc.array(
    fc.record({
      at: fc.nat(1e6),
      from: fc.nat(1e6),
      how: fc.constantFrom('drop', 'empty', 'double', 'replace', 'replace', 'other'),
      by: fc.constantFrom(...nasty),
    }),
    { minLength: 1, maxLength: 3 },
  ),
});
type Damage = typeof damages extends fc.Arbitrary<infer One> ? One : never;

function damaged({ file, changes }: Damage): string {
  const tokens = [...files[file]!];
  for (const { at, from, how, by } of changes) {
    const place = at % tokens.length;
    const token = tokens[place]!;
    const other = tokens[from % tokens.length]!;
    const [code, end] = [/^[^\n]*\n(?=[^\n]*\n)/.exec(token)?.[0] ?? '', token.endsWith('\n') ? '\n' : ''];
    tokens[place] = {
      drop: '',
      empty: code + end,
      double: token + token,
      replace: code + by + end,
      other,
    }[how];
  }
  return tokens.join('');
}

/** Refusals that are about a file as a whole; all others name a place in it. */
const ofAll = [
  'unknown-kind',
  'binary',
  'fold-folded',
  'fold-unit',
  'fold-no-coords',
  'no-edges-vertices',
  'no-line-found',
];
const placed = /line \d+|entry \d+|Frame \d+|list edges_|The entry [a-z]+_|between \(/;

/** What was read of a drawing or sheet: its unit, 1 where the file says none, and where its lines end. */
function numbersOf(opened: Opened): number[] {
  if (opened.kind === 'sheet') {
    const { vertexX, vertexY } = opened.sheet;
    return [opened.millimetres ?? 1, ...vertexX, ...vertexY];
  }
  if (opened.kind !== 'drawing') throw new Error(`opened as ${opened.kind}`);
  const { millimetres, strokes } = opened.drawing;
  return [millimetres ?? 1, ...strokes.flatMap(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2])];
}

const seed = 2026;

describe(`damaged token by token (seed ${seed})`, () => {
  test('every file is opened, or refused with a reason and a place, and no fault of the tool is told', () => {
    const told = new Map<string, number>();
    const property = fc.property(damages, (damage) => {
      const opened = openFile('a', bytesOf(damaged(damage)));
      const outcome = opened.kind === 'refused' ? opened.findings[0]!.code : 'opened';
      told.set(outcome, (told.get(outcome) ?? 0) + 1);
      if (opened.kind !== 'refused') {
        expect(numbersOf(opened).filter((value) => !Number.isFinite(value))).toEqual([]);
        return;
      }
      expect(opened.findings).toHaveLength(1);
      const [reason] = opened.findings;
      expect(reason!.severity).toBe('error');
      const { how } = reason!.values as { how?: string };
      expect(how).not.toBe('surprise');
      const sentence = sentenceOf(reason!);
      expect(sentence).toMatch(/^[A-Z][^\n]{20,400}\.$/);
      if (!ofAll.includes(how ?? '')) expect(sentence).toMatch(placed);
    });
    fc.assert(property, { seed, numRuns: 600 });
    // the damage is neither harmless nor always deadly, and of many kinds
    expect(told.get('opened')).toBeGreaterThan(100);
    expect(told.get('file-unreadable')).toBeGreaterThan(50);
    expect(told.get('number-invalid')).toBeGreaterThan(20);
  });
});

describe('a small file asks for no endless work', () => {
  /** Blocks of two inserts of the block before, sixteen deep, and inserts of the last until the file has this length. */
  function nested(length: number, junk = ''): string {
    const blocks = Array.from(
      { length: 16 },
      (_, i) => `0\nBLOCK\n2\nb${i + 1}\n${`0\nINSERT\n2\nb${i}\n${junk}`.repeat(2)}0\nENDBLK\n`,
    );
    const head = `0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nb0\n0\nENDBLK\n${blocks.join('')}0\nENDSEC\n`;
    const insert = '0\nINSERT\n2\nb16\n';
    const body = insert.repeat(Math.max(1, Math.ceil((length - head.length) / insert.length)));
    return `${head}0\nSECTION\n2\nENTITIES\n${body}0\nENDSEC\n0\nEOF\n`;
  }

  /** How often a group of some record is looked up while a file is read. */
  function lookUps(file: string): number {
    const spied = [vi.spyOn(DxfRecord.prototype, 'text'), vi.spyOn(DxfRecord.prototype, 'number')];
    const integer = vi.spyOn(DxfRecord.prototype, 'integer');
    const { message } = refusalOf(openText('a.dxf', file));
    expect(message).toContain('The drawing repeats what its blocks hold more than 400000 times');
    const calls = [...spied, integer].reduce((sum, spy) => sum + spy.mock.calls.length, 0);
    vi.restoreAllMocks();
    return calls;
  }

  const time = (file: string, name: string) => {
    const took = [0, 1, 2].map(() => {
      const start = processorTime();
      openText(name, file);
      return processorTime() - start;
    });
    return Math.min(...took);
  };

  test('inserts within inserts: four times the file is hardly more work', () => {
    const [ten, forty] = [lookUps(nested(10_000)), lookUps(nested(40_000))];
    expect(ten).toBeGreaterThan(400_000);
    expect(forty).toBeLessThan(1.1 * ten);
  });

  test('an insert with much else written in it is searched once, not at every visit', () => {
    const junk = '1000\nx\n'.repeat(100);
    expect(time(nested(30_000, junk), 'a.dxf')).toBeLessThan(3 * time(nested(30_000), 'a.dxf'));
  });

  test('copies of a block side by side count, even if it holds nothing', () => {
    const array = '0\nINSERT\n2\nb0\n70\n30000\n71\n30000\n';
    const file = nested(0).replace('ENTITIES\n', `ENTITIES\n${array}`);
    expect(refusalOf(openText('a.dxf', file)).message).toContain('more than 400000 times');
  });

  test('blocks in blocks without end are told apart from a block within itself', () => {
    const chain = (count: number, first: string) =>
      Array.from(
        { length: count },
        (_, i) => `0\nBLOCK\n2\nb${i}\n0\nINSERT\n2\n${i === 0 ? first : `b${i - 1}`}\n0\nENDBLK\n`,
      ).join('');
    const file = (blocks: string, name: string) =>
      `0\nSECTION\n2\nBLOCKS\n${blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\n${name}\n0\nEOF\n`;
    expect(refusalOf(openText('a.dxf', file(chain(4000, 'none'), 'b3999'))).message).toMatch(
      /^The block "b3967" at line \d+ lies more than 32 blocks deep/,
    );
    expect(refusalOf(openText('a.dxf', file(chain(3, 'B2'), 'b2'))).message).toMatch(
      /^The block "B2" at line 9 contains itself/,
    );
  });

  test('a number of four times the digits takes no more than about four times as long', () => {
    const long = (digits: number) =>
      `0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n${'7'.repeat(digits)}\n20\n0\n0\nEOF\n`;
    const { message } = refusalOf(openText('a.dxf', long(40_000)));
    expect(message).toContain('At line 8 (LINE), "7777');
    expect(message.length).toBeLessThan(200);
    expect(time(long(16_000_000), 'a.dxf')).toBeLessThan(8 * time(long(4_000_000), 'a.dxf'));
  });

  test('a line type of hundred thousands of dashes is one of dashes', () => {
    const dashes = '49\n5\n49\n-3\n'.repeat(100_000);
    const table = `0\nSECTION\n2\nTABLES\n0\nLTYPE\n2\nodd\n${dashes}0\nENDSEC\n`;
    const line = '0\nLINE\n6\nODD\n10\n0\n20\n0\n11\n1\n21\n0\n';
    const opened = openText('a.dxf', `${table}0\nSECTION\n2\nENTITIES\n${line}0\nEOF\n`);
    expect(opened.kind === 'drawing' && opened.groups.map(({ dash }) => dash)).toEqual(['dashed']);
  });

  /** Frames that inherit each from the next, the last from the first; all share one list of points. */
  function heirs(count: number): string {
    const frame = (at: number) =>
      `{"frame_inherit":true,"frame_parent":${at === count ? 0 : at + 1},"x${at}":0}`;
    const list = Array.from({ length: count }, (_, i) => `[${i},0,${i % 2}]`).join();
    const all = Array.from({ length: count }, (_, i) => frame(i + 1)).join();
    return `{"vertices_coords":[${list}],"edges_vertices":[[0,1]],"file_frames":[${all}]}`;
  }

  test('frames that inherit from frames: four times the file takes no more than about four times as long', () => {
    expect(refusalOf(openText('a.fold', heirs(400))).message).toContain('holds a folded shape');
    expect(time(heirs(40_000), 'a.fold')).toBeLessThan(8 * time(heirs(10_000), 'a.fold'));
  });
});
