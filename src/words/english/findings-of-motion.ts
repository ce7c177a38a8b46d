/** What is wrong with a motion, or with the state that it ends in. */
import type { MotionValues, TornOpen } from '../../core/finding/values/motion.ts';
import { figuresText, fixedText, numberText, plural } from '../numbers.ts';
import type { SentencesOf } from '../sentence.ts';
import { namedFew, turnText } from './parts.ts';
import { whyText } from './why.ts';

const percent = (share: number) => `${fixedText(share * 100, 0)} %`;

export const findingsOfMotion: SentencesOf<MotionValues> = {
  'motion-bends': ({ most, atEnd }, { panels }) => {
    const end = atEnd === null ? 'flat again at the end' : `still bent by ${turnText(atEnd)} at the end`;
    return `Paper must bend here: ${panels.length} panels bend during the step, by up to ${turnText(most)}, ${end}.`;
  },
  'motion-fails': ({ bendTried, wrong, atOdds, short, by, stuck, torn }) => {
    const sentences = [
      bendTried
        ? 'Neither with stiff panels nor with panels bending along their diagonals was a continuous motion found to this pose.'
        : 'With stiff panels no continuous motion was found to this pose.',
    ];
    for (const { crease, angle, asked } of wrong)
      sentences.push(
        `With crease ${crease} at ${turnText(angle)} instead of ${turnText(asked)} what is asked would close.`,
      );
    if (atOdds.length > 0) {
      const are = plural(atOdds.length, { one: 'is', other: 'are' });
      sentences.push(
        `${namedFew('Crease', atOdds)} ${are} asked for another angle than in the finished pattern.`,
      );
    }
    if (short.length > 0) {
      const stop = plural(short.length, { one: 'stops', other: 'stop' });
      sentences.push(`${namedFew('Crease', short)} ${stop} short, by up to ${turnText(by)}.`);
    }
    if (stuck !== null)
      sentences.push(`The other folds would have to leap first before crease ${stuck} can move.`);
    if (torn) sentences.push(tornText(torn));
    return sentences.join(' ');
  },
  'motion-stopped': () =>
    'The search for a motion was stopped before it came to an end: whether paper can get there is not known; give it more time.',
  'motion-jumps': ({ at, crease, by }) =>
    `At ${percent(at)} of the step crease ${crease} would have to leap by ${turnText(by)} at once: no continuous motion was found past this point.`,
  'state-missed': ({ part, by, crease }) =>
    `No state of this paper is like its finished angles at ${percent(part)}: the nearest that closes is ` +
    `${fixedText(by, 1)}° off at crease ${crease}; fold it step by step, or hold single creases.`,
  'run-broke': ({ why }) =>
    `Layers and contact could not be looked at: ${whyText(why)}. Nothing is known of them; this is a fault of the tool.`,
  'kind-flipped': (values, { creases }) => {
    if (values.how === 'in-file')
      return `${values.count} edges have a fold angle that contradicts their assignment; the angle counts, so correct one of the two.`;
    const fold = plural(creases.length, { one: 'folds against its', other: 'fold against their' });
    return `${namedFew('Crease', creases)} ${fold} kind on the way, as allowed: mountain where valley is drawn, or valley where mountain is.`;
  },
  'crease-left-short': ({ by }, { creases }) => {
    const off = `${numberText(by, 1)}°`;
    const which = namedFew('crease', creases, 8);
    return creases.length === 1
      ? `The last step leaves ${which} ${off} away from its finished angle: fold it on in a step, or correct the angle.`
      : `The last step leaves ${which} up to ${off} away from their finished angles: fold them on in a step, or correct the angles.`;
  },
  'angle-assumed': (values) => {
    switch (values.how) {
      case 'settled':
        return `Finished angles as given close only nearly: they were taken up to ${figuresText(values.by, 2, true)}° off, where they close best.`;
      case 'edges':
        return `${values.count} mountain and valley edges have no fold angle and are taken as half turns; write edges_foldAngle (degrees) if they are not.`;
      case 'lines':
        return `${values.count} mountain and valley creases give no angle and are taken as half turns; write the angle into the name, such as "valley 90", if it is another.`;
    }
  },
};

function tornText({ crease, corners, rotation, gap, unit }: TornOpen): string {
  const size = unit === 'mm' ? `${fixedText(gap, 1)} mm` : `${fixedText(gap * 100, 1)} % of the sheet's side`;
  const open =
    corners.length > 0
      ? `${namedFew('corner', corners)} would not close (by up to ${turnText(rotation)}) and `
      : '';
  return `Forced half-way on crease ${crease}, ${open}the paper would gape by ${size}.`;
}
