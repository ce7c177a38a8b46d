/** Crossings of single poses, worked out by hand. */
import { describe, expect, test } from 'vitest';
import { BoxTree } from '../../../src/core/contact/boxes.ts';
import { crossingsOfPose } from '../../../src/core/contact/crossings.ts';
import { type PosedPanels, posePanels, shapesOf } from '../../../src/core/contact/shapes.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { miuraSheet, PatternMaker, radians, vertexSheet } from '../../support/patterns.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

function crossings(lengths: readonly number[], angles: readonly number[], width = 1) {
  const strip = hingedStrip(lengths, width);
  const { angle } = runOf(strip, [angles])[0]!;
  const found = crossingsOfPose(strip.sheet, placePanels(strip.sheet, angle, strip.panels[0]!));
  return found.map(({ panels, depth, at }) => ({
    panels: panels.map((panel) => strip.panels.indexOf(panel)).sort((a, b) => a - b),
    depth: depth / strip.unit,
    at: at.map(([x, y]) => [x / strip.unit, y / strip.unit]),
  }));
}

describe('strips of paper in cross-section (plane geometry)', () => {
  test('a tube wound so that its last side stands in the first: cut through in the middle', () => {
    // sides 2, 1, 1, 2 at right angles: the last runs from (1, 1) down to (1, -1), through the first at x = 1
    const [one, ...more] = crossings([2, 1, 1, 2], [90, 90, 90]);
    expect(more).toEqual([]);
    expect(one!.panels).toEqual([0, 3]);
    // half of the last side is through, half of the first lies on either side of it; the slide is the width, 1
    expect(one!.depth).toBeCloseTo(1, 9);
    expect(one!.at).toHaveLength(2);
    for (const [, y] of one!.at) expect(y).toBeCloseTo(0.5, 6);
  });

  test('one that only reaches the first side touches it, and does not cross', () => {
    expect(crossings([2, 1, 1, 1], [90, 90, 90])).toEqual([]);
  });

  test('a side that ends in another, by a tenth: a tenth deep', () => {
    expect(crossings([2, 1, 1, 1.1], [90, 90, 90]).map(({ depth }) => depth)).toEqual([
      expect.closeTo(0.1, 9),
    ]);
  });

  test('a strip rolled flat lies on itself and does not cross', () => {
    expect(crossings([1, 1, 1, 1], [180, 180, 180])).toEqual([]);
    expect(crossings([1, 1, 1, 1], [180, -180, 180])).toEqual([]);
  });

  test('a square tube wound twice lies on itself', () => {
    expect(crossings([1, 1, 1, 1, 1, 1, 1], [90, 90, 90, 90, 90, 90])).toEqual([]);
  });
});

describe('fans round one point', () => {
  const cross = (sectors: readonly number[], angles: readonly number[]) => {
    const sheet = vertexSheet(sectors, angles);
    const angle = new Float64Array(sheet.creaseKind.length);
    angles.forEach((degrees, k) => {
      angle[k] = degrees * radians;
    });
    return crossingsOfPose(sheet, placePanels(sheet, angle, 0)).map(({ panels }) => panels);
  };

  test('a box corner whose gusset goes through nothing', () => {
    expect(cross([90, 90, 45, 45, 90], [90, 90, 180, -180, 90])).toEqual([]);
  });

  test('three narrow sectors with a wide one, folded so that two wedges pass through each other', () => {
    // a cut fan: sectors 0-60, 60-120, 120-180 and 180-300 of a disc that is open from 300 to 360
    const maker = new PatternMaker();
    const centre = maker.point(0, 0);
    const rim = [0, 60, 120, 180, 300].map((d) => maker.point(Math.cos(d * radians), Math.sin(d * radians)));
    rim.forEach((end, k) => {
      maker.line(centre, end, k === 0 || k === 4 ? 'edge' : 'unassigned');
    });
    for (let k = 0; k < 4; k++) maker.line(rim[k]!, rim[k + 1]!, 'edge');
    const sheet = maker.sheet();
    const pose = (...degrees: number[]) => {
      const angle = new Float64Array(sheet.creaseKind.length);
      degrees.forEach((d, k) => {
        angle[k + 1] = d * radians;
      });
      return crossingsOfPose(sheet, placePanels(sheet, angle, sheet.halfEdgePanel.find((p) => p >= 0)!));
    };
    expect(pose(0, 0, 0)).toEqual([]);
    // the third and fourth turned up by 100 and over by 120: the wide one comes down through the first
    const found = pose(100, 60, 120);
    expect(found.length).toBeGreaterThan(0);
    expect(pose(20, 20, 20)).toEqual([]);
  });
});

test('panels with notches and holes: a wall through a hole crosses nothing, beside it it does', () => {
  // floor 4 x 2 with a window x 0.4..1.6, y 0.5..1.5; the last of the strip comes down on it at x = 1 or at x = 2.5
  const build = (reach: number) => {
    const maker = new PatternMaker();
    const xs = [0, 4, 5, 5 + 4 - reach, 5 + 4 - reach + 2];
    // the last panel is 0.6 wide, the window 1: it passes without touching
    const wide = xs.map(
      (x, k) => [maker.point(x, k < 4 ? 0 : 0.7), maker.point(x, k < 4 ? 2 : 1.3)] as const,
    );
    const tip = [maker.point(xs[3]!, 0.7), maker.point(xs[3]!, 1.3)] as const;
    maker.line(wide[0]![0], wide[0]![1], 'edge');
    for (const k of [0, 1, 2])
      for (const s of [0, 1] as const) maker.line(wide[k]![s], wide[k + 1]![s], 'edge');
    const creases = [1, 2].map((k) => maker.line(wide[k]![0], wide[k]![1], 'unassigned'));
    maker.line(wide[3]![0], tip[0], 'edge');
    creases.push(maker.line(tip[0], tip[1], 'unassigned'));
    maker.line(tip[1], wide[3]![1], 'edge');
    for (const s of [0, 1] as const) maker.line(tip[s], wide[4]![s], 'edge');
    maker.line(wide[4]![0], wide[4]![1], 'edge');
    const hole = [
      [0.4, 0.5],
      [1.6, 0.5],
      [1.6, 1.5],
      [0.4, 1.5],
    ].map(([x, y]) => maker.point(x!, y!));
    hole.forEach((corner, k) => {
      maker.line(corner, hole[(k + 1) % 4]!, 'edge');
    });
    const sheet = maker.sheet();
    const angle = new Float64Array(sheet.creaseKind.length);
    for (const e of creases) angle[e] = 90 * radians;
    return crossingsOfPose(sheet, placePanels(sheet, angle, sheet.halfEdgePanel[2 * creases[0]!]!));
  };
  expect(build(1)).toEqual([]);
  expect(build(2.5)).toHaveLength(1);
});

const boxesOf = (posed: PosedPanels, margin: number) => {
  const { panels, first } = posed.shapes;
  return Array.from({ length: panels }, (_, panel) =>
    [0, 1, 2].map((axis) => {
      const values: number[] = [];
      for (let c = first[panel]!; c < first[panel + 1]!; c++) values.push(posed.corner[3 * c + axis]!);
      return [Math.min(...values) - margin, Math.max(...values) + margin] as const;
    }),
  );
};

function meeting(boxes: ReturnType<typeof boxesOf>): string[] {
  const pairs: string[] = [];
  for (let a = 0; a < boxes.length; a++)
    for (let b = a + 1; b < boxes.length; b++)
      if (boxes[a]!.every(([low, high], axis) => low <= boxes[b]![axis]![1] && boxes[b]![axis]![0] <= high))
        pairs.push(`${a},${b}`);
  return pairs;
}

describe('the tree of boxes', () => {
  const sheet = miuraSheet(7, 6);
  const shapes = shapesOf(sheet);
  const tree = new BoxTree(shapes);
  const pairs = () => {
    const found: string[] = [];
    tree.pairs((a, b) => found.push(`${a},${b}`));
    return found;
  };
  const random = seededRandom(4);
  const angle = Float64Array.from(sheet.creaseKind, () => 3 * (random() - 0.5));
  const turn = Float64Array.from(sheet.creaseKind, () => 0.03 * (random() - 0.5));
  const at = (part: number) =>
    posePanels(
      shapes,
      placePanels(
        sheet,
        angle.map((a, e) => a + part * turn[e]!),
        0,
      ),
    );

  test('gives every pair whose boxes meet, once; seed 4', () => {
    tree.fit(at(0), at(0), 0.01);
    expect(pairs().sort()).toEqual(meeting(boxesOf(at(0), 0.005)).sort());
  });

  test('and every pair whose boxes meet anywhere between two poses', () => {
    tree.fit(at(0), at(1), 0);
    const found = new Set(pairs());
    expect(found.size).toBe(pairs().length);
    for (let k = 0; k <= 20; k++)
      for (const pair of meeting(boxesOf(at(k / 20), 0))) expect([...found]).toContain(pair);
    expect(found.size).toBeLessThan((shapes.panels * (shapes.panels - 1)) / 2);
  });
});
