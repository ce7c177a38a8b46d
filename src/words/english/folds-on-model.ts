/** Why a fold cannot be made on the model, and what to do instead. */
import type { FoldTrouble } from '../../core/lesson/on-model/folded.ts';
import { capital, panelsText } from './parts.ts';

export function foldTrouble(trouble: FoldTrouble): string {
  switch (trouble.how) {
    case 'off-plane':
      return `${panel(trouble.panel)} stands off the plane of this fold but would have to come along: fold it flat first, or fold elsewhere.`;
    case 'folded-already':
      return `${panel(trouble.panel)} is folded over at this line already and cannot turn further: fold it the other way, or choose another line.`;
    case 'past-edge':
      return `${panel(trouble.panel)} goes on past the folded edge that would be pressed flat: choose fewer layers, or another flap.`;
    case 'hangs-on':
      return `${panel(trouble.beyond)} hangs together with ${panelsText([trouble.panel])} on the moving side: fold both, or choose another line.`;
    default:
      return plainly[trouble.how];
  }
}

const panel = (one: number) => capital(panelsText([one]));

type Plain = Exclude<FoldTrouble, { panel: number }>['how'];

const plainly: Record<Plain, string> = {
  'bent-paper': 'Here the paper is bent, so no straight fold can be made: choose a step where it lies flat.',
  'two-planes': 'These two places do not lie in one plane: choose both on the same flat part.',
  'cannot-lie':
    'No order of the layers lets the paper lie so: it is tied down, or other layers are in its way. Choose other layers, or another line.',
  'meets-no-layer': 'This line meets none of the layers chosen: draw it across them.',
  'reverse-needs-flap':
    'A reverse fold needs a flap of two halves that hang together along a folded edge, and a line across that edge: draw it there.',
  'reverse-closed':
    'This point is closed on both sides, so its halves do not come apart for a reverse fold (pushed in, it would be a sink): draw the line across a flap that is open on one side.',
  'squash-needs-edge':
    'A squash fold needs a flap with a folded edge, and a line that starts at a point of that edge: draw it from there.',
  'petal-needs-edges':
    'A petal fold needs a flap with a folded edge on either side, and a line from the one to the other: draw it so.',
  'squash-no-halves':
    'The layers of this flap do not part into two halves that hang together along this edge alone: choose the line, or the number of layers, otherwise.',
  'petal-no-halves':
    'The layers between these two folded edges do not part into an upper and a lower half: choose the line, or the number of layers, otherwise.',
  'creases-cross':
    'The new creases from both ends of this line would cross inside the flap: draw it further from its open end.',
};
