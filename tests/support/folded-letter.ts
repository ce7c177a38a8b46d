/** The letter on a desk, folded to its end, its last step a tuck. */
import type { Around } from '../../src/desk/around.ts';
import { deskInHand } from './hand-solver.ts';
import { letter } from './letter.ts';

const tucked = {
  ...letter,
  steps: letter.steps.map((one, k) => (k === 1 ? { ...one, kind: 'tuck' as const } : one)),
};

/** For eyes that want things to stay still. */
export const still = { motionReduced: () => true };

export function tuckedLetter(changes: Partial<Around> = {}) {
  const hand = deskInHand(tucked, changes);
  hand.solver.finishAll();
  return hand;
}
