/** Builds, folds and measures made-up models the way the tool does, step after step. */

import { closureOfPose } from '../../src/core/pose/closure.ts';
import { foldStep } from '../../src/core/pose/fold-step.ts';
import { placePanels, vertexPositions } from '../../src/core/pose/place.ts';
import { stretchOfPose } from '../../src/core/pose/stretch.ts';
import type { Stage, StepTrack } from '../../src/core/pose/track.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import { sheetFromGraph } from '../../src/core/sheet/from-graph.ts';
import { lineKinds } from '../../src/core/sheet/kind.ts';
import type { Sheet } from '../../src/core/sheet/sheet.ts';
import { panelContaining } from '../../src/core/sheet/walk.ts';
import { sentenceOf } from '../../src/words/findings.ts';
import type { Disguise, Model } from './models.ts';
import { radians } from './patterns.ts';
import { said } from './said.ts';

export interface Built {
  readonly sheet: Sheet;
  /** Crease of the model that each crease of the sheet is part of, -1 for raw edges. */
  readonly part: readonly number[];
  readonly still: number;
  readonly messages: readonly string[];
}

export function buildModel(model: Model, drawn: Disguise): Built {
  const { sheet, findings, segmentOfCrease } = buildSheet(drawn.segments);
  if (!sheet) throw new Error(said(findings));
  const [x, y] = drawn.place(model.still);
  const { frame } = sheet;
  return {
    sheet,
    part: Array.from(segmentOfCrease, (segment) => drawn.creaseOf[segment]!),
    still: panelContaining(sheet, (x - frame.x) / frame.scale, (y - frame.y) / frame.scale),
    messages: findings.map(sentenceOf),
  };
}

/** What each step asks of each crease of the sheet. */
export function stagesOf(model: Model, { part }: Built): Stage[] {
  return model.creases[0]!.steps.map((_, step) => ({
    target: Float64Array.from(part, (crease) =>
      crease < 0 ? Number.NaN : model.creases[crease]!.steps[step]! * radians,
    ),
  }));
}

export function runStep(sheet: Sheet, start: Float64Array, stage: Stage, bend = false): StepTrack {
  const motion = foldStep(sheet, start, stage, { bend, free: false });
  for (;;) {
    const { value, done } = motion.next();
    if (done) return value;
  }
}

/** Folds step after step from flat; stops after the first that is not rigid. */
export function foldThrough(sheet: Sheet, stages: readonly Stage[]): StepTrack[] {
  const tracks: StepTrack[] = [];
  let start: Float64Array = new Float64Array(sheet.creaseKind.length);
  for (const stage of stages) {
    const track = runStep(sheet, start, stage);
    tracks.push(track);
    start = endOf(track);
    if (track.report.outcome !== 'rigid') break;
  }
  return tracks;
}

export function endOf(track: StepTrack): Float64Array {
  return track.poses[track.poses.length - 1]!.angle;
}

/** Largest closure and stretch over every pose of some tracks. */
export function worstOf(tracks: readonly StepTrack[], still: number): { closure: number; stretch: number } {
  let closure = 0;
  let stretch = 0;
  for (const { sheet, poses } of tracks)
    for (const { angle } of poses) {
      closure = Math.max(closure, closureOfPose(sheet, angle).largest);
      stretch = Math.max(stretch, stretchOfPose(sheet, placePanels(sheet, angle, still)));
    }
  return { closure, stretch };
}

/** Size of the folded model along the model's own axes, in the unit of the model. */
export function sizeOf(
  { sheet, still }: Pick<Built, 'sheet' | 'still'>,
  angle: Float64Array,
  drawn: Disguise,
) {
  const at = vertexPositions(sheet, placePanels(sheet, angle, still));
  const [c, s] = [Math.cos(drawn.turn), Math.sin(drawn.turn)];
  const points = Array.from({ length: at.length / 3 }, (_, v) => {
    const [x, y, z] = at.subarray(3 * v, 3 * v + 3) as unknown as [number, number, number];
    return [c * x + s * y, c * y - s * x, z] as const;
  });
  const unit = sheet.frame.scale / drawn.unit;
  return boxOf(points).map((length) => length * unit);
}

export function boxOf(points: readonly (readonly [number, number, number])[]): number[] {
  return [0, 1, 2].map((axis) => {
    const values = points.map((point) => point[axis]!);
    return Math.max(...values) - Math.min(...values);
  });
}

/** The same graph with other places for its vertices, numbers kept. */
export function withVertices(
  sheet: Sheet,
  move: (vertex: number, x: number, y: number) => [number, number],
): Sheet {
  const { frame } = sheet;
  const vertices = Array.from(sheet.vertexX, (x, v) =>
    move(v, frame.x + frame.scale * x, frame.y + frame.scale * sheet.vertexY[v]!),
  );
  const built = sheetFromGraph({
    vertices,
    edges: Array.from(sheet.creaseFrom, (from, e) => [from, sheet.creaseTo[e]!] as [number, number]),
    kinds: Array.from(sheet.creaseKind, (kind) => lineKinds[kind]!),
    angles: Array.from(sheet.creaseAngle),
  });
  if (!built.sheet) throw new Error(said(built.findings));
  return built.sheet;
}
