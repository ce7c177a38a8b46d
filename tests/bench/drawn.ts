/** What a frame costs in which paper grazes and is bent aside, against one in which none does, of the same lesson. */
import { shapesOf } from '../../src/core/contact/shapes.ts';
import { BENT_FINENESS } from '../../src/core/layer/aside.ts';
import { leavesOfPanels } from '../../src/core/layer/leaves.ts';
import { stillPointOf } from '../../src/core/run/stages.ts';
import { TrackBoard } from '../../src/desk/play/board.ts';
import { Painter } from '../../src/desk/play/painter.ts';
import { LeafBend } from '../../src/scene/leaf-bend.ts';
import { leafMesh } from '../../src/scene/leaf-mesh.ts';
import { drawnLesson } from '../support/drawn-as-ordered.ts';
import { sampleOf } from '../support/lessons.ts';
import { heading, row } from './measure.ts';

const FRAMES = 400;
const ROUNDS = 12;

export function benchDrawn(): void {
  heading(
    'Placing a grazing frame of the pencil case against an ungrazing one (ms of processor time, median)',
  );
  const lesson = sampleOf('pencil-case');
  const { run } = drawnLesson(lesson);
  const { sheet, sheetSize, thickness } = run.plan;
  const paper = { sheetSize: sheetSize ?? undefined, thickness };
  const board = new TrackBoard(sheet, run.steps.length, stillPointOf(lesson, sheet), paper);
  board.paintWith(Painter);
  run.steps.forEach(({ track, end, look }, k) => {
    board.endStep(k, { ...track, sheet: null, reached: 1, end });
    board.learnOrder(k, look!.order, look!.known);
  });
  const places = Array.from({ length: FRAMES }, (_, k) => (run.steps.length * (k + 0.5)) / FRAMES);
  const grazes = places.map((place) => board.poseAt(place).aside !== null);
  const leaves = leavesOfPanels(sheet, new Float32Array(shapesOf(sheet).panels));
  const bend = new LeafBend(leafMesh(sheet, leaves, BENT_FINENESS));
  const times: Record<'grazing' | 'plain', number[]> = { grazing: [], plain: [] };
  for (let round = 0; round < ROUNDS; round++)
    for (const kind of ['grazing', 'plain'] as const) {
      const own = places.filter((_, k) => grazes[k] === (kind === 'grazing'));
      const begun = process.cpuUsage().user;
      for (const place of own) bend.take(board.poseAt(place).aside);
      times[kind].push((process.cpuUsage().user - begun) / 1000 / own.length);
    }
  const median = (list: number[]) => list.sort((a, b) => a - b)[list.length >> 1]!;
  const [grazing, plain] = [median(times.grazing), median(times.plain)];
  row(`${grazes.filter(Boolean).length} of ${FRAMES} frames graze`, grazing, plain, 'ratio', grazing / plain);
}
