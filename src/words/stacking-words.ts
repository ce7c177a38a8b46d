/** How a stacking differs from the others that are offered beside it, in one sentence. */
import type { PatternPlace } from '../core/finding/values/place.ts';
import type { Difference } from '../core/layer/choices.ts';
import type { Lesson } from '../core/lesson/lesson.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { words } from './words.ts';

/** Empty where it differs from none. */
export function stackingSentence(
  differences: readonly Difference[],
  paper: Lesson['sheet'],
  sheet: Pick<Sheet, 'frame'>,
): string {
  const other = paper.sideUp === 'a' ? 'b' : 'a';
  const parts = differences.map(({ pair: [f, g, side], oneOfSeveral, at: [where] }) => {
    const name = paper.sides[side > 0 ? paper.sideUp : other].name.toLowerCase();
    return words.panelLiesOn(f, g, name, oneOfSeveral ? placeOf(sheet, where) : null);
  });
  return parts.length > 0 ? words.sentenceOf(parts) : '';
}

const placeOf = ({ frame }: Pick<Sheet, 'frame'>, [x, y]: readonly [number, number]): PatternPlace => ({
  at: [frame.x + frame.scale * x, frame.y + frame.scale * y],
  size: frame.scale,
});
