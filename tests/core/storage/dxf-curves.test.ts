/** Where curves of a DXF run, and that those beside the sheet do not refuse it. */
import { describe, expect, test } from 'vitest';
import { pointsOfCurve } from '../../../src/core/storage/dxf/curves.ts';
import { DxfRecord } from '../../../src/core/storage/dxf/groups.ts';
import { openText, refusalOf, sheetOf } from './help.ts';

type Groups = readonly (readonly [code: number, value: number])[];

const record = (type: string, groups: Groups) =>
  new DxfRecord(
    type,
    1,
    groups.map(([code, value], k) => ({ code, value: String(value), line: 2 * k + 3 })),
  );

const circle = (x: number, y: number, radius: number): Groups => [
  [10, x],
  [20, y],
  [40, radius],
];

describe('points of a curve', () => {
  test('of an arc lie on its circle, from its start counter-clockwise to its end', () => {
    const points = pointsOfCurve(record('ARC', [...circle(3, 4, 2), [50, 350], [51, 10]]));
    for (const [x, y] of points) expect(Math.hypot(x - 3, y - 4)).toBeCloseTo(2, 12);
    expect(points[0]![1]).toBeCloseTo(4 - 2 * Math.sin(Math.PI / 18), 12);
    expect(points.at(-1)![1]).toBeCloseTo(4 + 2 * Math.sin(Math.PI / 18), 12);
    expect(Math.min(...points.map(([x]) => x))).toBeGreaterThan(4.9);
  });

  test('drawn from behind are mirrored', () => {
    const points = pointsOfCurve(record('CIRCLE', [...circle(3, 4, 1), [210, 0], [220, 0], [230, -1]]));
    for (const [x, y] of points) expect(Math.hypot(x + 3, y - 4)).toBeCloseTo(1, 12);
  });

  // x²/a² + y²/b² = 1
  test('of an ellipse fulfil its equation', () => {
    const axes: Groups = [
      [10, 1],
      [20, 2],
      [11, 5],
      [21, 0],
      [40, 0.4],
    ];
    for (const [x, y] of pointsOfCurve(record('ELLIPSE', axes)))
      expect(((x - 1) / 5) ** 2 + ((y - 2) / 2) ** 2).toBeCloseTo(1, 12);
  });

  // Piegl and Tiller, The NURBS Book, 7.3: a quarter of a circle is of degree 2 with weights 1, 1/√2, 1
  test('of a rational spline that is a quarter circle lie on the circle', () => {
    const corners = [
      [1, 0, 1],
      [1, 1, Math.SQRT1_2],
      [0, 1, 1],
    ] as const;
    const groups: Groups = [
      [71, 2],
      ...[0, 0, 0, 1, 1, 1].map((knot) => [40, knot] as const),
      ...corners.flatMap(([x, y, weight]) => [[10, x] as const, [20, y] as const, [41, weight] as const]),
    ];
    const points = pointsOfCurve(record('SPLINE', groups));
    expect(points.length).toBeGreaterThan(50);
    for (const [x, y] of points) expect(Math.hypot(x, y)).toBeCloseTo(1, 12);
  });

  test('of a spline whose knots do not fit are not guessed', () => {
    expect(
      pointsOfCurve(
        record('SPLINE', [
          [71, 3],
          [10, 0],
          [20, 0],
        ]),
      ),
    ).toEqual([]);
  });
});

/** A square of 100 with a valley across it, and one more entity. */
function drawing(type: string, groups: Groups): string {
  const line = (layer: string, ...ends: number[]) => [
    [0, 'LINE'],
    [8, layer],
    ...ends.map((value, k) => [[10, 20, 11, 21][k]!, value]),
  ];
  const all = [
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...line('edge', 0, 0, 100, 0),
    ...line('edge', 100, 0, 100, 100),
    ...line('edge', 100, 100, 0, 100),
    ...line('edge', 0, 100, 0, 0),
    ...line('valley', 0, 40, 100, 40),
    [0, type],
    [8, 'other'],
    ...groups,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return all.flat().join('\n');
}

describe('a curve in a drawing', () => {
  test.each([
    ['a circle beside the sheet', 'CIRCLE', circle(150, 50, 20)],
    ['an arc of a circle that would cross the sheet', 'ARC', [...circle(110, 50, 30), [50, 290], [51, 70]]],
  ] as [string, string, Groups][])('%s is left out, and counted', (_name, type, groups) => {
    const opened = openText('x.dxf', drawing(type, groups));
    expect(opened.findings).toContainEqual(
      expect.objectContaining({
        code: 'line-ignored',
        values: { how: 'not-of-sheet', round: 0, beside: 0, curves: 1 },
      }),
    );
    expect(sheetOf(opened).panelRings).toHaveLength(2);
  });

  test.each([
    ['a circle across the edge', 'CIRCLE', circle(110, 50, 20)],
    ['a circle within the sheet', 'CIRCLE', circle(50, 70, 5)],
    ['an arc across the edge', 'ARC', [...circle(110, 50, 30), [50, 100], [51, 260]]],
  ] as [string, string, Groups][])('%s refuses the drawing by name', (_name, type, groups) => {
    const { code, message } = refusalOf(openText('x.dxf', drawing(type, groups)));
    expect(code).toBe('line-curved');
    expect(message).toContain(type);
  });
});

// 90,000 copies are fewer than a file may ask of lines, but each of them would be a hundred points
test('copies of a curve cost what its points cost: too many are refused, not laid out', () => {
  const copies = [
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    [0, 'BLOCK'],
    [2, 'Hole'],
    [0, 'CIRCLE'],
    ...circle(0, 0, 1),
    [0, 'ENDBLK'],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    [0, 'INSERT'],
    [2, 'Hole'],
    [70, 300],
    [71, 300],
    [44, 3],
    [45, 3],
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  expect(refusalOf(openText('x.dxf', copies.flat().join('\n'))).code).toBe('file-too-large');
});
