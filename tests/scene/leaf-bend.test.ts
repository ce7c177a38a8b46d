/** What the graphics card is given of bent paper is what picking, section and GLB read off the same bend. */
import { describe, expect, it } from 'vitest';
import { asideAt } from '../../src/core/layer/aside.ts';
import { leavesOfPanels } from '../../src/core/layer/leaves.ts';
import { drawLeaves } from '../../src/scene/drawn-leaves.ts';
import { drawnLesson } from '../support/drawn-as-ordered.ts';
import { sampleOf } from '../support/lessons.ts';

describe('the pencil case while its flap slides in', () => {
  const lesson = drawnLesson(sampleOf('pencil-case'));
  const { sheet } = lesson.run.plan;
  const { mesh, bend } = drawLeaves(
    sheet,
    leavesOfPanels(sheet, new Float32Array(sheet.panelRings.length)),
    true,
  );
  const attributeOf = (list: typeof bend.ofPaper, name: string) => {
    const { attribute } = list.find((one) => one.name === name)!;
    return (k: number) => [attribute.getX(k), attribute.getY(k), attribute.getZ(k)];
  };

  // common practice, no source: the same shifts, looked up slowly, point by point
  it.each([0.6, 0.2, 1])('is bent at every corner and every end of a line, at share %f', (share) => {
    const aside = lesson.drawnAt(4, share).drawn.aside!;
    bend.take(aside);
    const same = (given: number[], panel: number, x: number, y: number) => {
      asideAt(aside, panel, x, y).forEach((value, k) => {
        expect(given[k]).toBeCloseTo(value, 7);
      });
    };
    const [corner, seamEnd] = ['aside', 'asideEnd'].map((name) => attributeOf(bend.ofPaper, name));
    let bent = 0;
    for (let k = 0; k < mesh.panel.length; k++) {
      same(corner!(k), mesh.panel[k]!, mesh.flat[2 * k]!, mesh.flat[2 * k + 1]!);
      if (corner!(k).some((value) => value !== 0)) bent++;
      if (mesh.seam[k] !== 0)
        same(seamEnd!(k), mesh.panel[k]!, mesh.seamEnds[4 * k + 2]!, mesh.seamEnds[4 * k + 3]!);
    }
    expect(bent).toBeGreaterThan(50);
    const [start, inward] = ['asideStart', 'asideInward'].map((name) => attributeOf(bend.ofLines, name));
    const { ends, span, inward: way, panel } = mesh.strips;
    for (let k = 0; k < panel.length; k++) {
      const at = (along: number, deep: number) =>
        [0, 1].map(
          (axis) =>
            ends[4 * k + axis]! +
            along * (ends[4 * k + 2 + axis]! - ends[4 * k + axis]!) +
            deep * way[2 * k + axis]!,
        ) as [number, number];
      same(start!(k), panel[k]!, ...at(span[2 * k]!, 0));
      const middle = (span[2 * k]! + span[2 * k + 1]!) / 2;
      const [on, within] = [0, 1e-4].map((deep) => asideAt(aside, panel[k]!, ...at(middle, deep)));
      within!.forEach((value, axis) => {
        expect(inward!(k)[axis]).toBeCloseTo((value - on![axis]!) / 1e-4, 4);
      });
    }
  });

  it('lies flat again where nothing is bent', () => {
    bend.take(null);
    for (const { attribute } of [...bend.ofPaper, ...bend.ofLines])
      expect(attribute.array.every((value) => value === 0)).toBe(true);
  });
});
