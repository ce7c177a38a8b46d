/** What a lesson forgets. */
import type { LessonValues } from '../../core/finding/values/lesson.ts';
import { fixedText, numberText, plural } from '../numbers.ts';
import type { SentencesOf } from '../sentence.ts';
import { capital, givenPlace, lineText, namedFew, stepOrBefore } from './parts.ts';

type InStep = Pick<LessonValues['crease-too-long'], 'step'>;
type OnLine = LessonValues['crease-too-long'];

const inStep = ({ step }: InStep) => capital(stepOrBefore(step));
const onLine = (line: Pick<OnLine, 'step' | 'from' | 'to'>) => `${inStep(line)}, ${lineText(line)}`;
const creasesText = (creases: readonly number[]) => namedFew('crease', creases, 8);
const itOrThem = (creases: readonly number[]) => plural(creases.length, { one: 'it', other: 'them' });

const questions = {
  what: 'what to do',
  flap: 'which flap goes where',
  landmark: 'by what landmark',
} as const;

export const findingsOfLesson: SentencesOf<LessonValues> = {
  'crease-used-before-made': (values, { creases }) => {
    switch (values.how) {
      case 'none-made':
        return `No step precreases what ${stepOrBefore(values.step)} folds: say which creases are precreased, and how they are found.`;
      case 'crease':
        return `${inStep(values)} folds ${creasesText(creases)}, which nothing precreases: precrease ${itOrThem(creases)} first.`;
      case 'mark': {
        const where = `(${values.at.map((one) => numberText(one, 4)).join(', ')})`;
        return `${inStep(values)} is located by a mark at ${where}, which nothing makes before: pinch or precrease it first.`;
      }
    }
  },
  'crease-never-used': (values, { creases }) => {
    if (values.how === 'made')
      return `${onLine(values)} is precreased but nothing folds along it: leave it out, or say which step needs it.`;
    const have = plural(creases.length, { one: 'has', other: 'have' });
    return `${capital(creasesText(creases))} ${have} a finished angle, but no step folds ${itOrThem(creases)}: add a step, or erase ${itOrThem(creases)}.`;
  },
  'crease-too-long': (values) =>
    `${onLine(values)} is precreased ${fixedText(values.by, 1)} mm further than any fold needs: precrease only the part that folds.`,
  'crease-wrong-way': (values, { creases }) => {
    const { side, all } = values;
    const folds = plural(creases.length, { one: 'folds', other: 'fold' });
    const what = all ? 'it folds' : `${creasesText(creases)} of it ${folds}`;
    const it = all ? 'it' : plural(creases.length, { one: 'this', other: 'these' });
    const other = side === 'a' ? 'B' : 'A';
    return `${onLine(values)} is precreased with side ${side.toUpperCase()} up, but ${what} the other way: precrease ${it} with side ${other} up.`;
  },
  'step-unclear': (values) =>
    values.how === 'landmark'
      ? `${onLine(values)} has no landmark: say how it is found.`
      : `${inStep(values)} leaves open ${values.open.map((one) => questions[one]).join(' and ')}: add it.`,
  'step-too-much': (values) =>
    values.how === 'turns'
      ? `The sheet is turned over ${values.count} times before it is collapsed, more than ${values.most}: put creases of one side together.`
      : `${inStep(values)} starts ${values.count} creases at once, more than ${values.most}: split it, so that hands can follow.`,
  'step-misses': (values) => {
    switch (values.how) {
      case 'order':
        return `${inStep(values)} asks for an order of the layers at ${givenPlace(values.layer)} and ${givenPlace(values.of)}, but these points do not lie in two panels of the sheet: name a point well inside each.`;
      case 'no-crease':
        return `${inStep(values)} folds ${lineText(values)}, but no crease lies on it: draw the crease or correct the step.`;
      case 'two-angles':
        return `${inStep(values)} asks ${lineText(values)} for two different angles; the later one, ${values.angle} degrees, counts.`;
    }
  },
};
