/** Looks at steps that were taken before: another look at the same is had at once. */
import { isAssumed } from '../core/lesson/lesson.ts';
import { contentKey } from '../core/numeric/content-key.ts';
import type { StepLook } from '../core/run/look.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { ContentStore } from './content-store.ts';
import type { LayerRequest } from './layer-protocol.ts';

type LookRequest = Omit<Extract<LayerRequest, { kind: 'look' }>, 'kind' | 'job'>;

/** Numbers kept at most, 8 bytes each. */
const MOST_NUMBERS = 2e6;

export const newLookStore = () =>
  new ContentStore<StepLook>(MOST_NUMBERS, ({ choices }) =>
    choices.reduce((sum, one) => sum + 3 * one.length, 300),
  );

/** What a look depends on, and nothing else. @param sheet the lesson's own */
export function lookKey({ lesson, step, still, track, state, before }: LookRequest, sheet: Sheet): string {
  const { title, kind, orders, drives, through, off } = lesson.steps[step]!;
  const { size, sizeAssumed, thickness, lidSize } = lesson.sheet;
  const last = step === lesson.steps.length - 1;
  const words = [step, title, kind, orders, drives, through, off, isAssumed(lesson.steps[step]!)];
  return contentKey(
    JSON.stringify([words, size, sizeAssumed, thickness, last ? lidSize : null, still, sheet.frame]),
    ...shapeOf(sheet),
    ...(track.sheet ? shapeOf(track.sheet) : []),
    ...track.poses.flatMap(({ at, angle }) => [[at], angle]),
    state ?? [],
    before.flat(),
  );
}

const shapeOf = ({ vertexX, vertexY, creaseFrom, creaseTo, creaseKind, halfEdgePanel }: Sheet) => [
  vertexX,
  vertexY,
  creaseFrom,
  creaseTo,
  creaseKind,
  halfEdgePanel,
];
