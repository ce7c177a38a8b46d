import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { checkSheet } from '../../../src/core/sheet/check.ts';
import { mirrorSheet, seenFromBehind } from '../../../src/core/sheet/edit.ts';
import { type Graph, sheetFromGraph } from '../../../src/core/sheet/from-graph.ts';
import { KIND } from '../../../src/core/sheet/kind.ts';
import { validateSheet } from '../../../src/core/sheet/validate.ts';
import { creaseLength, interiorVertices, panelContaining, panelCount } from '../../../src/core/sheet/walk.ts';
import { model } from './drawings.ts';

/** A square of size 2 cut by one diagonal, with a needless point in the middle of the bottom. */
const graph: Graph = {
  vertices: [
    [4, 3],
    [2, 1],
    [3, 1],
    [4, 1],
    [2, 3],
  ],
  edges: [
    [1, 0],
    [1, 2],
    [3, 2],
    [3, 0],
    [0, 4],
    [4, 1],
  ],
  kinds: ['valley', 'edge', 'edge', 'edge', 'edge', 'edge'],
  angles: [1.5, Number.NaN, Number.NaN, Number.NaN, Number.NaN, 0],
  faces: [
    [1, 0, 4],
    [0, 1, 2, 3],
  ],
};

describe('a given graph keeps its numbers', () => {
  // common practice, no source
  test('vertices, edges and their direction, faces, points of degree two', () => {
    const { sheet, findings } = sheetFromGraph(graph);
    expect(findings).toEqual([]);
    expect(validateSheet(sheet!)).toEqual([]);
    expect([...sheet!.creaseFrom]).toEqual([1, 1, 3, 3, 0, 4]);
    expect([...sheet!.creaseTo]).toEqual([0, 2, 2, 0, 4, 1]);
    expect([...sheet!.vertexX]).toEqual([1, 0, 0.5, 1, 0]);
    expect(sheet!.frame).toEqual({ x: 2, y: 1, scale: 2 });
    expect(sheet!.creaseAngle[0]).toBe(1.5);
    expect(panelContaining(sheet!, 0.1, 0.9)).toBe(0);
    expect(panelContaining(sheet!, 0.9, 0.1)).toBe(1);
  });

  test('faces listed the other way round or in another order', () => {
    const faces = [[3, 2, 1, 0].toReversed(), [4, 0, 1].toReversed()];
    const { sheet, findings } = sheetFromGraph({ ...graph, faces });
    expect(findings).toEqual([]);
    expect(panelContaining(sheet!, 0.9, 0.1)).toBe(0);
  });

  test('faces that are none are noted and numbered afresh', () => {
    const { sheet, findings } = sheetFromGraph({ ...graph, faces: [[0, 1, 2, 3, 4]] });
    expect(findings.map((f) => f.code)).toEqual(['line-ignored']);
    expect(panelCount(sheet!)).toBe(2);
  });

  test('edges that cross without a vertex are built anew, with a warning', () => {
    const { sheet, findings } = sheetFromGraph({
      ...graph,
      edges: [...graph.edges, [3, 4]],
      kinds: [...graph.kinds, 'mountain'],
      angles: [...graph.angles, -1],
      faces: undefined,
    });
    expect(findings.map((f) => [f.severity, f.code])).toEqual([['warning', 'crease-overlap']]);
    expect(panelCount(sheet!)).toBe(4);
  });

  test.each<[string, Partial<Graph>, string]>([
    ['no edges', { edges: [], kinds: [], angles: [] }, 'sheet-empty'],
    ['a vertex that is not there', { edges: [[0, 99], ...graph.edges.slice(1)] }, 'number-invalid'],
    ['lists of different length', { kinds: graph.kinds.slice(1) }, 'number-invalid'],
    [
      'a coordinate that is no number',
      { vertices: [[Number.NaN, 0], ...graph.vertices.slice(1)] },
      'number-invalid',
    ],
  ])('%s is refused', (_, change, code) => {
    const { sheet, findings } = sheetFromGraph({ ...graph, ...change });
    expect(sheet).toBe(null);
    expect(findings.map((f) => f.code)).toEqual([code]);
  });
});

describe('mirror and seen from behind', () => {
  // source: the conventions of this tool, stated in DEVELOPERS.md; what they mean for a sheet is common practice
  const sheet = buildSheet(model('S1')).sheet!;

  test('the mirror image reflects x and keeps kinds and angles', () => {
    const mirrored = mirrorSheet(sheet);
    expect(validateSheet(mirrored)).toEqual([]);
    expect(mirrored.creaseKind).toEqual(sheet.creaseKind);
    expect(mirrored.creaseAngle).toEqual(sheet.creaseAngle);
    sheet.vertexX.forEach((x, v) => expect(mirrored.vertexX[v]).toBeCloseTo(1 - x, 15));
    expect(mirrored.vertexY).toEqual(sheet.vertexY);
    expect(checkSheet(mirrored)).toEqual([]);
  });

  test('seen from behind, mountains and valleys change places and angles their sign', () => {
    const behind = seenFromBehind(sheet);
    expect(validateSheet(behind)).toEqual([]);
    sheet.creaseKind.forEach((kind, e) => {
      const other = kind === KIND.mountain ? KIND.valley : kind === KIND.valley ? KIND.mountain : kind;
      expect(behind.creaseKind[e]).toBe(other);
      if (kind !== KIND.edge) expect(behind.creaseAngle[e]).toBe(-sheet.creaseAngle[e]!);
      expect(creaseLength(behind, e)).toBeCloseTo(creaseLength(sheet, e), 15);
    });
    expect(checkSheet(behind)).toEqual([]);
  });

  test('twice gives the sheet back', () => {
    const back = seenFromBehind(seenFromBehind(sheet));
    expect(back.halfEdgeNext).toEqual(sheet.halfEdgeNext);
    expect(back.halfEdgePanel).toEqual(sheet.halfEdgePanel);
    expect(back.creaseAngle).toEqual(sheet.creaseAngle);
  });

  test('a panel stays the same panel', () => {
    const mirrored = mirrorSheet(sheet);
    for (const [x, y] of [
      [0.05, 0.02],
      [0.5, 0.3],
      [0.93, 0.9],
    ] as const) {
      expect(panelContaining(mirrored, 1 - x, y)).toBe(panelContaining(sheet, x, y));
    }
  });
});

describe('the validator finds what is broken', () => {
  const sheet = buildSheet(model('S4')).sheet!;
  const leftmost = interiorVertices(sheet).reduce((best, v) =>
    sheet.vertexX[v]! < sheet.vertexX[best]! ? v : best,
  );
  test.each([
    ['a next link', () => ({ ...sheet, halfEdgeNext: sheet.halfEdgeNext.with(0, sheet.halfEdgeNext[5]!) })],
    [
      'a panel of a half-edge',
      () => ({ ...sheet, halfEdgePanel: sheet.halfEdgePanel.with(7, 0 === sheet.halfEdgePanel[7] ? 1 : 0) }),
    ],
    ['a raw edge drawn as fold', () => ({ ...sheet, creaseKind: sheet.creaseKind.with(0, KIND.valley) })],
    ['a vertex moved across a crease', () => ({ ...sheet, vertexX: sheet.vertexX.with(leftmost, 0.97) })],
    ['a lost panel', () => ({ ...sheet, panelRings: sheet.panelRings.slice(1) })],
    ['a list too short', () => ({ ...sheet, creaseAngle: sheet.creaseAngle.slice(1) })],
  ])('%s', (_, make) => {
    expect(validateSheet(make()).length).toBeGreaterThan(0);
  });
});
