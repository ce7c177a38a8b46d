import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { posePanels, shapesOf } from '../../src/core/contact/shapes.ts';
import { levelsOf } from '../../src/core/drawn/levels.ts';
import { leavesOfPanels } from '../../src/core/layer/leaves.ts';
import { type Placement, placePanels } from '../../src/core/pose/place.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { leafMesh } from '../../src/scene/leaf-mesh.ts';
import { panelMesh } from '../../src/scene/panel-mesh.ts';
import { type PickedModel, pickModel } from '../../src/scene/pick.ts';

const half = Math.PI;

/** A strip of three panels, 3 x 1, with two creases across. */
function strip(): Sheet {
  const edge = (x1: number, y1: number, x2: number, y2: number): Segment => ({
    x1,
    y1,
    x2,
    y2,
    kind: 'edge',
  });
  const { sheet } = buildSheet([
    edge(0, 0, 3, 0),
    edge(3, 0, 3, 1),
    edge(3, 1, 0, 1),
    edge(0, 1, 0, 0),
    { x1: 1, y1: 0, x2: 1, y2: 1, kind: 'valley', angle: half },
    { x1: 2, y1: 0, x2: 2, y2: 1, kind: 'valley', angle: half },
  ]);
  return sheet!;
}

function creaseAt(sheet: Sheet, x: number): number {
  for (let e = 0; e < sheet.creaseKind.length; e++) {
    const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
    if (Math.abs(sheet.vertexX[a]! - x) + Math.abs(sheet.vertexX[b]! - x) < 1e-9) return e;
  }
  throw new Error(`no crease at ${x}`);
}

/** Places the strip with the two creases at the given angles, the middle panel still. */
function foldStrip(sheet: Sheet, left: number, right: number) {
  const angle = new Float64Array(sheet.creaseKind.length);
  angle[creaseAt(sheet, 1 / 3)] = left;
  angle[creaseAt(sheet, 2 / 3)] = right;
  const still = panelContaining(sheet, 0.5, 0.1);
  return { angle, placement: placePanels(sheet, angle, still) };
}

/** Levels of a pose of whose layers nothing is told. */
function levelsUntold(
  sheet: Sheet,
  angle: Float64Array,
  placement: Placement,
  before: (back: number) => Placement | null = () => null,
): Float32Array {
  return levelsOf({ sheet, angle, posed: posePanels(shapesOf(sheet), placement), before }, []);
}

describe('panel mesh', () => {
  it('covers the sheet exactly once: triangle areas add up to the area of the outline (3 x 1 scaled to 1 x 1/3)', () => {
    const mesh = panelMesh(strip());
    let area = 0;
    for (let t = 0; t < mesh.panelOfTriangle.length; t++) {
      const [a, b, c] = [0, 1, 2].map((k) => mesh.triangles[3 * t + k]!) as [number, number, number];
      const x = (k: number) => mesh.flat[2 * k]!;
      const y = (k: number) => mesh.flat[2 * k + 1]!;
      const twice = (x(b) - x(a)) * (y(c) - y(a)) - (y(b) - y(a)) * (x(c) - x(a));
      expect(twice).toBeGreaterThan(0);
      area += twice / 2;
    }
    expect(area).toBeCloseTo(1 / 3, 6);
  });

  it('draws each crease once on each panel beside it, and each raw edge once', () => {
    const sheet = strip();
    const { strips } = leafMesh(sheet, leavesOfPanels(sheet, new Float32Array(3)));
    const count = new Map<number, number>();
    for (const crease of strips.crease) count.set(crease, (count.get(crease) ?? 0) + 1);
    for (let e = 0; e < sheet.creaseKind.length; e++)
      expect(count.get(e)).toBe(sheet.creaseKind[e] === 4 ? 1 : 2);
  });
});

describe('which panel is drawn over which', () => {
  const sheet = strip();
  const left = panelContaining(sheet, 0.1, 0.1);
  const middle = panelContaining(sheet, 0.5, 0.1);
  const right = panelContaining(sheet, 0.9, 0.1);
  /** Height of a level over the table: along the panel's own normal, which a half turn points down. */
  const heights = (levels: Float32Array) => ({
    left: -levels[left]!,
    middle: levels[middle]!,
    right: -levels[right]!,
  });

  it('a panel folded over by a valley lies over its neighbour (definition of valley)', () => {
    const { angle, placement } = foldStrip(sheet, half, 0);
    const { left: over, middle: under } = heights(levelsUntold(sheet, angle, placement));
    expect(over).toBeGreaterThan(under);
  });

  it('a panel folded behind by a mountain lies under it', () => {
    const { angle, placement } = foldStrip(sheet, -half, 0);
    const { left: behind, middle: front } = heights(levelsUntold(sheet, angle, placement));
    expect(behind).toBeLessThan(front);
  });

  it('of two panels folded over the same middle, the later one lies on top: it came from above', () => {
    const { angle, placement } = foldStrip(sheet, half, half);
    // A moment before: the left one lies already, the right one still stands off.
    const before = foldStrip(sheet, half, half * 0.9).placement;
    const one = heights(levelsUntold(sheet, angle, placement, (back) => (back === 0 ? before : null)));
    expect(one.right).toBeGreaterThan(one.left);
    expect(one.left).toBeGreaterThan(one.middle);
    const other = foldStrip(sheet, half * 0.9, half).placement;
    const two = heights(levelsUntold(sheet, angle, placement, (back) => (back === 0 ? other : null)));
    expect(two.left).toBeGreaterThan(two.right);
  });

  it('panels that do not overlap stay on one level', () => {
    const { angle, placement } = foldStrip(sheet, 0, 0);
    expect([...levelsUntold(sheet, angle, placement)]).toEqual([0, 0, 0]);
  });
});

describe('picking on the model', () => {
  const sheet = strip();
  const none = new Float32Array(3);
  const seed = 11261;
  const model = (placement: Placement, rise: Float32Array): PickedModel => {
    const leaves = leavesOfPanels(sheet, rise);
    const off = (leaf: number) => 5e-4 * leaves.leaves[leaf]!.rise;
    const all = () => true;
    return {
      sheet,
      leaves: leaves.leaves,
      mesh: leafMesh(sheet, leaves),
      placement,
      aside: null,
      off,
      solid: all,
      there: all,
    };
  };

  it(`looking straight down on the flat sheet finds the panel that holds the point (seed ${seed})`, () => {
    const { placement } = foldStrip(sheet, 0, 0);
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 0.01, max: 0.32, noNaN: true }),
        (x, y) => {
          const pick = pickModel(model(placement, none), [x, y, 2], [0, 0, -1], 0.002);
          expect(pick?.panel).toBe(panelContaining(sheet, x, y));
          expect(pick?.distance).toBeCloseTo(2, 9);
          expect(pick?.flat[0]).toBeCloseTo(x, 9);
        },
      ),
      { seed },
    );
  });

  it('takes the upper of two panels that lie on one another, from either side', () => {
    const { angle, placement } = foldStrip(sheet, half, 0);
    const levels = levelsUntold(sheet, angle, placement);
    const at: [number, number] = [0.4, 0.1];
    const above = pickModel(model(placement, levels), [...at, 2], [0, 0, -1], 0.002);
    const below = pickModel(model(placement, levels), [...at, -2], [0, 0, 1], 0.002);
    expect(above?.panel).toBe(panelContaining(sheet, 0.1, 0.1));
    expect(below?.panel).toBe(panelContaining(sheet, 0.5, 0.1));
  });

  it('finds a crease within reach and none beyond it', () => {
    const { placement } = foldStrip(sheet, 0, 0);
    const crease = creaseAt(sheet, 1 / 3);
    const near = pickModel(model(placement, none), [1 / 3 + 0.004, 0.15, 1], [0, 0, -1], 0.01);
    expect(near?.crease).toBe(crease);
    const far = pickModel(model(placement, none), [1 / 3 + 0.05, 0.15, 1], [0, 0, -1], 0.01);
    expect(far?.crease).toBeNull();
  });

  it('sees nothing past the rim', () => {
    const { placement } = foldStrip(sheet, 0, 0);
    expect(pickModel(model(placement, none), [1.2, 0.1, 1], [0, 0, -1], 0.01)).toBeNull();
  });
});
