/** Corners that are ringed now, on the sheet and on the model alike. */
import { cornerAt } from '../../core/lesson/landmarks.ts';
import { playhead, stepInto } from '../play/playhead.ts';
import { get } from '../store.ts';

export type RingName = 'ring-marked' | 'ring-open' | 'ring-landmark';

/** Radius of a ring on screen, pixels. */
export const RING = 11;

/** By corner: those that locate the step, those pointed at, those that do not close, and those that hold a failed motion back. */
export function ringsNow(): Map<number, RingName> {
  const { rest, marks, selection, hover } = get();
  const rings = new Map<number, RingName>();
  for (const vertex of landmarksHere()) rings.set(vertex, 'ring-landmark');
  for (const vertex of marks?.vertices ?? []) rings.set(vertex, 'ring-marked');
  if (hover?.kind === 'vertex') rings.set(hover.id, 'ring-marked');
  if (selection?.kind === 'vertex') rings.set(selection.id, 'ring-marked');
  for (const { vertex } of rest?.open ?? []) rings.set(vertex, 'ring-open');
  for (const vertex of cornersThatFail()) rings.set(vertex, 'ring-open');
  return rings;
}

/** Corners by which the step that the slider stands in is located. */
function landmarksHere(): readonly number[] {
  const { lesson, sheet } = get();
  const step = lesson?.steps[stepInto(playhead.place)];
  if (!sheet || !step?.landmarkAt) return [];
  return step.landmarkAt.flatMap((at) => {
    const vertex = cornerAt(sheet, at);
    return vertex === null ? [] : [vertex];
  });
}

/** Where the model has come as far as it can: the corners that would not close beyond. */
function cornersThatFail(): readonly number[] {
  const { board, pose, place } = playhead;
  if (!board || !pose || place < board.reached - 1e-6) return [];
  const report = get().steps[pose.step]?.report;
  if (report?.outcome !== 'fails') return [];
  return report.findings.find(({ code }) => code === 'motion-fails')?.vertices ?? [];
}
