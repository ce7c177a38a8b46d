/** The step that a field speaks of: while a field is in hand it stays that one, also when another passes by. */
import { type FocusEvent, useState } from 'react';
import { stepAt } from '../../desk/play/playhead.ts';
import { usePlace } from '../desk.ts';

/** @returns the step, and what an element round the fields has to hear */
export function useHeldStep(count: number) {
  const now = stepAt(usePlace(), count);
  const [held, setHeld] = useState<number | null>(null);
  const hold = {
    onFocus: ({ target }: FocusEvent) => setHeld(target.matches('input, textarea') ? now : null),
    onBlur: () => setHeld(null),
  };
  return { step: held === null ? now : Math.min(held, count - 1), hold };
}
