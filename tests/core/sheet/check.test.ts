import { describe, expect, test } from 'vitest';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { checkSheet } from '../../../src/core/sheet/check.ts';
import { creasesAround, halfEdgeEnd, interiorVertices } from '../../../src/core/sheet/walk.ts';
import { line, model, modelNames, outline, square } from './drawings.ts';

describe('models', () => {
  // source: values/models.json, checked at 50 digits before this tool existed
  test.each(modelNames)('%s closes everywhere', (name) => {
    expect(checkSheet(buildSheet(model(name)).sheet!)).toEqual([]);
  });

  // common practice, no source: a corner that moves spoils itself or a neighbour, and nothing farther off
  test('S1 with any one corner moved by 1 mm names it, each with its value', () => {
    const sheet = buildSheet(model('S1')).sheet!;
    for (const vertex of interiorVertices(sheet)) {
      const vertexX = sheet.vertexX.with(vertex, sheet.vertexX[vertex]! + 0.8 / 210);
      const vertexY = sheet.vertexY.with(vertex, sheet.vertexY[vertex]! - 0.6 / 210);
      const found = checkSheet({ ...sheet, vertexX, vertexY });
      expect(found.every((f) => f.code === 'vertex-closure' && f.value! > f.limit!)).toBe(true);
      const named = found.flatMap((f) => f.vertices);
      expect(named).toContain(vertex);
      const near = [vertex, ...Array.from(creasesAround(sheet, vertex), (h) => halfEdgeEnd(sheet, h))];
      for (const v of named) expect(near).toContain(v);
    }
  });
});

describe('holes', () => {
  const hole = outline([0.4, 0.4], [0.6, 0.4], [0.6, 0.6], [0.4, 0.6]);

  // common practice, no source: one straight line on both sides of a hole folds, lines side by side do not
  test('a fold that passes a hole along one line closes', () => {
    const { sheet } = buildSheet([
      ...square(),
      ...hole,
      line(0, 0.5, 0.4, 0.5, 'valley', 1),
      line(0.6, 0.5, 1, 0.5, 'valley', 1),
    ]);
    expect(checkSheet(sheet!)).toEqual([]);
  });

  test('parallel lines on its two sides turn back alike but leave a gap', () => {
    const { sheet } = buildSheet([
      ...square(),
      ...hole,
      line(0, 0.45, 0.4, 0.45, 'valley', 1),
      line(0.6, 0.55, 1, 0.55, 'valley', 1),
    ]);
    const [found, ...more] = checkSheet(sheet!);
    expect(more).toEqual([]);
    expect(found!.code).toBe('hole-closure');
    // by hand: turning by 1 radian about one line and back about another 0.1 away shifts by the chord 2 sin(1/2) 0.1
    expect(found!.value).toBeCloseTo(2 * Math.sin(0.5) * 0.1, 12);
  });

  test('one line that ends at a hole cannot fold', () => {
    const { sheet } = buildSheet([...square(), ...hole, line(0, 0.5, 0.4, 0.5, 'valley', 1)]);
    const [found] = checkSheet(sheet!);
    expect(found!.code).toBe('hole-closure');
    expect(found!.value).toBeCloseTo(1, 12);
  });
});

describe('undecided creases', () => {
  // the corner of a box: two walls stand up at 90 degrees, the paper between them is folded flat on one of them
  const corner = (standing: number) =>
    buildSheet([
      ...square(),
      line(0.5, 0.5, 1, 0.5, 'valley', Math.PI / 2),
      line(0.5, 0.5, 0.5, 1, 'valley', standing),
      line(0.5, 0.5, 0, 0.5, 'valley', Math.PI / 2),
      line(0.5, 0.5, 0, 0, 'unassigned'),
      line(0.5, 0.5, 0.5, 0, 'unassigned'),
    ]).sheet!;

  test('each is tried both ways: some way closes, and where none does that is told', () => {
    expect(checkSheet(corner(Math.PI / 2))).toEqual([]);
    expect(checkSheet(corner(Math.PI / 3)).map(({ code, severity }) => [code, severity])).toEqual([
      ['vertex-closure', 'error'],
    ]);
  });
});
