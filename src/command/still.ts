import { onSheet } from '../core/sheet/frame.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { panelContaining } from '../core/sheet/walk.ts';
import type { Input } from './input.ts';
import type { Options } from './options.ts';
import { Unusable } from './unusable.ts';

/** The panel that stays in place in what is written: as the call says, else as the lesson says, else the first. */
export function stillPanel(input: Input, sheet: Sheet, options: Options): number {
  const count = sheet.panelRings.length;
  if (options.still !== null) {
    if (options.still < count) return options.still;
    const { still } = options;
    throw new Unusable((say) => say.noPanel(still, count));
  }
  const point = input.lesson?.still;
  return point ? Math.max(0, panelContaining(sheet, ...onSheet(sheet, point))) : 0;
}
