import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leavesOf } from '../../../src/core/layer/leaves.ts';
import { layerOrders } from '../../../src/core/layer/order.ts';
import { groupByPlane } from '../../../src/core/layer/planes.ts';
import { flatOfCut, layersInSection, type Section, sectionOf } from '../../../src/core/layer/section.ts';
import { sectionPaths } from '../../../src/core/layer/section-path.ts';
import { layersAt, stacksOf } from '../../../src/core/layer/stacks.ts';
import { dot, type Space } from '../../../src/core/numeric/vector.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { sampleLesson } from '../../support/lessons.ts';

function finished(name: string) {
  const { sheet } = sampleLesson(name);
  const angle = sheet.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const placement = placePanels(sheet, angle, panelContaining(sheet, 0.5, 2.2 / 7));
  const { order } = layerOrders(sheet, angle, placement);
  const stacks = stacksOf(groupByPlane(sheet, placement), order);
  return { sheet, placement, order, stacks, leaves: leavesOf(sheet, placement, stacks) };
}

type Model = ReturnType<typeof finished>;

/** Layers that the section shows at a place of a cut, from the innermost out, and those that the stacks hold there. */
function bothWays({ placement, stacks, leaves }: Model, section: Section, cut: number, share: number) {
  const { from, to, group, panel } = section.cuts[cut]!;
  const at = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])] as const;
  const shown = layersInSection(section, leaves, group, at);
  const here = layersAt(stacks, placement, panel, flatOfCut(section, placement, section.cuts[cut]!, at));
  return { shown, stacked: leaves.outward[group]! > 0 ? [...here.panels] : [...here.panels].reverse() };
}

const samples = ['pencil-case', 'cuffed-tray', 'ticket-wallet', 'twist-coaster', 'planter-sleeve'];
const seed = 41109;

describe('a section', () => {
  for (const name of samples) {
    const model = finished(name);

    it(`of the finished ${name} shows the layers of the stacks in their order, wherever it is cut (seed ${seed})`, () => {
      let compared = 0;
      fc.assert(
        fc.property(
          fc.double({ min: 0, max: Math.PI, noNaN: true }),
          fc.double({ min: 0.02, max: 0.98, noNaN: true }),
          fc.double({ min: 0.05, max: 0.95, noNaN: true }),
          (turn, share, place) => {
            const normal: Space = [Math.cos(turn), Math.sin(turn), 0];
            const reach = [...extent(model, normal)] as [number, number];
            const offset = reach[0] + share * (reach[1] - reach[0]);
            const section = sectionOf(model.placement, model.leaves, { normal, offset });
            section.cuts.forEach((_, cut) => {
              const { shown, stacked } = bothWays(model, section, cut, place);
              expect(shown).toEqual(stacked);
              compared++;
            });
          },
        ),
        { seed, numRuns: 60 },
      );
      expect(compared).toBeGreaterThan(200);
    });

    it(`of the finished ${name} hangs together: every end is a raw edge or goes on (seed ${seed})`, () => {
      fc.assert(
        fc.property(
          fc.double({ min: 0, max: Math.PI, noNaN: true }),
          fc.double({ min: 0.05, max: 0.95, noNaN: true }),
          (turn, share) => {
            const normal: Space = [Math.cos(turn), Math.sin(turn), 0];
            const [low, high] = extent(model, normal);
            const section = sectionOf(model.placement, model.leaves, {
              normal,
              offset: low + share * (high - low),
            });
            const { sheet } = model;
            const onRaw = ([x, y]: readonly [number, number]) =>
              Array.from(sheet.creaseKind.keys()).some((e) => {
                if (sheet.creaseKind[e] !== 4) return false;
                const [a, b] = [sheet.creaseFrom[e]!, sheet.creaseTo[e]!];
                const [dx, dy] = [
                  sheet.vertexX[b]! - sheet.vertexX[a]!,
                  sheet.vertexY[b]! - sheet.vertexY[a]!,
                ];
                const off = (x - sheet.vertexX[a]!) * dy - (y - sheet.vertexY[a]!) * dx;
                return Math.abs(off) / Math.hypot(dx, dy) < 1e-6;
              });
            section.cuts.forEach(({ flatTo, flatFrom }, cut) => {
              if (!onRaw(flatTo)) expect(section.joins.some(({ before }) => before === cut)).toBe(true);
              if (!onRaw(flatFrom)) expect(section.joins.some(({ after }) => after === cut)).toBe(true);
            });
            const drawn = sectionPaths(section, 0.01).flat();
            expect(drawn.filter(({ kind }) => kind === 'line')).toHaveLength(section.cuts.length);
            for (let k = 1; k < drawn.length; k++) expect(drawn[k]!.from.every(Number.isFinite)).toBe(true);
          },
        ),
        { seed, numRuns: 60 },
      );
    });
  }

  it('through the front corner of the pencil case shows five layers, mid-wall two, in the order of `layers`', () => {
    // Scenario S1: front wall, flap, flap hem and two gussets at the corner; wall and flap in the middle.
    const model = finished('pencil-case');
    const { order, stacks, leaves, placement } = model;
    const deepest = (x: number) => {
      const section = sectionOf(placement, leaves, { normal: [1, 0, 0], offset: x });
      const lists = section.cuts.flatMap((_, cut) =>
        [0.1, 0.3, 0.5, 0.7, 0.9].map((s) => bothWays(model, section, cut, s).shown),
      );
      return lists.sort((a, b) => b.length - a.length)[0]!;
    };
    const corner = deepest(1.2 / 7);
    expect(corner).toHaveLength(5);
    expect(deepest(3.5 / 7)).toHaveLength(2);
    const group = stacks.planes.groupOf[corner[0]!]!;
    const outward = leaves.outward[group]!;
    for (let k = 1; k < corner.length; k++) {
      const [inner, outer] = [corner[k - 1]!, corner[k]!];
      const told = order.find(([f, g]) => (f === inner && g === outer) || (f === outer && g === inner))!;
      const [f, g, side] = told;
      // f lies on the side of g that faced up at the start when side is 1
      const fAlongNormal = side * stacks.planes.up[g]!;
      expect(fAlongNormal * outward).toBe(f === outer ? 1 : -1);
    }
  });

  it('keeps the side that faced up at the start on the right, all along a stroke', () => {
    const { placement, leaves } = finished('pencil-case');
    const section = sectionOf(placement, leaves, { normal: [1, 0, 0], offset: 0.5 });
    for (const { panel, from, to } of section.cuts) {
      const way = [to[0] - from[0], to[1] - from[1]] as const;
      const right: Space = [0, 1, 2].map(
        (k) => way[1] * section.across[k as 0]! - way[0] * section.up[k as 0]!,
      ) as unknown as Space;
      const q = placement.rotation;
      const [x, y, z, w] = [0, 1, 2, 3].map((k) => q[4 * panel + k]!) as [number, number, number, number];
      const normal: Space = [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)];
      expect(dot(right, normal)).toBeGreaterThan(0);
    }
  });
});

function extent({ sheet, placement, leaves }: Model, normal: Space): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const { panel, rings } of leaves.leaves)
    for (const ring of rings)
      for (let k = 0; k < ring.length; k += 2) {
        const q = placement.rotation;
        const [x, y, z, w] = [0, 1, 2, 3].map((c) => q[4 * panel + c]!) as [number, number, number, number];
        const [px, py] = [ring[k]!, ring[k + 1]!];
        const at: Space = [
          (1 - 2 * (y * y + z * z)) * px + 2 * (x * y - w * z) * py + placement.translation[3 * panel]!,
          2 * (x * y + w * z) * px + (1 - 2 * (x * x + z * z)) * py + placement.translation[3 * panel + 1]!,
          2 * (x * z - w * y) * px + 2 * (y * z + w * x) * py + placement.translation[3 * panel + 2]!,
        ];
        low = Math.min(low, dot(at, normal));
        high = Math.max(high, dot(at, normal));
      }
  expect(sheet.panelRings.length).toBeGreaterThan(0);
  return [low, high];
}
