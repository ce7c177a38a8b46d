import DxfParser from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { openFile } from '../../../src/core/storage/open.ts';
import { said } from '../../support/said.ts';
import { dxf, fixture, openText, refusalOf } from './help.ts';

// Group codes as in the published DXF reference, from memory.
type Pair = readonly [number, string | number];

function strokesOf(pairs: readonly Pair[], before = ''): number[][] {
  const opened = openText('x.dxf', dxf(pairs, before));
  if (opened.kind !== 'drawing') throw new Error(said(opened.findings));
  return opened.drawing.strokes.map(({ x1, y1, x2, y2 }) =>
    [x1, y1, x2, y2].map((n) => Math.round(n * 1e9) / 1e9 + 0),
  );
}

const line = (x1: number, y1: number, x2: number, y2: number, layer = '0'): Pair[] => [
  [0, 'LINE'],
  [8, layer],
  [10, x1],
  [20, y1],
  [11, x2],
  [21, y2],
];
const section = (name: string, pairs: readonly Pair[]) =>
  `0\nSECTION\n2\n${name}\n${pairs.map(([code, value]) => `${code}\n${value}\n`).join('')}0\nENDSEC\n`;
const block = (name: string, base: [number, number], pairs: readonly Pair[]) =>
  section('BLOCKS', [[0, 'BLOCK'], [2, name], [10, base[0]], [20, base[1]], ...pairs, [0, 'ENDBLK']]);

describe('entities', () => {
  test('LWPOLYLINE, open and closed', () => {
    const points: Pair[] = [
      [10, 0],
      [20, 0],
      [10, 1],
      [20, 0],
      [10, 1],
      [20, 1],
    ];
    const open = [
      [0, 0, 1, 0],
      [1, 0, 1, 1],
    ];
    expect(strokesOf([[0, 'LWPOLYLINE'], [70, 0], ...points])).toEqual(open);
    expect(strokesOf([[0, 'LWPOLYLINE'], [70, 1], ...points])).toEqual([...open, [1, 1, 0, 0]]);
  });

  test('POLYLINE with vertices, closed', () => {
    const vertex = (x: number, y: number): Pair[] => [
      [0, 'VERTEX'],
      [10, x],
      [20, y],
    ];
    const pairs: Pair[] = [
      [0, 'POLYLINE'],
      [70, 1],
      ...vertex(0, 0),
      ...vertex(2, 0),
      ...vertex(2, 2),
      [0, 'SEQEND'],
      ...line(5, 5, 6, 6),
    ];
    expect(strokesOf(pairs)).toEqual([
      [0, 0, 2, 0],
      [2, 0, 2, 2],
      [2, 2, 0, 0],
      [5, 5, 6, 6],
    ]);
  });

  test('INSERT: base point, scale, rotation, array', () => {
    const stamp = block('B', [1, 0], line(1, 0, 2, 0));
    const insert = (...more: Pair[]): Pair[] => [[0, 'INSERT'], [2, 'B'], [10, 10], [20, 5], ...more];
    expect(strokesOf(insert(), stamp)).toEqual([[10, 5, 11, 5]]);
    expect(strokesOf(insert([41, 2], [50, 90]), stamp)).toEqual([[10, 5, 10, 7]]);
    expect(strokesOf(insert([41, -1]), stamp)).toEqual([[10, 5, 9, 5]]);
    expect(strokesOf(insert([70, 2], [44, 3]), stamp)).toEqual([
      [10, 5, 11, 5],
      [13, 5, 14, 5],
    ]);
  });

  test('a block drawn from behind is mirrored', () => {
    expect(
      strokesOf([
        [0, 'LWPOLYLINE'],
        [230, -1],
        [10, 1],
        [20, 0],
        [10, 2],
        [20, 3],
      ]),
    ).toEqual([[-1, 0, -2, 3]]);
  });

  test('layer 0 in a block takes the layer of the insert, with its kind', () => {
    const opened = openText(
      'x.dxf',
      dxf(
        [
          [0, 'INSERT'],
          [2, 'B'],
          [8, 'valley_90'],
        ],
        block('B', [0, 0], line(0, 0, 1, 0)),
      ),
    );
    expect(opened.kind === 'drawing' && opened.groups[0]?.named).toEqual({ kind: 'valley', angle: 90 });
  });

  test('colours and line types by layer, by line and true colour', () => {
    const layers = section('TABLES', [
      [0, 'LTYPE'],
      [2, 'ODD'],
      [49, 0.5],
      [49, -0.2],
      [49, 0.1],
      [49, -0.2],
      [0, 'LAYER'],
      [2, 'Folds'],
      [62, 5],
      [6, 'DASHED'],
    ]);
    const own: Pair[] = [...line(0, 2, 1, 2, 'Folds'), [62, 1], [6, 'ODD']];
    const opened = openText(
      'x.dxf',
      dxf(
        [
          ...line(0, 0, 0, 4, 'Folds'),
          ...line(0, 0, 4, 0),
          ...line(1, 1, 2, 1, 'Folds'),
          ...own,
          ...line(0, 3, 1, 3),
          [420, 0x123456],
        ],
        layers,
      ),
    );
    const looks = opened.kind === 'drawing' ? opened.groups.map(({ colour, dash }) => [colour, dash]) : [];
    expect(looks).toContainEqual(['#0000ff', 'dashed']);
    expect(looks).toContainEqual(['#ff0000', 'dash-dot']);
    expect(looks).toContainEqual(['#123456', 'solid']);
  });

  test.each([
    [1, 25.4],
    [4, 1],
    [5, 10],
    [6, 1000],
    [0, null],
  ])('unit %i', (unit, wanted) => {
    const opened = openText(
      'x.dxf',
      dxf(
        line(0, 0, 1, 0),
        section('HEADER', [
          [9, '$INSUNITS'],
          [70, unit],
        ]),
      ),
    );
    expect(opened.kind === 'drawing' && opened.drawing.millimetres).toBe(wanted);
  });
});

describe('refusals', () => {
  test.each([
    [
      'an ARC',
      [
        [0, 'ARC'],
        [8, 'hinge'],
        [10, 0],
        [20, 0],
        [40, 1],
      ],
    ],
    [
      'a CIRCLE',
      [
        [0, 'CIRCLE'],
        [8, 'hinge'],
        [10, 0],
        [20, 0],
        [40, 1],
      ],
    ],
    [
      'a SPLINE',
      [
        [0, 'SPLINE'],
        [8, 'hinge'],
      ],
    ],
    [
      'an ELLIPSE',
      [
        [0, 'ELLIPSE'],
        [8, 'hinge'],
      ],
    ],
    [
      'an arc in the LWPOLYLINE',
      [
        [0, 'LWPOLYLINE'],
        [8, 'hinge'],
        [10, 0],
        [20, 0],
        [42, 1],
        [10, 1],
        [20, 0],
      ],
    ],
    [
      'an arc in the POLYLINE',
      [
        [0, 'POLYLINE'],
        [8, 'hinge'],
        [0, 'VERTEX'],
        [10, 0],
        [20, 0],
        [42, 0.5],
        [0, 'VERTEX'],
        [10, 1],
        [20, 1],
      ],
    ],
  ] as [string, Pair[]][])('%s, named with line and layer', (what, pairs) => {
    const { code, message } = refusalOf(openText('x.dxf', dxf(pairs)));
    expect(code).toBe('line-curved');
    expect(message).toContain(`${what} at line 5`);
    expect(message).toContain('"hinge"');
  });

  test('a block inside itself', () => {
    const stamp = block(
      'B',
      [0, 0],
      [
        [0, 'INSERT'],
        [2, 'B'],
      ],
    );
    expect(
      refusalOf(
        openText(
          'x.dxf',
          dxf(
            [
              [0, 'INSERT'],
              [2, 'B'],
            ],
            stamp,
          ),
        ),
      ).message,
    ).toContain('"B"');
  });

  test('a line that leaves the plane', () => {
    expect(refusalOf(openText('x.dxf', dxf([...line(0, 0, 1, 1), [31, 5]]))).message).toContain(
      'LINE at line 5',
    );
  });

  test('a number that is none, with its line', () => {
    const text = dxf([
      [0, 'LINE'],
      [10, '1e999'],
    ]);
    expect(refusalOf(openText('x.dxf', text))).toMatchObject({ code: 'number-invalid' });
    expect(refusalOf(openText('x.dxf', text)).message).toContain('line 8');
  });
});

test('reads the same lines as an independent reader (dxf-parser) from the saved files', () => {
  for (const name of ['s1.dxf', 's4.dxf', 's5.dxf', 'ezdxf-linetypes.dxf']) {
    const bytes = fixture(name);
    const witness = new DxfParser().parseSync(new TextDecoder().decode(bytes))!;
    const lines = witness.entities.flatMap((entity) => {
      const { vertices, shape } = entity as unknown as {
        vertices?: { x: number; y: number }[];
        shape?: boolean;
      };
      if (!vertices) return [];
      const ring = shape ? [...vertices, vertices[0]!] : vertices;
      return ring.slice(1).map((to, i) => [ring[i]!.x, ring[i]!.y, to.x, to.y]);
    });
    const opened = openFile(name, bytes);
    const ours =
      opened.kind === 'drawing' ? opened.drawing.strokes.map(({ x1, y1, x2, y2 }) => [x1, y1, x2, y2]) : [];
    expect(ours.length).toBeGreaterThan(8);
    expect(ours).toEqual(lines);
  }
});
