/** Folds made on the folded model: paper on the moving side ends as its mirror image in the line, layer upon layer. */
import { describe, expect, it } from 'vitest';
import { groupByPlane, type Space } from '../../../src/core/layer/planes.ts';
import type { LayerOrder } from '../../../src/core/layer/problem.ts';
import { stacksOf } from '../../../src/core/layer/stacks.ts';
import { withFoldAcross } from '../../../src/core/lesson/edit-steps.ts';
import { foldAcross } from '../../../src/core/lesson/fold-across.ts';
import type { Lesson } from '../../../src/core/lesson/lesson.ts';
import { sheetOfLesson } from '../../../src/core/lesson/sheet-of-lesson.ts';
import { stagesOfLesson } from '../../../src/core/lesson/stages.ts';
import { layersOfStep } from '../../../src/core/lesson/step-layers.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels, placePoint } from '../../../src/core/pose/place.ts';
import type { Sheet } from '../../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { endOf, runStep } from '../../support/folded-models.ts';

const empty: Lesson = {
  format: 'creaseway-lesson',
  version: 1,
  title: 'Square',
  place: '',
  credit: { maker: '', status: '' },
  sheet: {
    size: 150,
    sideUp: 'b',
    sides: { a: { name: 'A', colour: '#336699' }, b: { name: 'B', colour: '#ffffff' } },
  },
  pattern: {
    outline: [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ],
    lines: [],
  },
  steps: [],
};

const still: [number, number] = [0.02, 0.03];
const stillPanel = (sheet: Sheet) => panelContaining(sheet, ...still);

/** Folds all steps; gives the pose, its layers and whether every step was rigid. */
function foldAll(lesson: Lesson) {
  const { sheet } = sheetOfLesson(lesson);
  if (!sheet) throw new Error('no sheet');
  const { stages } = stagesOfLesson(lesson, sheet);
  let angle: Float64Array = new Float64Array(sheet.creaseKind.length);
  let order: LayerOrder = [];
  const outcomes: string[] = [];
  const troubles: string[] = [];
  stages.forEach((stage, step) => {
    const track = runStep(sheet, angle, stage);
    outcomes.push(track.report.outcome);
    angle = endOf(track);
    const layers = layersOfStep(
      {
        ...{ step, title: '', stepKind: 'fold', sheet, sheetSize: 150, still: stillPanel(sheet) },
        ...{ poses: track.poses, before: order, asked: [] },
      },
      () => false,
    );
    troubles.push(
      ...layers.findings.filter(({ severity }) => severity === 'error').map(({ message }) => message),
    );
    order = layers.order;
  });
  const placement = placePanels(sheet, angle, stillPanel(sheet));
  return { sheet, angle, placement, order, outcomes, troubles };
}

function placeOf(pose: ReturnType<typeof foldAll>, x: number, y: number): Space {
  const at = new Float64Array(3);
  placePoint(at, 0, pose.placement, panelContaining(pose.sheet, x, y), x, y);
  return [at[0]!, at[1]!, at[2]!];
}

describe('all layers folded across random lines', () => {
  for (let seed = 1; seed <= 10; seed++)
    it(`seed ${seed}: three folds, each a mirror`, () => {
      const random = seededRandom(seed * 101);
      let lesson = empty;
      let cut = [1.1, 1.1];
      const points = Array.from({ length: 60 }, () => [random(), random()] as const);
      for (let fold = 0; fold < 3; fold++) {
        const before = foldAll(lesson);
        const planes = groupByPlane(before.sheet, before.placement);
        expect(planes.groups.length).toBe(1);
        // a line that leaves the still corner on its right
        cut = cut.map((one) => one * (0.55 + 0.3 * random()));
        const from: Space = [cut[0]!, 0, 0];
        const to: Space = [0, cut[1]!, 0];
        const toward = random() < 0.5 ? 1 : -1;
        const up = planes.groups[0]!.normal[2] > 0 ? 1 : -1;
        const [a, b] = toward * up > 0 ? [to, from] : [from, to];
        const folded = foldAcross({
          ...before,
          stacks: stacksOf(planes, before.order),
          group: 0,
          from: a,
          to: b,
          toward: toward as 1 | -1,
          panels: Array.from(before.sheet.panelRings.keys()),
          whole: false,
        });
        if ('refused' in folded) throw new Error(folded.refused);
        lesson = withFoldAcross(lesson, fold - 1, before.sheet, folded, 'Fold');
        const after = foldAll(lesson);
        expect(after.outcomes).toEqual(Array.from({ length: fold + 1 }, () => 'rigid'));
        expect(after.troubles).toEqual([]);
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const [nx, ny] = [(a[1] - b[1]) / length, (b[0] - a[0]) / length];
        for (const [x, y] of points) {
          const [px, py] = placeOf(before, x, y);
          const off = (px - a[0]) * nx + (py - a[1]) * ny;
          const moves = off * toward * up > 0;
          const [qx, qy, qz] = placeOf(after, x, y);
          expect(qx).toBeCloseTo(moves ? px - 2 * off * nx : px, 6);
          expect(qy).toBeCloseTo(moves ? py - 2 * off * ny : py, 6);
          expect(qz).toBeCloseTo(0, 6);
        }
      }
    });
});

describe('some layers only', () => {
  it('one flap of a square folded in half is folded without the other; what hangs on it is named', () => {
    const half = withFoldAcross(
      empty,
      -1,
      sheetOfLesson(empty).sheet!,
      { creases: [{ from: [0, 0.5], to: [1, 0.5], angle: Math.PI }], existing: [] },
      'Half',
    );
    const pose = foldAll(half);
    const planes = groupByPlane(pose.sheet, pose.placement);
    const stacks = stacksOf(planes, pose.order);
    const [top] = [panelContaining(pose.sheet, 0.5, 0.9)];
    const common = { ...pose, stacks, group: 0, toward: 1 as const, panels: [top], whole: false };
    const up = planes.groups[0]!.normal[2] > 0;
    // the raw edge of the upper flap lies at y = 0: fold back what is below y = 0.2
    const [a, b]: [Space, Space] = [
      [0, 0.2, 0],
      [1, 0.2, 0],
    ];
    const flap = foldAcross({ ...common, from: up ? b : a, to: up ? a : b });
    expect('creases' in flap && flap.creases.length).toBe(1);
    // the other side holds the folded edge, where both layers hang together
    const edge = foldAcross({ ...common, from: up ? a : b, to: up ? b : a });
    expect('refused' in edge && edge.refused).toMatch(/hangs together/);
    const both = foldAcross({ ...common, from: up ? a : b, to: up ? b : a, whole: true });
    expect('creases' in both && both.creases.length).toBe(2);
  });
});
