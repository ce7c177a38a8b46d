import { describe, expect, it } from 'vitest';
import { leavesOf } from '../../src/core/layer/leaves.ts';
import { layerOrders } from '../../src/core/layer/order.ts';
import { groupByPlane } from '../../src/core/layer/planes.ts';
import { layersAt, stacksOf } from '../../src/core/layer/stacks.ts';
import { panelNormal, placeOf, placePanels } from '../../src/core/pose/place.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { leafMesh } from '../../src/scene/leaf-mesh.ts';
import { type PickedModel, pickModel } from '../../src/scene/pick.ts';
import { sampleLesson } from '../support/lessons.ts';

const thickness = 5e-4;

describe.each(['pencil-case', 'cuffed-tray', 'ticket-wallet', 'twist-coaster', 'planter-sleeve'])(
  'the finished %s',
  (name) => {
    const { sheet } = sampleLesson(name);
    const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
    const placement = placePanels(sheet, angle, panelContaining(sheet, 0.51, 0.52));
    const stacks = stacksOf(groupByPlane(sheet, placement), layerOrders(sheet, angle, placement).order);
    const leaves = leavesOf(sheet, placement, stacks);
    const mesh = leafMesh(sheet, leaves);

    it('is picked from either side where the stack says that a panel lies on top', () => {
      let compared = 0;
      leaves.leaves.forEach(({ panel, group }, leaf) => {
        const model: PickedModel = {
          sheet,
          leaves: leaves.leaves,
          mesh,
          placement,
          aside: null,
          off: (one) => thickness * leaves.leaves[one]!.rise,
          // walls that stand before this plane are not asked about
          solid: (one) => stacks.planes.groupOf[one] === group,
          there: () => true,
        };
        for (let t = mesh.firstTriangle[leaf]!; t < mesh.firstTriangle[leaf + 1]!; t++) {
          const corners = [0, 1, 2].map((k) => mesh.triangles[3 * t + k]!);
          // off the middle, which may lie on a line of symmetry
          const shares = [0.37, 0.34, 0.29];
          const [x, y] = [0, 1].map((c) =>
            corners.reduce((sum, corner, k) => sum + shares[k]! * mesh.flat[2 * corner + c]!, 0),
          ) as [number, number];
          const normal = panelNormal(placement, panel);
          const at = placeOf(placement, panel, x, y);
          const here = layersAt(stacks, placement, panel, [x, y]);
          for (const side of [1, -1]) {
            const eye = at.map((value, k) => value + side * normal[k]!) as [number, number, number];
            const way = normal.map((value) => -side * value) as [number, number, number];
            const pick = pickModel(model, eye, way, 0);
            const alongGroup = side * stacks.planes.up[panel]!;
            expect(pick?.panel).toBe(alongGroup > 0 ? here.panels.at(-1) : here.panels[0]);
            compared++;
          }
        }
      });
      expect(compared).toBeGreaterThan(40);
    });

    it('has seams whose triangles run counter-clockwise on a sheet pulled apart at them', () => {
      // Widen every seam on the flat sheet: its first leaf lies to the left, so that moving each side into its own
      // leaf must open the seam with the side up at the start toward the viewer.
      const first = mesh.firstTriangle[leaves.leaves.length]!;
      for (let t = first; t < mesh.triangles.length / 3; t++) {
        const seam = leaves.seams[Math.floor((t - first) / 2)]!;
        const [x1, y1, x2, y2] = seam.ends;
        const corner = (k: number): [number, number] => {
          const at = mesh.triangles[3 * t + k]!;
          const length = Math.hypot(x2 - x1, y2 - y1);
          const by = mesh.seam[at]! * 0.01;
          return [
            mesh.flat[2 * at]! - (by * (y2 - y1)) / length,
            mesh.flat[2 * at + 1]! + (by * (x2 - x1)) / length,
          ];
        };
        const [a, b, c] = [corner(0), corner(1), corner(2)];
        expect((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).toBeGreaterThan(0);
      }
    });
  },
);
