/** Corners that are ringed now, on the sheet and on the model alike. */

import { cornerAt } from '../../core/lesson/landmarks.ts';
import { SAME_MOMENT } from '../../core/numeric/tolerance.ts';
import { type Playhead, stepInto } from '../play/playhead.ts';
import type { Store } from '../store.ts';

export type RingName = 'ring-marked' | 'ring-open' | 'ring-landmark';

/** By corner: those that locate the step, those pointed at, those that do not close, and those that hold a failed motion back. */
export function ringsNow(store: Store, playhead: Playhead): Map<number, RingName> {
  const { marks, selection, hover } = store.look;
  const rings = new Map<number, RingName>();
  for (const vertex of landmarksHere(store, playhead)) rings.set(vertex, 'ring-landmark');
  for (const vertex of marks?.vertices ?? []) rings.set(vertex, 'ring-marked');
  if (hover?.kind === 'vertex') rings.set(hover.id, 'ring-marked');
  if (selection?.kind === 'vertex') rings.set(selection.id, 'ring-marked');
  for (const { vertex } of store.run.rest?.open ?? []) rings.set(vertex, 'ring-open');
  for (const vertex of cornersThatFail(store, playhead)) rings.set(vertex, 'ring-open');
  return rings;
}

/** Corners by which the step that the slider stands in is located. */
function landmarksHere(store: Store, playhead: Playhead): readonly number[] {
  const { lesson, sheet } = store.document;
  const step = lesson?.steps[stepInto(playhead.place)];
  if (!sheet || !step?.landmarkAt) return [];
  return step.landmarkAt.flatMap((at) => {
    const vertex = cornerAt(sheet, at);
    return vertex === null ? [] : [vertex];
  });
}

/** Where the model has come as far as it can: the corners that would not close beyond. */
function cornersThatFail(store: Store, { board, pose, place }: Playhead): readonly number[] {
  if (!board || !pose || place < board.reached - SAME_MOMENT) return [];
  const report = store.run.steps[pose.step]?.report;
  if (report?.outcome !== 'fails') return [];
  return report.findings.find(({ code }) => code === 'motion-fails')?.vertices ?? [];
}
