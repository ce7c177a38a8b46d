/** What a step does, told in its parts: which part, which way, how far, how many layers, by what. */
import { TURNED } from '../numeric/tolerance.ts';
import { type PartTold, partTold, type WayTold, wayTold } from './fold-told.ts';
import { type Step, usualTurn } from './lesson.ts';
import {
  layersAtHinges,
  type Motion,
  type MovedPart,
  movedPart,
  nameOfPart,
  turnings,
  whereabouts,
} from './moved-part.ts';

/** A step and its motion. */
export interface StepMove extends Motion {
  readonly step: Step;
}

/** All layers, or so many of them; null where nothing is to be told. */
type LayersTold = 'all' | { readonly move: number; readonly of: number } | null;

/** What a step does, and by what it is located, as the teacher wrote it. */
export type StepTold =
  | { readonly how: 'turn-over' }
  /** Degrees, counter-clockwise positive. */
  | { readonly how: 'rotate'; readonly turn: number }
  | { readonly how: 'pinch' | 'precrease'; readonly count: number; readonly landmark?: string | undefined }
  | { readonly how: 'collapse'; readonly creases: number; readonly landmark?: string | undefined }
  | { readonly how: 'tuck'; readonly part: PartTold; readonly landmark?: string | undefined }
  | {
      readonly how: 'fold';
      readonly part: PartTold;
      readonly way: WayTold;
      readonly layers: LayersTold;
      readonly landmark?: string | undefined;
    };

/** Null where there is nothing to tell. */
export function stepTold(move: StepMove): StepTold | null {
  const { step, start, end } = move;
  const { landmark } = step;
  switch (step.kind) {
    case 'turn-over':
      return { how: 'turn-over' };
    case 'rotate':
      return { how: 'rotate', turn: step.turn ?? usualTurn };
    case 'note':
      return null;
    case 'precrease':
    case 'pinch': {
      const { makes = [] } = step;
      const first = landmark ?? makes.find((made) => made.landmark)?.landmark;
      return makes.length === 0 ? null : { how: step.kind, count: makes.length, landmark: first };
    }
  }
  const turned = start.reduce((sum, angle, e) => sum + (Math.abs(end[e]! - angle) > TURNED ? 1 : 0), 0);
  if (turned === 0) return null;
  if (step.kind === 'collapse') return { how: 'collapse', creases: turned, landmark };
  const moved = movedPart(move);
  const part = { ...partTold(whereabouts(moved)), name: nameOfPart(moved) };
  if (step.kind === 'tuck' || step.kind === 'lock') return { how: 'tuck', part, landmark };
  return { how: 'fold', part, way: wayTold(turnings(moved)), layers: layersOf(moved), landmark };
}

/** How many layers fold, and of how many; told where some of them stay, for there the hand has to part them. */
function layersOf(part: MovedPart): LayersTold {
  const there = layersAtHinges(part);
  const parted = there.filter(({ move, all }) => move < all);
  const most = Math.max(0, ...(parted.length > 0 ? parted : there).map(({ move }) => move));
  if (parted.length === 0) return most > 1 ? 'all' : null;
  const of = Math.max(...parted.filter(({ move }) => move === most).map(({ all }) => all));
  return { move: most, of };
}
