/** Sentences and titles proposed from what a step does. */
import type { PartTold, WayTold } from '../../core/lesson/fold-told.ts';
import type { StepTold } from '../../core/lesson/step-told.ts';
import type { FoldTold } from '../../core/lesson/titles.ts';
import { fixedText, plural } from '../numbers.ts';
import { capital } from './parts.ts';

/** A sentence for a step, ending in a full stop. */
export function sentenceOfStep(told: StepTold): string {
  switch (told.how) {
    case 'turn-over':
      return 'Turn the model over.';
    case 'rotate':
      return turnSentence(told.turn);
    case 'pinch':
      return `Pinch ${count(told.count, 'mark')}${by(told.landmark)}`;
    case 'precrease':
      return `Fold and unfold ${count(told.count, 'crease')}${by(told.landmark)}`;
    case 'collapse':
      return `Bring ${count(told.creases, 'crease')} into place together.${located(told.landmark)}`;
    case 'tuck':
      return `Slide ${partText(told.part)} in.${located(told.landmark)}`;
    case 'fold': {
      const { part, way, layers, landmark } = told;
      const { verb, after } = wayText(way);
      const which =
        layers === null
          ? ''
          : layers === 'all'
            ? ', all layers together'
            : `, ${count(layers.move, 'layer')} of ${layers.of}`;
      return `${verb} ${partText(part)}${after}${which}.${located(landmark)}`;
    }
  }
}

/** A title for a fold, of the same words as its sentence; empty where none fits. */
export function foldTitle({ part, way }: FoldTold): string {
  const name = partText(part);
  if (name === 'it' || way.how === 'both') return '';
  const what = name.replace(/^the /, '');
  const { verb } = wayText(way);
  const direction = way.how === 'some' ? '' : ` ${way.how}`;
  return capital(verb === 'Fold' ? `${what}${direction}` : `${verb} ${what}`);
}

/** The turn in parts of a whole one, where they have a name. */
function turnSentence(turn: number): string {
  const way = turn > 0 ? 'counter-clockwise' : 'clockwise';
  const part = { 45: 'an eighth of a turn', 90: 'a quarter turn', 180: 'half a turn' }[Math.abs(turn)];
  const far = part ?? `by ${Math.abs(turn)} degrees`;
  return Math.abs(turn) === 180 ? `Turn the model ${far}.` : `Turn the model ${far} ${way}.`;
}

const count = (n: number, word: string) => plural(n, { one: `one ${word}`, other: `${n} ${word}s` });
const by = (landmark: string | undefined) =>
  landmark ? `: ${landmark[0]!.toLowerCase()}${landmark.slice(1)}` : '.';
const located = (landmark: string | undefined) => (landmark ? ` ${landmark.replace(/\.?$/, '.')}` : '');

/** The lid, the left side, the top right corner, the flap at the top. */
function partText({ name, flap, x, y }: PartTold): string {
  if (name !== undefined) return /^(the|an?) /i.test(name) ? name : `the ${small(name)}`;
  const [across, along] = [x < 0 ? 'left' : 'right', y < 0 ? 'bottom' : 'top'];
  if (flap) {
    const side = x === 0 ? '' : ` ${across}`;
    return y === 0 ? `the flap on the${side}` : `the flap at the ${along}${side}`;
  }
  if (x && y) return `the ${along} ${across} corner`;
  if (x) return `the ${across} side`;
  return y ? `the ${along}` : 'it';
}

/** A name within a sentence: "Front wall" begins small, "PVC flap" and "A" do not. */
const small = (name: string) =>
  /^\p{Lu}\p{Ll}/u.test(name) ? `${name.charAt(0).toLowerCase()}${name.slice(1)}` : name;

/** A verb, and what follows the part. */
function wayText(way: WayTold): { readonly verb: string; readonly after: string } {
  switch (way.how) {
    case 'some':
      return { verb: 'Fold', after: '' };
    case 'both':
      return { verb: 'Fold', after: ', some of it over and some behind' };
    case 'over':
    case 'behind':
      return { verb: 'Fold', after: ` ${way.how}` };
    case 'unfold':
      return { verb: 'Unfold', after: '' };
    case 'open':
      return { verb: 'Open', after: ` ${endText(way.end)}` };
    case 'up':
    case 'down':
      return { verb: 'Fold', after: ` ${way.how} ${endText(way.end)}` };
  }
}

const endText = (end: Extract<WayTold, { readonly end: unknown }>['end']) =>
  'by' in end
    ? `by ${fixedText(end.by, 0)} degrees`
    : end.at === 'stands'
      ? 'until it stands'
      : 'until it hangs';
