/** Which stacking a tuck takes: the one that holds most if there is one such; else the teacher is asked. */
import { expect, it } from 'vitest';
import { strengthOf } from '../../../src/core/layer/lock/locks.ts';
import { type LayerOrder, LayerProblem } from '../../../src/core/layer/problem.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import type { TrackPose } from '../../../src/core/pose/track.ts';
import { layersOfStep, type StepLayers } from '../../../src/core/run/step-layers.ts';
import { buildSheet } from '../../../src/core/sheet/build.ts';
import { panelContaining } from '../../../src/core/sheet/walk.ts';
import { foldLesson, sampleLesson } from '../../support/lessons.ts';
import { bandWallet } from '../layer/lock-kinds.ts';

/** The two ends of a band wallet turn behind, the right one first, in a step of the given kind. */
function endsBehind(stepKind: 'fold' | 'tuck') {
  const { segments, still: at } = bandWallet({ w: 30, left: 20, right: 20, p: 8, b: 12 });
  const { sheet } = buildSheet(segments);
  const { x, y, scale } = sheet!.frame;
  const still = panelContaining(sheet!, (at[0] - x) / scale, (at[1] - y) / scale);
  const end = sheet!.creaseAngle.map((value) => (Number.isNaN(value) ? 0 : value));
  const middleX = (crease: number) =>
    ((sheet!.vertexX[sheet!.creaseFrom[crease]!]! + sheet!.vertexX[sheet!.creaseTo[crease]!]!) / 2) * scale +
    x;
  const isUpright = (crease: number) =>
    sheet!.vertexX[sheet!.creaseFrom[crease]!] === sheet!.vertexX[sheet!.creaseTo[crease]!];
  const share = (crease: number, at: number) => {
    if (!isUpright(crease)) return 1;
    const late = middleX(crease) < 35;
    return Math.min(1, Math.max(0, late ? 2 * at - 1 : 2 * at));
  };
  const poses = Array.from(
    { length: 101 },
    (_, k): TrackPose => ({
      at: k / 100,
      angle: end.map((value, crease) => value * share(crease, k / 100)),
    }),
  );
  const start = poses[0]!.angle;
  const before = new LayerProblem(sheet!, start, placePanels(sheet!, start, still)).first()!;
  return layersOfStep(
    { step: 0, title: '', stepKind, sheet: sheet!, sheetSize: scale, still, poses, before, asked: [] },
    () => () => false,
  );
}

it('either end may go into the other, and holds as much: the teacher is asked', () => {
  const layers = endsBehind('tuck');
  const strengths = layers.locks.map(strengthOf).sort((a, b) => b - a);
  expect(strengths[0]).toBeGreaterThan(0);
  expect(strengths[1]).toBeCloseTo(strengths[0]!, 12);
  expect(layers.asks).toBe(true);
});

it('a fold lays one end over the other, as it moves them, and asks nothing', () => {
  const layers = endsBehind('fold');
  expect(strengthOf(layers.locks[0]!)).toBe(0);
  expect(layers.asks).toBe(false);
});

it('two gussets hold more than the wall alone: the pencil case takes them and does not ask', () => {
  const { sheet, stages } = sampleLesson('pencil-case');
  const still = panelContaining(
    sheet,
    (3 - sheet.frame.x) / sheet.frame.scale,
    (2 - sheet.frame.y) / sheet.frame.scale,
  );
  const tracks = foldLesson(sheet, stages);
  let before: LayerOrder = [];
  let last: StepLayers | null = null;
  tracks.forEach(({ poses }, step) => {
    const stepKind = step === tracks.length - 1 ? 'lock' : 'tuck';
    last = layersOfStep(
      { step, title: '', stepKind, sheet, sheetSize: 210, still, poses, before, asked: [] },
      () => () => false,
    );
    before = last.order;
  });
  const { locks, asks } = last! as StepLayers;
  expect(locks[0]!.map(({ by }) => by)).toEqual(['layers', 'layers']);
  expect(asks).toBe(false);
});
