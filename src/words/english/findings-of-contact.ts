/** What is wrong where paper meets paper: which step, when, which panels, where, how deep, what to do. */
import type { Along, ContactValues } from '../../core/finding/values/contact.ts';
import { fixedText, plural } from '../numbers.ts';
import type { SentencesOf } from '../sentence.ts';
import { capital, nearPlace, panelsText, stepText } from './parts.ts';

type Met = ContactValues['panels-tight'];
type InTheWay = ContactValues['panels-cross'];
interface Concerned {
  readonly panels: readonly number[];
  readonly creases: readonly number[];
}

export const findingsOfContact: SentencesOf<ContactValues> = {
  'panels-cross': inTheWay,
  'tuck-blocked': inTheWay,
  'panels-tight': (met, { panels }) =>
    `${opening(met.along)}${one(panels[0])} is tight against ${one(panels[1])}${at(met)}, near ${nearPlace(met.place)}: paper must flex by about ` +
    `${amount(met)}${others(panels)}; swing one of them open first, or give it more room.`,
  'contact-unwatched': ({ along, watched }) =>
    `${opening(along)}what paper meets on its way was watched up to ${percent(watched)} of it in the time given, and beyond that nothing is known: give it more time.`,
  'panel-out-of-reach': ({ along }, { panels }) => {
    const [it, is] = panels.length === 1 ? ['it', 'is'] : ['them', 'are'];
    const moved = `${panelsText(panels)} ${is} moved`;
    return `${opening(along)}${moved} where no hand can reach ${it}, other panels lie all round: fold ${it} earlier, while the model is open.`;
  },
};

function inTheWay(met: InTheWay, { panels, creases }: Concerned): string {
  const [a, b] = [one(panels[0]), one(panels[1])];
  const begun = `${opening(met.along)}${began(met)}${a}`;
  const near = `near ${nearPlace(met.place)}${others(panels)}`;
  return met.how === 'side'
    ? `${begun} comes to lie on the side of ${b} where the layers do not have it, ${near}: lift ${b} out of the way first so that ${a} gets behind it, or fold in another order.`
    : `${begun} passes through ${b}, by up to ${amount(met)}${at(met)}, ${near}: move one of them out of the way first, or fold in another order.${missing(creases)}`;
}

const one = (panel: number | undefined) => panelsText(panel === undefined ? [] : [panel]);

function missing(creases: readonly number[]): string {
  if (creases.length === 0) return '';
  const [noun, are] = plural(creases.length, { one: ['crease', 'is'], other: ['creases', 'are'] });
  return ` It would not with ${noun} ${creases.join(', ')} folded, which ${are} left flat by every step.`;
}

const percent = (moment: number) => `${fixedText(100 * moment, 0)} %`;

function opening(along: Along): string {
  if (along.how === 'rest') return 'In the finished pose ';
  return along.how === 'way' ? 'On the way: ' : `${capital(stepText(along))}: `;
}

const at = ({ along, deepest }: Met) => (along.how === 'rest' ? '' : ` at ${percent(deepest)} of the step`);

function began({ along, first }: Met): string {
  if (along.how === 'rest') return '';
  return first < 0.005 ? 'from its start ' : `from ${percent(first)} of it `;
}

function others(panels: readonly number[]): string {
  const more = panels.slice(2);
  return more.length === 0 ? '' : ` (and likewise ${panelsText(more)})`;
}

/** A length in mm; of a file without a size with a word on what it was judged as. */
function amount({ depth, judgedAs }: Met): string {
  const length = `${fixedText(depth, 1)} mm`;
  return judgedAs === null
    ? length
    : `${length} (the file gives no size: judged as a sheet of ${judgedAs} mm)`;
}
