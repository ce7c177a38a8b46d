import { describe, expect, it } from 'vitest';
import { type Leaves, leavesOf } from '../../../src/core/layer/leaves.ts';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { groupByPlane } from '../../../src/core/layer/planes.ts';
import { layersAt, type Stacks, stacksOf } from '../../../src/core/layer/stacks.ts';
import { type Placement, placePanels } from '../../../src/core/pose/place.ts';
import { NONE, type Sheet } from '../../../src/core/sheet/sheet.ts';
import { panelArea, panelContaining } from '../../../src/core/sheet/walk.ts';
import { sampleLesson } from '../../support/lessons.ts';

function finished(name: string): { sheet: Sheet; placement: Placement; stacks: Stacks; leaves: Leaves } {
  const { sheet } = sampleLesson(name);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const placement = placePanels(sheet, angle, panelContaining(sheet, 0.51, 0.52));
  const { order } = layerOrders(sheet, angle, placement);
  const stacks = stacksOf(groupByPlane(sheet, placement), order);
  return { sheet, placement, stacks, leaves: leavesOf(sheet, placement, stacks) };
}

const samples = ['pencil-case', 'cuffed-tray', 'ticket-wallet', 'twist-coaster', 'planter-sleeve'];

const ringArea = (ring: readonly number[]) => {
  let twice = 0;
  for (let k = 0; k < ring.length; k += 2) {
    const m = (k + 2) % ring.length;
    twice += ring[k]! * ring[m + 1]! - ring[m]! * ring[k + 1]!;
  }
  return twice / 2;
};

for (const name of samples)
  describe(`leaves of the finished ${name}`, () => {
    const { sheet, placement, stacks, leaves } = finished(name);

    it('cover every panel once (areas, plane geometry)', () => {
      const area = new Float64Array(sheet.panelRings.length);
      for (const { panel, rings } of leaves.leaves) for (const ring of rings) area[panel]! += ringArea(ring);
      area.forEach((value, panel) => {
        expect(value).toBeCloseTo(panelArea(sheet, panel), 9);
      });
    });

    it('rise outward in the order of the stacks over every cell, the innermost at 0 somewhere', () => {
      stacks.over.forEach((cells, group) => {
        const outward = leaves.outward[group]!;
        cells.forEach((panels, cell) => {
          const rise = panels.map((panel) => {
            const leaf = leaves.leaves.find((one) => one.panel === panel && one.cells.includes(cell))!;
            return leaf.rise * stacks.planes.up[panel]! * outward;
          });
          for (let k = 1; k < rise.length; k++)
            expect((rise[k]! - rise[k - 1]!) * outward).toBeGreaterThan(0);
          for (const one of rise) expect(one).toBeGreaterThanOrEqual(0);
        });
      });
    });

    it('are joined along the whole of every crease, and stepping panels along their steps', () => {
      const length = new Float64Array(sheet.creaseKind.length);
      for (const { crease, ends, first, second } of leaves.seams) {
        const [x1, y1, x2, y2] = ends;
        if (crease === NONE) expect(leaves.leaves[first]!.panel).toBe(leaves.leaves[second]!.panel);
        else length[crease]! += Math.hypot(x2 - x1, y2 - y1);
      }
      length.forEach((value, e) => {
        const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
        const whole = Math.hypot(
          sheet.vertexX[a]! - sheet.vertexX[b]!,
          sheet.vertexY[a]! - sheet.vertexY[b]!,
        );
        if (sheet.creaseKind[e]! < 3) expect(value).toBeCloseTo(whole, 6);
      });
    });

    it('lie over one another as layersAt says', () => {
      for (const leaf of leaves.leaves) {
        const ring = leaf.rings[0]!;
        // a point just inside the first corner's middle, by its first three corners
        const [x, y] = [0, 1].map((c) => (ring[c]! + ring[2 + c]! + ring[4 + c]!) / 3) as [number, number];
        if (panelContaining(sheet, x, y) !== leaf.panel) continue;
        const here = layersAt(stacks, placement, leaf.panel, [x, y]);
        if (!leaf.cells.includes(here.cell)) continue;
        expect(here.panels).toContain(leaf.panel);
      }
    });
  });
