import type { Lesson } from '../core/lesson/lesson.ts';
import type { RestVerdict } from '../core/pose/stands.ts';
import { words } from './words.ts';

/** How the model came to rest on the table, in one or two sentences. */
export function verdictSentence({ verdict, base }: RestVerdict, paper: Lesson['sheet']): string {
  const under = base.side === 'up' ? paper.sideUp : paper.sideUp === 'a' ? 'b' : 'a';
  const side = base.side && paper.sides[under].name.toLowerCase();
  if (base.flat)
    return verdict === 'stands' ? words.liesFlat(side) : words.endsFlat(words.verdict[verdict], side);
  const rests =
    base.panels.length > 0 ? words.restsOn(words.panelsList(base.panels), side) : words.restsOnRim;
  return words.verdictText(words.verdict[verdict], rests);
}
