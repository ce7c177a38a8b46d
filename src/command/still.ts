import type { Sheet } from '../core/sheet/sheet.ts';
import { panelContaining } from '../core/sheet/walk.ts';
import type { Input } from './input.ts';
import type { Options } from './options.ts';
import { Unusable } from './unusable.ts';

/** The panel that stays still: as the call says, else as the lesson says, else the first. */
export function stillPanel(input: Input, sheet: Sheet, options: Options): number {
  const count = sheet.panelRings.length;
  if (options.still !== null) {
    if (options.still < count) return options.still;
    throw new Unusable(`There is no panel ${options.still}: this sheet has ${count}, counted from 0.`);
  }
  const point = input.lesson?.still;
  const { x, y, scale } = sheet.frame;
  return point ? Math.max(0, panelContaining(sheet, (point[0] - x) / scale, (point[1] - y) / scale)) : 0;
}
