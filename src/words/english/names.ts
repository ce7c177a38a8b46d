/** How kinds of lines, steps, views and folds are called. */
import type { StepKind } from '../../core/lesson/lesson.ts';
import type { LineKind } from '../../core/sheet/kind.ts';

export const kinds: Record<LineKind, string> = {
  mountain: 'Mountain crease',
  valley: 'Valley crease',
  unassigned: 'Crease, either way',
  flat: 'Mark',
  edge: 'Raw edge',
  cut: 'Cut',
};

export const stepKinds: Record<StepKind, string> = {
  precrease: 'precrease',
  pinch: 'pinch',
  fold: 'fold',
  collapse: 'collapse',
  tuck: 'tuck',
  lock: 'lock',
  'turn-over': 'turn over',
  rotate: 'rotate',
  note: 'note',
};

export const views = {
  'three-quarter': 'Three-quarter',
  front: 'Front',
  back: 'Back',
  left: 'Left side',
  right: 'Right side',
  top: 'From above',
  bottom: 'From below',
};

/** Folds that are made on the model: how each is called in the choice, and the step that it becomes. */
export const folds = {
  over: { way: 'Toward you', title: 'Fold over', sentence: '' },
  behind: { way: 'Behind', title: 'Fold behind', sentence: '' },
  inside: {
    way: 'Inside reverse fold',
    title: 'Inside reverse fold',
    sentence: 'Open the flap, push its end in between the two halves along the creases, and flatten.',
  },
  outside: {
    way: 'Outside reverse fold',
    title: 'Outside reverse fold',
    sentence: 'Open the flap, turn its end back over both halves along the creases, and flatten.',
  },
  squash: {
    way: 'Squash fold',
    title: 'Squash fold',
    sentence: 'Raise the flap, open it, and press its folded edge flat onto the line.',
  },
  petal: {
    way: 'Petal fold',
    title: 'Petal fold',
    sentence: 'Lift the top layer over the line, let both sides come in, and press flat.',
  },
};
